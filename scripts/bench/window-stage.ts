import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import type { Page } from 'playwright-core'
import { Library } from '../../electron/library/library.ts'
import { findMediaPrograms } from '../../electron/library/media/ffmpeg-path.ts'
import { minimalStandardGenerator } from '../../shared-core/statistics/generator.ts'
import { launchApp } from '../../tests/desktop/launch.ts'
import { bareDecodeMsPerFrame } from './support/bare-decode.ts'
import { fastClip, writeFastClip } from './support/fast-clip.ts'
import { loadNote, spreadOf, type Measurement } from './support/measurement.ts'
import { clearProbe, installProbe, readProbe, waitForPicture } from './support/page-probe.ts'

/** A key that is held comes about thirty times a second. */
const keyRepeatMs = 33
/** A picture that has not come by then is counted as lost. */
const patienceMs = 4000

/** Swings of the lesson; the clips of the next and the last ones are opened ahead. */
const swings = 6

/** One reading: from the event's own time stamp to the picture painted, and to the animation frame after it. */
interface Reading {
  paintedMs: number
  shownMs: number
}

interface Scene {
  page: Page
  /** Clip of each swing, in the order of the Tray. */
  clipIds: string[]
  first: number
  last: number
}

/** The Stage in the real window, with 1080p clips of 240 frames a second taken in through the library. */
export async function bench(): Promise<Measurement[]> {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'leadside-bench-stage-'))
  try {
    const { ffmpeg } = await findMediaPrograms(null)
    const { clipIds, playFile } = await prepare(folder, ffmpeg.file)
    const bareMs = bareDecodeMsPerFrame(ffmpeg.file, playFile, fastClip.frames)
    const launched = await launchApp({ library: path.join(folder, 'library'), timeoutSeconds: 120 })
    try {
      const { page } = launched
      await page.locator('.lesson-open').first().click()
      await page.getByRole('grid', { name: 'Swings' }).waitFor()
      await installProbe(page)
      return await measure(page, clipIds, bareMs)
    } finally {
      await launched.close()
    }
  } finally {
    fs.rmSync(folder, { recursive: true, force: true })
  }
}

/** Takes in clips, no two the same. */
const prepare = async (folder: string, ffmpeg: string) => {
  const library = new Library({ folder: path.join(folder, 'library') })
  try {
    const { id: studentId } = await library.ask('student.create', { name: 'Robin Example', side: 'right' })
    const { id: lessonId } = await library.ask('lesson.create', { studentId, date: '2026-05-01' })
    const files = Array.from({ length: swings }, (_, i) => i + 1).map((kind) =>
      path.join(folder, `clip-${kind}.mp4`),
    )
    files.forEach((file, i) => writeFastClip(ffmpeg, file, i + 1))
    const { jobIds } = await library.ask('clips.add', { lessonId, files })
    for (const id of jobIds) {
      const job = await library.context.jobs.ended(id)
      if (job.state !== 'done') throw new Error(`a clip was not taken in: ${job.problem?.what ?? job.state}`)
    }
    // The working copies too, or they would be made while something else is measured.
    await library.context.jobs.idle()
    const opened = await library.ask('lesson.open', { lessonId })
    const clipIds = opened.swings
      .toSorted((a, b) => a.order - b.order)
      .flatMap((swing) => swing.views.slice(0, 1).map((v) => v.clipId))
    const clip = opened.clips.find((c) => c.id === clipIds[0])!
    const proxy = library.context.paths.proxy(clip.hash)
    return {
      clipIds,
      playFile: fs.existsSync(proxy) ? proxy : library.context.paths.original(clip.hash, '.mp4'),
    }
  } finally {
    await library.close()
  }
}

