import fs from 'node:fs'
import path from 'node:path'
import { AxeBuilder } from '@axe-core/playwright'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import * as t from '../../electron/library/database/schema.ts'
import { jointCount, jointIndex, type JointName } from '../../shared-core/body/joints.ts'
import type { FollowedPoint } from '../../shared-core/model/entities.ts'
import { openWithLesson, takeIn, temporaryFolder } from '../library/support/temporary-library.ts'
import { atRest } from './at-rest.ts'
import { launchAtLesson, type LaunchedApp } from './launch.ts'
import { lessonOf } from './library-in-window.ts'

/**
 * A club head followed in the window, its way on the picture up to the frame shown, its correction by keys, and the body's points
 * put right by keys.
 */
const demo = path.resolve(import.meta.dirname, '../../demo-media')
const size = { width: 848, height: 480 }
/** On the setup's frame of swing-02, read off its picture. */
const clubHead = { frame: 50, x: 389, y: 447 }
/** The player's points on that frame as they might be read; read off its picture. */
const joints: Partial<Record<JointName, readonly [number, number]>> = {
  leftEar: [378, 110],
  rightEar: [352, 115],
  leftShoulder: [410, 143],
  rightShoulder: [340, 145],
  leftElbow: [426, 198],
  rightElbow: [362, 195],
  leftWrist: [407, 232],
  rightWrist: [390, 234],
  leftHip: [403, 222],
  rightHip: [363, 224],
  leftKnee: [414, 297],
  rightKnee: [352, 298],
  leftAnkle: [423, 376],
  rightAnkle: [342, 376],
}
let folder: string
let launched: LaunchedApp
let page: Page
let clipId: string

beforeAll(async () => {
  folder = temporaryFolder()
  const { library, lessonId } = await openWithLesson(path.join(folder, 'library'))
  const [job] = await takeIn(library, lessonId, [path.join(demo, 'swing-02.mp4')])
  expect(job!.problem).toBeNull()
  const { clips, swings } = await library.ask('lesson.open', { lessonId })
  clipId = clips[0]!.id
  const view = swings[0]!.views[0]!
  for (const moment of view.moments) await library.ask('moment.remove', { id: moment.id })
  for (const [name, frame] of Object.entries({ setup: clubHead.frame, top: 278, impact: 346 })) {
    await library.ask('moment.place', { viewId: view.id, name, frame })
  }
  await library.ask('clip.update', { id: clipId, patch: { pixelsPerMeter: 200 } })
  const points = new Float32Array(jointCount * 3)
  for (const [name, [x, y]] of Object.entries(joints)) {
    points.set([x, y, 0.8], jointIndex(name as JointName) * 3)
  }
  library.context.db
    .insert(t.bodyPoints)
    .values({
      mediaHash: clips[0]!.hash,
      model: 'by hand',
      frames: Buffer.from(Int32Array.of(clubHead.frame).buffer),
      points: Buffer.from(points.buffer),
      readAt: '2026-05-01T00:00:00Z',
    })
    .run()
  await library.close()
  launched = await launchAtLesson(path.join(folder, 'library'), 1)
  page = launched.page
  page.setDefaultTimeout(20_000)
  await page.getByRole('row', { name: /^Swing 1\b/ }).click()
  await page.waitForSelector('canvas[data-place="first"][data-frame]')
}, 120_000)
afterAll(async () => {
  await launched?.close()
  fs.rmSync(folder, { recursive: true, force: true })
})

const toFrame = async (key: string, frame: number) => {
  await page.keyboard.press(key)
  await page.waitForSelector(`canvas[data-place="first"][data-frame="${frame}"]`)
  await atRest(page)
}
const points = (): Promise<FollowedPoint[]> =>
  page.evaluate(async (clip) => {
    const listed = await window.leadside.ask('follow.list', { clipId: clip })
    if (!listed.ok) throw new Error(listed.problem.what)
    return listed.output
  }, clipId)
const marked = async () => (await points())[0]?.marks.map((m) => m.frame)
const untilFollowed = async (marks: readonly number[]) => {
  await expect.poll(marked, { timeout: 60_000 }).toEqual(marks)
  await expect.poll(async () => (await points())[0]!.frames.length, { timeout: 60_000 }).toBeGreaterThan(200)
}
const corrected = () =>
  page.evaluate(async (clip) => {
    const read = await window.leadside.ask('body.points', { clipId: clip })
    return read.ok ? read.output.corrected : null
  }, clipId)

/** Where a source pixel is on the page. */
const onPage = async (x: number, y: number) => {
  const box = (await page.locator('.picture-first').boundingBox())!
  const scale = Math.min(box.width / size.width, box.height / size.height)
  return {
    x: box.x + (box.width - size.width * scale) / 2 + x * scale,
    y: box.y + (box.height - size.height * scale) / 2 + y * scale,
  }
}

/** On how many of these source pixels something is drawn over the picture. */
const drawnOn = async (places: readonly { x: number; y: number }[]): Promise<number> => {
  const at = await Promise.all(places.map(({ x, y }) => onPage(x, y)))
  return page.evaluate((spots) => {
    const canvas = document.querySelector<HTMLCanvasElement>('.drawing-layer canvas')!
    const box = canvas.getBoundingClientRect()
    const share = canvas.width / box.width
    const context = canvas.getContext('2d')!
    return spots.filter(
      ({ x, y }) =>
        context.getImageData(Math.round((x - box.x) * share), Math.round((y - box.y) * share), 1, 1)
          .data[3]! > 100,
    ).length
  }, at)
}

