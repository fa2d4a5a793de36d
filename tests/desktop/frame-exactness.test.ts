import fs from 'node:fs'
import path from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { eq } from 'drizzle-orm'
import { media } from '../../electron/library/database/schema.ts'
import { openWithLesson, takeIn, temporaryFolder } from '../library/support/temporary-library.ts'
import { launchApp, type LaunchedApp } from './launch.ts'
import { blockMiddles, codedSize, indexOf, writeNumberedClip, type NumberedClip } from './numbered-clip.ts'

/** Those without `isFilmed` are looked at by their working copies; `isFilmed` by the original, as before that is made. */
const clips: (NumberedClip & { isFilmed?: boolean })[] = [
  { name: 'H.264, 30 frames a second', codec: 'libx264', rate: 30, frames: 95 },
  {
    name: 'H.264, 60 frames a second, turned',
    codec: 'libx264',
    rate: 60,
    frames: 130,
    isTurned: true,
    isFilmed: true,
  },
  { name: 'H.264, 240 frames a second', codec: 'libx264', rate: 240, frames: 400 },
  { name: 'H.264, variable rate', codec: 'libx264', rate: 60, frames: 121, isUneven: true, isFilmed: true },
  { name: 'HEVC, 30 frames a second, turned', codec: 'libx265', rate: 30, frames: 90, isTurned: true },
  { name: 'HEVC, 60 frames a second', codec: 'libx265', rate: 60, frames: 100 },
  { name: 'HEVC, 240 frames a second', codec: 'libx265', rate: 240, frames: 300 },
  { name: 'HEVC, variable rate', codec: 'libx265', rate: 30, frames: 90, isUneven: true },
]

let launched: LaunchedApp
let folder: string
const clipIds = new Map<string, string>()
let page: Page

beforeAll(async () => {
  folder = temporaryFolder()
  const files = clips.map((_, i) => path.join(folder, `numbered-${i}.mp4`))
  files.forEach((file, i) => writeNumberedClip(file, clips[i]!))
  const { library, lessonId } = await openWithLesson(path.join(folder, 'library'))
  const jobs = await takeIn(library, lessonId, files)
  expect(jobs.map((job) => job.problem)).toEqual(jobs.map(() => null))
  const opened = await library.ask('lesson.open', { lessonId })
  clips.forEach((clip, i) => {
    const taken = opened.clips.find((c) => c.fileName === path.basename(files[i]!))!
    expect(taken.frameCount, clip.name).toBe(clip.frames)
    expect(taken.hasVariableRate, clip.name).toBe(clip.isUneven === true)
    clipIds.set(clip.name, taken.id)
    expect(taken.hasProxy, clip.name).toBe(true)
    const { db } = library.context
    if (clip.isFilmed) db.update(media).set({ hasProxy: false }).where(eq(media.hash, taken.hash)).run()
  })
  await library.close()
  launched = await launchApp({ library: path.join(folder, 'library') })
  page = launched.page
  await page.locator('.lesson-open').click()
  await page.getByRole('grid', { name: 'Swings' }).waitFor()
})

afterAll(async () => {
  await launched?.close()
  fs.rmSync(folder, { recursive: true, force: true })
})

/** Opens the swing of a clip and waits for its first picture. */
const openClip = async (clipId: string) => {
  const place = await page.evaluate(async (id) => {
    const roster = await window.leadside.ask('roster.list', {})
    if (!roster.ok) throw new Error(roster.problem.what)
    const lessonId = roster.output[0]!.lessons[0]!.id
    const lesson = await window.leadside.ask('lesson.open', { lessonId })
    if (!lesson.ok) throw new Error(lesson.problem.what)
    const order = [...lesson.output.swings].sort((a, b) => a.order - b.order)
    return order.findIndex((s) => s.views.some((v) => v.clipId === id)) + 1
  }, clipId)
  await page.getByRole('row', { name: new RegExp(`^Swing ${place}\\b`) }).click()
  await page.waitForSelector(`canvas[data-clip="${clipId}"][data-frame]`, { timeout: 20_000 })
}

