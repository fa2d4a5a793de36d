import fs from 'node:fs'
import path from 'node:path'
import { AxeBuilder } from '@axe-core/playwright'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { writeFastClip } from '../../scripts/bench/support/fast-clip.ts'
import type { OpenLesson } from '../../shared-core/model/entities.ts'
import { ffmpegFile, runFfmpegNow } from '../library/support/make-clip.ts'
import { openWithLesson } from '../library/support/temporary-library.ts'
import { launchApp, type LaunchedApp } from './launch.ts'
import { lessonOf, untilLesson } from './library-in-window.ts'

/** Films on the Stage while they are taken in, each of which takes seconds to be read; each test goes on from the one before. */
let folder: string
let lessonId: string
let launched: LaunchedApp
let page: Page

/** The same film under another hash. */
const film = (number: number): string => {
  const file = path.join(folder, `film-${number}.mp4`)
  runFfmpegNow('-i', path.join(folder, 'made.mp4'), '-c', 'copy', '-metadata', `title=${number}`, file)
  return file
}
const add = (...files: string[]) =>
  page.evaluate((input) => window.leadside.ask('clips.add', input), { lessonId, files })
const canvas = () => page.locator('canvas[data-place="first"]')
const untilBeingRead = async () => {
  await page.getByText('Being read: its impact comes in a moment').waitFor()
  await page.locator('canvas[data-frame]').waitFor()
}
const untilRead = () => page.getByText('Being read').waitFor({ state: 'detached' })
const untilFrame = (frame: number) => page.locator(`canvas[data-frame="${frame}"]`).waitFor()
const untilClips = (count: number) => untilLesson(page, `${count} clips`, (l) => l.clips.length === count)
const impactIn = (lesson: OpenLesson, clipId: string): number =>
  lesson.swings
    .flatMap((s) => s.views)
    .find((v) => v.clipId === clipId)!
    .moments.find((m) => m.name === 'impact')!.frame
/** What was painted from now on: each frame, and each time that the picture was taken away. */
const watchPictures = () =>
  page.evaluate(() => {
    const seen: (string | null)[] = []
    const on = document.querySelector('canvas[data-place="first"]')!
    new MutationObserver(() => seen.push(on.isConnected ? on.getAttribute('data-frame') : null)).observe(on, {
      attributes: true,
      attributeFilter: ['data-frame', 'data-clip', 'width', 'height'],
    })
    Object.assign(window, { seenPictures: seen })
  })
const seenPictures = () =>
  page.evaluate(() => [...new Set((window as unknown as { seenPictures: (string | null)[] }).seenPictures)])

beforeAll(async () => {
  const made = await openWithLesson()
  ;({ folder, lessonId } = made)
  await made.library.close()
  writeFastClip(ffmpegFile, path.join(folder, 'made.mp4'), 1, 3)
  launched = await launchApp({ library: folder })
  page = launched.page
  page.setDefaultTimeout(30_000)
  await page.evaluate((to) => (location.hash = to), `#/lesson/${lessonId}`)
  await page.getByRole('heading', { name: 'No swings yet' }).waitFor()
}, 120_000)
afterAll(async () => {
  await launched?.close()
  fs.rmSync(folder, { recursive: true, force: true })
})

describe('a film that is being taken in', () => {
  test('is on the Stage of an empty lesson at once; its swing takes its place at the frame that is looked at', async () => {
    await add(film(1))
    await untilBeingRead()
    await untilFrame(0)
    const before = await lessonOf(page)
    expect([before.clips, before.swings, before.undoLabel]).toEqual([[], [], null])
    // Nothing can be drawn on it, and nothing is said of when a frame was.
    await expect.poll(() => page.getByRole('button', { name: /^Line/ }).isDisabled()).toBe(true)
    for (const frame of [1, 2, 3]) {
      await page.keyboard.press('ArrowRight')
      await untilFrame(frame)
    }
    await watchPictures()
    const { violations } = await new AxeBuilder({ page }).setLegacyMode(true).analyze()
    expect(violations.filter((v) => /serious|critical/.test(v.impact ?? '')).map((v) => v.id)).toEqual([])
    const lesson = await untilClips(1)
    await untilRead()
    await page.locator('.flag').first().waitFor()
    expect(await canvas().getAttribute('data-clip')).toBe(lesson.clips[0]!.id)
    expect(await canvas().getAttribute('data-frame')).toBe('3')
    expect(await seenPictures()).toEqual([])
    await page.keyboard.press('ArrowRight')
    await untilFrame(4)
  })

  test('that nobody touched opens at its impact, and is undone in one step', async () => {
    await page.keyboard.press('Control+z')
    await page.getByRole('heading', { name: 'No swings yet' }).waitFor()
    await add(film(2))
    await untilBeingRead()
    await untilFrame(0)
    const lesson = await untilClips(1)
    await untilFrame(impactIn(lesson, lesson.clips[0]!.id))
  })

  test('leaves the Stage to what is on it, unless the lesson is live and the newest swing is', async () => {
    const [first] = (await lessonOf(page)).clips
    await add(film(3))
    const two = await untilClips(2)
    expect(await canvas().getAttribute('data-clip')).toBe(first!.id)

    const camera = path.join(folder, 'camera')
    fs.mkdirSync(camera)
    await page.evaluate((input) => window.leadside.ask('live.start', input), {
      ...{ lessonId, clipsFolder: camera, shotsPath: null, takeOld: false },
    })
    await page.reload()
    await page.locator('canvas[data-frame]').waitFor()
    await page.keyboard.press('PageDown')
    const second = two.clips.find((c) => c.id !== first!.id)!
    await page.locator(`canvas[data-clip="${second.id}"]`).waitFor()
    fs.renameSync(film(4), path.join(camera, 'film-4.mp4'))
    await untilBeingRead()
    const arriving = await canvas().getAttribute('data-clip')
    // Left for another swing: it stays there when the film’s own stands.
    await page.keyboard.press('PageDown')
    await page.locator(`canvas[data-clip="${first!.id}"]`).waitFor()
    expect(await page.getByText('Being read').count()).toBe(0)
    const three = await untilClips(3)
    expect(three.clips.map((c) => c.id)).toContain(arriving)
    expect(await canvas().getAttribute('data-clip')).toBe(first!.id)
  })

  test('plays on when its swing stands, and gives the Stage back when it is stopped', async () => {
    const newest = () => page.getByRole('row').last().click()
    await newest()
    const before = await canvas().getAttribute('data-clip')
    const camera = path.join(folder, 'camera')
    fs.renameSync(film(5), path.join(camera, 'film-5.mp4'))
    await untilBeingRead()
    await page.locator('.job', { hasText: 'film-5.mp4' }).getByRole('button').click()
    await untilRead()
    await page.locator(`canvas[data-clip="${before}"][data-frame]`).waitFor()

    fs.renameSync(film(6), path.join(camera, 'film-6.mp4'))
    await untilBeingRead()
    await page.keyboard.press(' ')
    await watchPictures()
    const four = await untilClips(4)
    await untilRead()
    const at = Number(await canvas().getAttribute('data-frame'))
    await expect.poll(async () => Number(await canvas().getAttribute('data-frame'))).toBeGreaterThan(at)
    await page.keyboard.press(' ')
    const frames = (await seenPictures()).map(Number)
    expect(frames).toEqual(frames.toSorted((a, b) => a - b))
    expect(four.clips.map((c) => c.id)).toContain(await canvas().getAttribute('data-clip'))
  })
})