const wayBetween = async (from: number, to: number) => {
  const [{ frames, points: places }] = (await points()) as [FollowedPoint]
  return frames.flatMap((frame, k) =>
    frame >= from && frame <= to ? [{ x: places[k * 3]!, y: places[k * 3 + 1]! }] : [],
  )
}

describe('a point followed in the window', () => {
  test('draws its way up to the frame shown, and nothing of what comes after', async () => {
    await toFrame('Alt+1', clubHead.frame)
    await page.keyboard.press('Shift+F')
    const at = await onPage(clubHead.x, clubHead.y)
    await page.mouse.click(at.x, at.y)
    await untilFollowed([clubHead.frame])
    const backswing = await wayBetween(180, 270)
    const downswing = (await wayBetween(320, 344)).filter(({ y }) => y > 200)
    expect(backswing.length).toBeGreaterThan(60)
    await page.keyboard.press('Escape')
    await toFrame('Alt+3', 278)
    await expect.poll(() => drawnOn(backswing), { timeout: 15_000 }).toBe(backswing.length)
    expect(await drawnOn(downswing)).toBe(0)
    await toFrame('Alt+5', 346)
    await expect.poll(() => drawnOn(downswing), { timeout: 15_000 }).toBe(downswing.length)
    await toFrame('Alt+1', clubHead.frame)
    await expect.poll(() => drawnOn(backswing), { timeout: 15_000 }).toBe(0)
  })

  test('says how far it was found, and its speed with its error in the coach’s unit', async () => {
    await page.keyboard.press('F5')
    const part = page.getByRole('region', { name: 'Followed points' })
    await expect.poll(() => part.innerText()).toMatch(/Found on \d+ of 548 frames/)
    expect(await part.innerText()).toMatch(/up to impact\s+\d+\.\d\s+mph\s+± \d+\.\d/)
    // The club goes at 100 mph or so; the ruler was set at 200 pixels a metre.
    const [, speed] = /up to impact\s+(\d+\.\d)/.exec(await part.innerText())!
    expect(Number(speed)).toBeGreaterThan(70)
    expect(Number(speed)).toBeLessThan(140)
    const { violations } = await new AxeBuilder({ page })
      .setLegacyMode(true)
      .include('.ledger')
      .include('.stage')
      .analyze()
    expect(
      violations.filter((v) => v.impact === 'serious' || v.impact === 'critical').map((v) => v.id),
    ).toEqual([])
  })

  test('is put right by keys alone, undone and done again, and the mark stays', async () => {
    await toFrame('Alt+3', 278)
    await page.getByRole('button', { name: 'Select its way' }).focus()
    await page.keyboard.press('Enter')
    await page.getByRole('button', { name: 'Mark it on this frame' }).focus()
    await page.keyboard.press('Enter')
    const board = page.getByRole('application')
    await board.focus()
    await page.keyboard.press('Shift+ArrowUp')
    await page.keyboard.press('Enter')
    await expect.poll(marked, { timeout: 20_000 }).toEqual([clubHead.frame, 278])
    const mark = (await points())[0]!.marks.find((m) => m.frame === 278)!
    // It is followed anew, through the mark.
    const placeOn278 = async () => {
      const { frames, points: places } = (await points())[0]!
      const k = frames.indexOf(278)
      return [places[k * 3], places[k * 3 + 1]].map((v) => Math.round(v! * 10))
    }
    await expect
      .poll(placeOn278, { timeout: 60_000 })
      .toEqual([Math.round(mark.x * 10), Math.round(mark.y * 10)])
    await page.evaluate(() => (document.activeElement as HTMLElement | null)?.blur())
    await page.keyboard.press('Control+z')
    await expect.poll(marked, { timeout: 20_000 }).toEqual([clubHead.frame])
    await page.keyboard.press('Control+Shift+z')
    await expect.poll(marked, { timeout: 20_000 }).toEqual([clubHead.frame, 278])
    await page.keyboard.press('Control+z')
  })

  test('shows the body’s points, which keys put right and take back', async () => {
    await toFrame('Alt+1', clubHead.frame)
    await page.evaluate(() => (document.activeElement as HTMLElement | null)?.blur())
    await page.keyboard.press('Shift+J')
    const layer = page.locator('.joint-layer')
    await layer.waitFor()
    expect(await layer.getByRole('button').count()).toBe(Object.keys(joints).length)
    const knee = layer.getByRole('button', { name: /left knee/ })
    const before = (await knee.boundingBox())!
    const wanted = await onPage(...joints.leftKnee!)
    expect(Math.abs(before.x + before.width / 2 - wanted.x)).toBeLessThan(1.5)
    expect(Math.abs(before.y + before.height / 2 - wanted.y)).toBeLessThan(1.5)
    await knee.focus()
    await page.keyboard.press('Shift+ArrowRight')
    await expect.poll(corrected, { timeout: 15_000 }).toEqual([{ frame: clubHead.frame, joint: 'leftKnee' }])
    await expect
      .poll(async () => (await knee.boundingBox())!.x, { timeout: 15_000 })
      .toBeGreaterThan(before.x + 5)
    await knee.focus()
    await page.keyboard.press('Delete')
    await expect.poll(corrected, { timeout: 15_000 }).toEqual([])
    const { violations } = await new AxeBuilder({ page }).setLegacyMode(true).include('.stage').analyze()
    expect(
      violations.filter((v) => v.impact === 'serious' || v.impact === 'critical').map((v) => v.id),
    ).toEqual([])
  })

  test('the window complained of nothing', async () => {
    expect((await lessonOf(page)).clips).toHaveLength(1)
    expect(launched.complaints).toEqual([])
  })
})
