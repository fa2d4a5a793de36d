import fs from 'node:fs'
import path from 'node:path'
import type { Page } from 'playwright-core'
import { expect } from 'vitest'
import type { DrawingRecord, OpenLesson, View } from '../../shared-core/model/entities.ts'
import { openWithLesson, takeIn, temporaryFolder } from '../library/support/temporary-library.ts'
import { launchApp, type LaunchedApp } from './launch.ts'
import { lessonOf } from './library-in-window.ts'
import { blockMiddles, codedSize, indexOf, writeNumberedClip } from './numbered-clip.ts'

/**
 * A window on a lesson whose clips carry the number of every frame, and looks at what is painted on its Stage. One for
 * each test file: vitest gives every file its own modules.
 */
const demo = path.resolve(import.meta.dirname, '../../demo-media')
const clips = [
  { lesson: 'autumn', rate: 240, frames: 300, moments: { takeaway: 60, top: 120, impact: 180 } },
  { lesson: 'autumn', rate: 120, frames: 160, moments: { takeaway: 20, top: 60, impact: 100 } },
  { lesson: 'spring', rate: 240, frames: 260, moments: { takeaway: 50, top: 150, impact: 200 } },
] as const

let folder: string
export let launched: LaunchedApp
export let page: Page
/** Views of `clips`, in their order. */
export let viewIds: string[]

/** Opens the lesson of the autumn, with its first swing's picture on the Stage. */
export const openStage = async () => {
  folder = temporaryFolder()
  const { library, studentId, lessonId: spring } = await openWithLesson(path.join(folder, 'library'))
  const { id: autumn } = await library.ask('lesson.create', {
    studentId,
    date: '2026-10-01',
    title: 'autumn',
  })
  const other = await library.ask('student.create', { name: 'Kim Testing', side: 'left' })
  await library.ask('lesson.create', { studentId: other.id, date: '2026-10-02', title: 'not this one' })
  const lessons = { spring, autumn }
  viewIds = []
  for (const [i, clip] of clips.entries()) {
    const file = path.join(folder, `numbered-${i}.mp4`)
    writeNumberedClip(file, { ...clip, name: `clip ${i}`, codec: 'libx264' })
    const lessonId = lessons[clip.lesson]
    const [job] = await takeIn(library, lessonId, [file])
    expect(job!.problem).toBeNull()
    const lesson = await library.ask('lesson.open', { lessonId })
    const taken = lesson.clips.find((c) => c.fileName === path.basename(file))!
    await library.ask('clip.update', { id: taken.id, patch: { captureRate: clip.rate } })
    const view = lesson.swings.flatMap((s) => s.views).find((v) => v.clipId === taken.id)!
    for (const moment of view.moments) await library.ask('moment.remove', { id: moment.id })
    for (const [name, frame] of Object.entries(clip.moments)) {
      await library.ask('moment.place', { viewId: view.id, name, frame })
    }
    viewIds.push(view.id)
  }
  // One clip with a sound and with moments that were found, not placed.
  await takeIn(library, autumn, [path.join(demo, 'swing-01.mp4')])
  await library.close()
  launched = await launchApp({ library: path.join(folder, 'library') })
  page = launched.page
  await page.getByRole('button', { name: /2026 autumn/ }).click()
  await page.getByRole('row', { name: /^Swing 3\b/ }).waitFor()
}

export const closeStage = async () => {
  await launched?.close()
  fs.rmSync(folder, { recursive: true, force: true })
}

// ---- Looking -------------------------------------------------------------------------------------------------

type Place = 'first' | 'second'
export const canvasOf = (place: Place) => `canvas[data-place="${place}"]`

export const waitForFrame = (frame: number, place: Place = 'first') =>
  page.waitForSelector(`${canvasOf(place)}[data-frame="${frame}"]`, { timeout: 15_000 })

const swingOfView = (lesson: OpenLesson, viewId: string) =>
  lesson.swings.find((s) => s.views.some((v) => v.id === viewId))!