const measure = async (page: Page, clipIds: string[], bareMs: number): Promise<Measurement[]> => {
  await openSwing(page, 0, clipIds[0]!)
  const slider = page.getByRole('slider', { name: 'Time' })
  const scene: Scene = {
    page,
    clipIds,
    first: Number(await slider.getAttribute('aria-valuemin')),
    last: Number(await slider.getAttribute('aria-valuemax')),
  }
  const rows: Measurement[] = []
  const onAndBack = [1, 2, 3, 4, 5, 4, 3, 2, 1, 0]
  const next = await openings(scene, [...onAndBack, ...onAndBack])
  rows.push(...timed('open the next swing or the last to its first picture', next, '100'))
  const elsewhere = await openings(scene, [3, 5, 1, 4, 0, 2, 5, 0, 3, 1, 5, 2])
  rows.push(...timed('open a swing elsewhere in the lesson', elsewhere, '100'))
  await openSwingIfElsewhere(page, clipIds[0]!)
  rows.push(...timed('one step forward', await steps(scene, 'ArrowRight'), '8.3 (before: 16.7)'))
  rows.push(...timed('one step back', await steps(scene, 'ArrowLeft'), '8.3 (before: 16.7)'))
  rows.push(...timed('jump to a random frame', await jumps(scene), '25 (before: 50)'))
  rows.push(...(await drag(scene)))
  const { msPerFrame: runMs, lost } = await steppingThrough(scene)
  rows.push(
    {
      name: 'stepping on as fast as pictures come',
      value: runMs,
      unit: 'ms/frame',
      note: `${scene.last - scene.first} frames, decoding and painting${lost > 0 ? `; ${lost} WITHOUT A PICTURE` : ''}; ${loadNote()}`,
    },
    { name: 'bare ffmpeg decode, one thread', value: bareMs, unit: 'ms/frame', note: 'nothing painted' },
    { name: 'stepping on against bare decode', value: runMs / bareMs, unit: '×' },
  )
  return rows
}

const timed = (name: string, all: (Reading | null)[], aimMs: string): Measurement[] => {
  const readings = all.filter((r) => r !== null)
  const lost = all.length - readings.length
  const lostText =
    lost > 0 ? `; ${lost} of ${all.length} WITHOUT A PICTURE within ${patienceMs / 1000} s` : ''
  const painted = spreadOf(readings.map((r) => r.paintedMs))
  const shown = spreadOf(readings.map((r) => r.shownMs))
  return [
    {
      name: `${name}: median`,
      value: painted.median,
      unit: 'ms',
      note: `${painted.n} readings; ${loadNote()}`,
    },
    {
      name: `${name}: p95`,
      value: painted.p95,
      unit: 'ms',
      aim: `≤ ${aimMs}`,
      note: `to its animation frame: median ${shown.median.toFixed(1)}, p95 ${shown.p95.toFixed(1)} ms${lostText}`,
    },
  ]
}

/** From the first event of a kind since the probe was cleared to a picture. */
const reading = async (
  page: Page,
  kind: string,
  wanted: { frame?: number; clipId?: string },
): Promise<Reading | null> => {
  const painted = await waitForPicture(page, wanted, patienceMs)
  if (!painted) return null
  const { inputs } = await readProbe(page)
  const input = inputs.find((i) => i.kind === kind)
  if (!input) throw new Error(`the page saw no ${kind}`)
  return { paintedMs: painted.atMs - input.atMs, shownMs: painted.shownAtMs - input.atMs }
}

const openSwing = async (page: Page, place: number, clipId: string): Promise<Reading | null> => {
  await clearProbe(page)
  await page.getByRole('row', { name: new RegExp(`^Swing ${place + 1}\\b`) }).click()
  return reading(page, 'pointerdown', { clipId })
}

/** Opens swings one after another, by their places in the Tray; between them the coach looks for a moment. */
const openings = async ({ page, clipIds }: Scene, places: readonly number[]): Promise<(Reading | null)[]> => {
  const readings: (Reading | null)[] = []
  for (const place of places) {
    readings.push(await openSwing(page, place, clipIds[place]!))
    await page.waitForTimeout(500)
  }
  return readings
}

const openSwingIfElsewhere = async (page: Page, clipId: string) => {
  const shown = await page.locator('canvas[data-place="first"]').getAttribute('data-clip')
  if (shown !== clipId) await openSwing(page, 0, clipId)
}

const frameNow = async (page: Page): Promise<number> =>
  Number(await page.locator('canvas[data-place="first"]').getAttribute('data-frame'))

/** Goes to a frame by a press on the Strip; the frame that the press really means is returned with its reading. */
const jumpTo = async ({ page, first, last }: Scene, frame: number): Promise<Reading | null> => {
  const box = (await page.getByRole('slider', { name: 'Time' }).boundingBox())!
  await clearProbe(page)
  await page.mouse.click(box.x + ((frame - first) / (last - first)) * box.width, box.y + 20)
  return reading(page, 'pointerdown', { frame })
}

const steps = async (scene: Scene, key: 'ArrowRight' | 'ArrowLeft'): Promise<(Reading | null)[]> => {
  const { page, first, last } = scene
  const count = 80
  const by = key === 'ArrowRight' ? 1 : -1
  const start = Math.round((first + last) / 2 - (by * count) / 2)
  await jumpTo(scene, start)
  const readings: (Reading | null)[] = []
  for (let i = 1; i <= count; i++) {
    await clearProbe(page)
    await page.keyboard.press(key)
    readings.push(await reading(page, 'keydown', { frame: start + by * i }))
    await page.waitForTimeout(keyRepeatMs)
  }
  return readings
}

