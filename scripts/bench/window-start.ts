import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import type { Page } from 'playwright-core'
import { Library } from '../../electron/library/library.ts'
import { findMediaPrograms } from '../../electron/library/media/ffmpeg-path.ts'
import { launchApp } from '../../tests/desktop/launch.ts'
import { fillLargeLibrary } from './support/large-library.ts'
import { loadNote, spreadOf, type Measurement } from './support/measurement.ts'
import { installProbe, readProbe, waitForPicture } from './support/page-probe.ts'

const runs = 5

/** From the start of the program to a Desk that can be used, in a library of 500 lessons and 10,000 clips. */
export async function bench(): Promise<Measurement[]> {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'leadside-bench-start-'))
  const profile = fs.mkdtempSync(path.join(os.tmpdir(), 'leadside-bench-profile-'))
  try {
    const { ffmpeg } = await findMediaPrograms(null)
    const { clips, newestLessonId } = await fillLargeLibrary(folder, ffmpeg.file, {
      lessons: 500,
      students: 40,
      swingsOfNewest: 300,
      swingsOfOthers: 20,
    })
    const rows = await calls(folder, newestLessonId)
    // On the coach's computer the program was started before; the first start ever compiles all code anew.
    const firstEver = await start(folder, profile)
    const starts: Start[] = []
    for (let run = 0; run < runs; run++) starts.push(await start(folder, profile))
    const of = (key: keyof Start) => spreadOf(starts.map((s) => s[key])).median
    const list = (key: keyof Start) => starts.map((s) => s[key].toFixed(0)).join(', ')
    return [
      {
        name: `start to a usable Desk, 500 lessons, ${clips} clips`,
        value: of('totalMs') / 1000,
        unit: 's',
        aim: '≤ 1.5',
        note: `median of ${list('totalMs')} ms; started by the test driver, which adds to it; ${loadNote()}`,
      },
      { name: 'the very first start', value: firstEver.totalMs / 1000, unit: 's' },
      { name: 'of it: process start to the page', value: of('pageMs'), unit: 'ms', note: list('pageMs') },
      {
        name: 'of it: page to the Roster with its lessons',
        value: of('rosterMs'),
        unit: 'ms',
        note: list('rosterMs'),
      },
      {
        name: 'of it: lesson of 300 swings pressed to first picture',
        value: of('deskMs'),
        unit: 'ms',
        note: list('deskMs'),
      },
      ...rows,
    ]
  } finally {
    fs.rmSync(folder, { recursive: true, force: true })
    fs.rmSync(profile, { recursive: true, force: true, maxRetries: 5, retryDelay: 100 })
  }
}

/** The library alone: opening it, and its two large answers. */
const calls = async (folder: string, lessonId: string): Promise<Measurement[]> => {
  const begin = performance.now()
  const library = new Library({ folder })
  const openMs = performance.now() - begin
  try {
    const timed = async <T>(ask: () => Promise<T>) => {
      const times: number[] = []
      let bytes = 0
      for (let i = 0; i < 5; i++) {
        const at = performance.now()
        const answer = await ask()
        times.push(performance.now() - at)
        bytes = JSON.stringify(answer).length
      }
      return { first: times[0]!, median: spreadOf(times).median, kilobytes: bytes / 1000 }
    }
    const roster = await timed(() => library.ask('roster.list', {}))
    const lesson = await timed(() => library.ask('lesson.open', { lessonId }))
    return [
      { name: 'library opened, tidied', value: openMs, unit: 'ms', note: loadNote() },
      {
        name: 'roster.list, 500 lessons',
        value: roster.median,
        unit: 'ms',
        note: `first ${roster.first.toFixed(0)} ms`,
      },
      { name: 'roster.list, size', value: roster.kilobytes, unit: 'kB' },
      {
        name: 'lesson.open, 300 swings',
        value: lesson.median,
        unit: 'ms',
        note: `first ${lesson.first.toFixed(0)} ms`,
      },
      { name: 'lesson.open, size', value: lesson.kilobytes, unit: 'kB' },
    ]
  } finally {
    await library.close()
  }
}

interface Start {
  pageMs: number
  rosterMs: number
  deskMs: number
  totalMs: number
}

const start = async (folder: string, profile: string): Promise<Start> => {
  const { app, page, close } = await launchApp({ library: folder, profile, timeoutSeconds: 120 })
  try {
    const { pageAtMs, rosterMs } = await rosterShown(page)
    await installProbe(page)
    const createdMs = await app.evaluate(() => process.getCreationTime())
    if (createdMs === null) throw new Error('the system does not tell when the program was started')
    const longest = page.locator('.lesson-open', { hasText: 'The longest' })
    await longest.click()
    const picture = await waitForPicture(page)
    if (!picture) throw new Error('the lesson showed no picture within 20 s')
    const { inputs } = await readProbe(page)
    const pressed = inputs.find((i) => i.kind === 'pointerdown')
    if (!pressed) throw new Error('the page saw no press')
    await page.getByRole('grid', { name: 'Swings' }).waitFor()
    const pageMs = pageAtMs - createdMs
    const deskMs = picture.shownAtMs - pressed.atMs
    return { pageMs, rosterMs, deskMs, totalMs: pageMs + rosterMs + deskMs }
  } finally {
    await close()
  }
}

/** When the page began, and how long it took at most until the Roster's lessons were there and could be painted. */
const rosterShown = (page: Page): Promise<{ pageAtMs: number; rosterMs: number }> =>
  page.evaluate(async () => {
    while (!document.querySelector('.lesson-open')) await new Promise(requestAnimationFrame)
    return { pageAtMs: performance.timeOrigin, rosterMs: performance.now() }
  })

if (import.meta.main) console.table(await bench())
