import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import type { Page } from 'playwright-core'
import { Library } from '../../electron/library/library.ts'
import { findMediaPrograms } from '../../electron/library/media/ffmpeg-path.ts'
import { launchApp } from '../../tests/desktop/launch.ts'
import { writeFastClip } from './support/fast-clip.ts'
import { loadNote, spreadOf, type Measurement } from './support/measurement.ts'
import { clearProbe, installProbe, readProbe, waitForPicture } from './support/page-probe.ts'

const runs = 3
const clipSeconds = 3

/** From the file is copied to its first picture on the Stage, and to its swing in its place, in the real window. */
export async function bench(): Promise<Measurement[]> {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'leadside-bench-arrival-'))
  try {
    const { ffmpeg } = await findMediaPrograms(null)
    const files = Array.from({ length: runs }, (_, i) => path.join(folder, `clip-${i + 1}.mp4`))
    files.forEach((file, i) => writeFastClip(ffmpeg.file, file, i + 1, clipSeconds))
    const lessonIds = await prepare(folder)
    const launched = await launchApp({ library: path.join(folder, 'library'), timeoutSeconds: 120 })
    try {
      const { page } = launched
      await installProbe(page)
      const readings: Reading[] = []
      for (const [i, file] of files.entries()) readings.push(await arrive(page, lessonIds[i]!, file))
      const row = (name: string, key: keyof Reading, aim: string): Measurement => ({
        name,
        value: spreadOf(readings.map((r) => r[key])).median,
        unit: 's',
        aim,
        note: `median of ${readings.map((r) => r[key].toFixed(2)).join(', ')} s; ${loadNote()}`,
      })
      const what = `(1080p, 240 frames/s, ${clipSeconds} s)`
      return [
        row(`copied to its first picture on the Stage ${what}`, 'lookedAtSeconds', '≤ 1'),
        row(`copied to its swing in its place, moments marked ${what}`, 'standingSeconds', ''),
      ]
    } finally {
      await launched.close()
    }
  } finally {
    fs.rmSync(folder, { recursive: true, force: true })
  }
}

interface Reading {
  lookedAtSeconds: number
  standingSeconds: number
}

/** An empty lesson for each clip. */
const prepare = async (folder: string): Promise<string[]> => {
  const library = new Library({ folder: path.join(folder, 'library') })
  try {
    const { id: studentId } = await library.ask('student.create', { name: 'Robin Example', side: 'right' })
    const ids: string[] = []
    for (let i = 0; i < runs; i++) {
      ids.push((await library.ask('lesson.create', { studentId, date: '2026-05-01' })).id)
    }
    return ids
  } finally {
    await library.close()
  }
}

interface Seen {
  copiedAtMs: number
  standsAtMs: number
}

const arrive = async (page: Page, lessonId: string, file: string): Promise<Reading> => {
  await page.evaluate((to) => (location.hash = to), `#/lesson/${lessonId}`)
  await page.getByRole('heading', { name: 'No swings yet' }).waitFor()
  await clearProbe(page)
  const seen = await page.evaluate(
    async ({ lesson, clip }) => {
      const times: Seen = { copiedAtMs: NaN, standsAtMs: NaN }
      let isCopying = false
      const wasCopied = (step: string, state: string) => {
        if (step.startsWith('copying')) isCopying = true
        else if (isCopying && state === 'running') return true
        return false
      }
      await new Promise<void>((resolve) => {
        window.leadside.on('job.changed', ({ kind, lessonId: of, step, state }) => {
          if (kind !== 'add-clip' || of !== lesson) return
          if (Number.isNaN(times.copiedAtMs) && wasCopied(step, state)) times.copiedAtMs = performance.now()
          if (state === 'done') resolve()
        })
        void window.leadside.ask('clips.add', { lessonId: lesson, files: [clip] })
      })
      while (!document.querySelector('.flag')) await new Promise((next) => setTimeout(next, 5))
      times.standsAtMs = performance.now()
      return times
    },
    { lesson: lessonId, clip: file },
  )
  const first = await waitForPicture(page)
  if (!first) throw new Error('the film never came to the Stage')
  const { painted } = await readProbe(page)
  // Its working copy too, or it would be made while the next film is measured.
  await page.evaluate(async () => {
    for (;;) {
      const jobs = await window.leadside.ask('jobs.list', {})
      if (jobs.ok && jobs.output.every(({ state }) => state !== 'running' && state !== 'waiting')) return
      await new Promise((next) => setTimeout(next, 50))
    }
  })
  return {
    lookedAtSeconds: (painted[0]!.atMs - seen.copiedAtMs) / 1000,
    standingSeconds: (seen.standsAtMs - seen.copiedAtMs) / 1000,
  }
}