const jumps = async (scene: Scene): Promise<(Reading | null)[]> => {
  const next = minimalStandardGenerator(3)
  const readings: (Reading | null)[] = []
  for (let i = 0; i < 50; i++) {
    const frame = scene.first + Math.floor(next() * (scene.last - scene.first + 1))
    if (frame === (await frameNow(scene.page))) continue
    readings.push(await jumpTo(scene, frame))
    await scene.page.waitForTimeout(60)
  }
  return readings
}

/** Drags from one end of the Strip to the other and back in about two seconds each way. */
const drag = async ({ page, first, last }: Scene): Promise<Measurement[]> => {
  const box = (await page.getByRole('slider', { name: 'Time' }).boundingBox())!
  const y = box.y + 20
  await page.mouse.move(box.x + 2, y)
  await page.mouse.down()
  await page.waitForTimeout(300)
  await clearProbe(page)
  const moves = 120
  for (let i = 1; i <= 2 * moves; i++) {
    const share = i <= moves ? i / moves : 2 - i / moves
    await page.mouse.move(box.x + 2 + share * (box.width - 4), y)
    await page.waitForTimeout(12)
  }
  await page.waitForTimeout(500)
  await page.mouse.up()
  const { inputs, painted } = await readProbe(page)
  const pointer = inputs.filter((i) => i.kind === 'pointermove')
  // How long after each move the next picture came, and how far behind the pointer that picture was.
  const waits: number[] = []
  const behind: number[] = []
  for (const move of pointer) {
    const picture = painted.find((p) => p.atMs >= move.atMs)
    if (!picture) continue
    waits.push(picture.atMs - move.atMs)
    const meant = first + ((move.x - box.x) / box.width) * (last - first)
    behind.push(Math.abs(picture.frame - meant))
  }
  const wait = spreadOf(waits)
  const frames = spreadOf(behind)
  const seconds = (pointer.at(-1)!.atMs - pointer[0]!.atMs) / 1000
  const end = painted.at(-1)!.atMs - pointer.at(-1)!.atMs
  return [
    {
      name: 'drag across the clip: median from move to next picture',
      value: wait.median,
      unit: 'ms',
      note: `${pointer.length} moves in ${seconds.toFixed(1)} s, ${painted.length} pictures; ${loadNote()}`,
    },
    {
      name: 'drag across the clip: p95',
      value: wait.p95,
      unit: 'ms',
      note: `picture behind the pointer: median ${frames.median.toFixed(0)}, p95 ${frames.p95.toFixed(0)} of ${last - first + 1} frames; settled ${Math.max(0, end).toFixed(0)} ms after the last move`,
    },
  ]
}

/** Milliseconds a frame when the next step is made as soon as a picture is there, through the whole clip. */
const steppingThrough = async (scene: Scene): Promise<{ msPerFrame: number; lost: number }> => {
  const { page, first, last } = scene
  await jumpTo(scene, first)
  await page.waitForTimeout(200)
  return page.evaluate(
    async ({ count, patience }) => {
      const canvas = document.querySelector<HTMLCanvasElement>('canvas[data-place="first"]')!
      let spentMs = 0
      let lost = 0
      for (let i = 0; i < count; i++) {
        const begin = performance.now()
        const before = canvas.dataset['frame']
        const painted = new Promise<boolean>((resolve) => {
          const observer = new MutationObserver(() => {
            if (canvas.dataset['frame'] !== before) finish(true)
          })
          const timer = setTimeout(() => finish(false), patience)
          const finish = (isPainted: boolean) => {
            observer.disconnect()
            clearTimeout(timer)
            resolve(isPainted)
          }
          observer.observe(canvas, { attributes: true, attributeFilter: ['data-frame'] })
        })
        document.body.dispatchEvent(
          new KeyboardEvent('keydown', {
            key: 'ArrowRight',
            code: 'ArrowRight',
            bubbles: true,
            cancelable: true,
          }),
        )
        if (await painted) spentMs += performance.now() - begin
        else lost += 1
      }
      return { msPerFrame: spentMs / Math.max(1, count - lost), lost }
    },
    { count: last - first, patience: patienceMs / 4 },
  )
}

if (import.meta.main) console.table(await bench())