/** What the Stage claims, and the brightness of each block as painted, both read in one turn of the page. */
const readStage = (isTurned: boolean) =>
  page.evaluate(
    ({ middles, picture }) => {
      const canvas = document.querySelector<HTMLCanvasElement>('canvas[data-place="first"]')!
      const scale = Math.min(canvas.width / picture.width, canvas.height / picture.height)
      const left = (canvas.width - picture.width * scale) / 2
      const top = (canvas.height - picture.height * scale) / 2
      const context = canvas.getContext('2d')!
      const levels = middles.map(({ x, y }) => {
        const [red] = context.getImageData(
          Math.round(left + x * scale),
          Math.round(top + y * scale),
          1,
          1,
        ).data
        return red!
      })
      return { claimed: Number(canvas.dataset['frame']), levels }
    },
    {
      middles: blockMiddles(isTurned),
      picture: isTurned ? { width: codedSize.height, height: codedSize.width } : codedSize,
    },
  )

/** The claim and what the pixels say must be the same number; it is returned. */
const shownFrame = async (clip: NumberedClip): Promise<number> => {
  const { claimed, levels } = await readStage(clip.isTurned === true)
  for (const level of levels) expect(level < 70 || level > 180, `a block of brightness ${level}`).toBe(true)
  expect(indexOf(levels.map((level) => level > 128)), clip.name).toBe(claimed)
  return claimed
}

const waitForFrame = (frame: number) =>
  page.waitForSelector(`canvas[data-place="first"][data-frame="${frame}"]`, { timeout: 10_000 })

describe('the frame the Stage claims is the frame whose pixels are on it', () => {
  for (const clip of clips) {
    test(clip.name, async () => {
      await openClip(clipIds.get(clip.name)!)
      await page.keyboard.press('Home')
      await waitForFrame(0)
      expect(await shownFrame(clip)).toBe(0)

      for (let frame = 1; frame <= 12; frame++) {
        await page.keyboard.press('ArrowRight')
        await waitForFrame(frame)
        expect(await shownFrame(clip)).toBe(frame)
      }
      await page.keyboard.press('Shift+ArrowRight')
      await waitForFrame(22)
      expect(await shownFrame(clip)).toBe(22)
      await page.keyboard.press('Shift+ArrowLeft')
      await waitForFrame(12)
      expect(await shownFrame(clip)).toBe(12)

      await page.keyboard.press('End')
      await waitForFrame(clip.frames - 1)
      expect(await shownFrame(clip)).toBe(clip.frames - 1)
      for (let frame = clip.frames - 2; frame >= clip.frames - 14; frame--) {
        await page.keyboard.press('ArrowLeft')
        await waitForFrame(frame)
        expect(await shownFrame(clip)).toBe(frame)
      }

      // Jumps all over the clip, by the Strip.
      const strip = (await page.getByRole('slider', { name: 'Time' }).boundingBox())!
      for (const share of [0.5, 0.07, 0.93, 0.31, 0.62, 0.18, 0.81]) {
        const frame = Math.round(share * (clip.frames - 1))
        await page.mouse.click(strip.x + (frame / (clip.frames - 1)) * strip.width, strip.y + 20)
        await waitForFrame(frame)
        expect(await shownFrame(clip)).toBe(frame)
      }

      // While it plays, whatever is on the Stage is what it says.
      await page.keyboard.press('Home')
      await waitForFrame(0)
      for (const key of ['Y', 'R']) {
        await page.keyboard.press(key)
        const seen = new Set<number>()
        // A busy machine may show few of them; each one it shows has to be true.
        for (let i = 0; i < 60 && (seen.size < 4 || i < 8); i++) {
          await page.waitForTimeout(60)
          seen.add(await shownFrame(clip))
        }
        expect(seen.size, 'frames seen while playing').toBeGreaterThan(2)
        if (key === 'Y') {
          await page.keyboard.press(key)
          await page.keyboard.press('End')
          await waitForFrame(clip.frames - 1)
        } else await page.keyboard.press(key)
      }
    })
  }
})