export const pictureOf = (lesson: OpenLesson, viewId: string): View =>
  swingOfView(lesson, viewId).views.find((v) => v.id === viewId)!

/** Opens the swing of a view by its row in the Tray, as a whole picture. */
export const open = async (viewId: string) => {
  const lesson = await lessonOf(page)
  const order = [...lesson.swings].sort((a, b) => a.order - b.order)
  const number = order.indexOf(order.find((s) => s.id === swingOfView(lesson, viewId).id)!) + 1
  const { clipId } = pictureOf(lesson, viewId)
  await page.getByRole('row', { name: new RegExp(`^Swing ${number}\\b`) }).click()
  await page.waitForSelector(`canvas[data-clip="${clipId}"][data-place="first"][data-frame]`)
  await page.keyboard.press('Escape')
  await page.keyboard.press('0')
}

/** The number that the pixels of a whole picture say; null if they say none. */
export const paintedNumber = async (place: Place, isMirrored = false): Promise<number | null> => {
  const middles = blockMiddles(false).map(({ x, y }) => ({ x: isMirrored ? codedSize.width - x : x, y }))
  const levels = await page.evaluate(
    ({ selector, middles, picture }) => {
      const canvas = document.querySelector<HTMLCanvasElement>(selector)!
      const scale = Math.min(canvas.width / picture.width, canvas.height / picture.height)
      const left = (canvas.width - picture.width * scale) / 2
      const top = (canvas.height - picture.height * scale) / 2
      const context = canvas.getContext('2d')!
      return middles.map(
        ({ x, y }) =>
          context.getImageData(Math.round(left + x * scale), Math.round(top + y * scale), 1, 1).data[0]!,
      )
    },
    { selector: canvasOf(place), middles, picture: codedSize },
  )
  return indexOf(levels.map((level) => level > 128))
}

/** Waits until the pixels of both pictures say these numbers. */
export const untilPainted = async (first: number, second: number) => {
  await waitForFrame(first)
  await waitForFrame(second, 'second')
  expect([await paintedNumber('first'), await paintedNumber('second')]).toEqual([first, second])
}

/** From where to where the picture is painted, across the middle of its canvas, page pixels. */
export const extent = (place: Place): Promise<{ left: number; right: number }> =>
  page.evaluate((selector) => {
    const canvas = document.querySelector<HTMLCanvasElement>(selector)!
    const row = canvas.getContext('2d')!.getImageData(0, canvas.height >> 1, canvas.width, 1).data
    let left = 0
    while (left < canvas.width && row[left * 4 + 3] === 0) left++
    let right = canvas.width
    while (right > left && row[right * 4 - 1] === 0) right--
    const share = canvas.getBoundingClientRect().width / canvas.width
    return { left: left * share, right: right * share }
  }, canvasOf(place))
export const widthOf = async (place: Place) => {
  const { left, right } = await extent(place)
  return right - left
}

export const boxOf = async (place: Place = 'first') =>
  (await page.locator(`.picture-${place}`).boundingBox())!

/** Where a source pixel of a whole picture is on the page. */
export const onPage = async (x: number, y: number) => {
  const box = await boxOf()
  const scale = Math.min(box.width / codedSize.width, box.height / codedSize.height)
  return {
    x: box.x + (box.width - codedSize.width * scale) / 2 + x * scale,
    y: box.y + (box.height - codedSize.height * scale) / 2 + y * scale,
    scale,
  }
}

/** Away from the button or the flag that was used last, so that keys go to the picture. */
export const toPicture = () => page.evaluate(() => (document.activeElement as HTMLElement | null)?.blur())

export const drawingsOf = (lesson: OpenLesson, viewId: string): DrawingRecord[] =>
  pictureOf(lesson, viewId).drawings

export const choose = async (
  label: string | RegExp,
  option: string | RegExp,
  within = page.locator('body'),
) => {
  await within.getByRole('button', { name: label }).click()
  await page.getByRole('option', { name: option }).click()
  // Keys go to the picture again.
  await page.waitForFunction(() => document.activeElement === document.body)
}
