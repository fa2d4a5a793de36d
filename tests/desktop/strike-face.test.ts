import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { Library } from '../../electron/library/library.ts'
import { runFfmpegNow } from '../library/support/make-clip.ts'
import { launchApp, type LaunchedApp } from './launch.ts'

let folder: string
let launched: LaunchedApp
let page: Page
let lessonId: string

const firstShot = () =>
  page.evaluate(async (id) => {
    const answer = await window.leadside.ask('lesson.open', { lessonId: id })
    if (!answer.ok) throw new Error(answer.problem.what)
    const { impactXMm, impactYMm } = answer.output.shots[0]!
    return { impactXMm, impactYMm }
  }, lessonId)

beforeAll(async () => {
  folder = mkdtempSync(path.join(os.tmpdir(), 'leadside-'))
  const library = new Library({ folder: path.join(folder, 'library') })
  const { id: studentId } = await library.ask('student.create', { name: 'Robin Testing', side: 'right' })
  lessonId = (await library.ask('lesson.create', { studentId, date: '2026-05-01', title: 'Face' })).id
  const file = path.join(folder, 'shots.csv')
  writeFileSync(file, 'Club,Club Speed (mph),Ball Speed (mph)\nDriver,90,130\n')
  await library.ask('shots.add', { lessonId, file })
  await library.close()
  launched = await launchApp({ library: path.join(folder, 'library') })
  page = launched.page
  await page.getByRole('button', { name: /Face/ }).first().click()
})
afterAll(async () => {
  await launched.close()
  rmSync(folder, { recursive: true, force: true })
})

describe('the strike on the face', () => {
  it('is marked by a click; a right-hander’s toe is on the left as seen from the ball', async () => {
    const part = page.getByRole('region', { name: 'Strike on the face' })
    await part.getByRole('button', { name: 'Mark' }).click()
    const face = part.getByRole('img', { name: /toe on the left/ })
    const box = (await face.boundingBox())!
    // A quarter of the face's width left of its centre, a sixth of its height above.
    await face.click({ position: { x: box.width * 0.25, y: box.height * (0.5 - 1 / 6) } })
    await expect.poll(firstShot, { timeout: 10_000 }).toEqual({ impactXMm: 28, impactYMm: 10 })
  })

  it('is set by numbers too, and taken off again, and each is undone', async () => {
    const part = page.getByRole('region', { name: 'Strike on the face' })
    await part.getByLabel('mm towards the toe').fill('-12')
    await expect.poll(firstShot, { timeout: 10_000 }).toEqual({ impactXMm: -12, impactYMm: 10 })
    await part.getByRole('button', { name: 'Take off' }).click()
    await expect.poll(firstShot, { timeout: 10_000 }).toEqual({ impactXMm: null, impactYMm: null })
    await page.getByRole('button', { name: /^Undo/ }).click()
    await expect.poll(async () => (await firstShot()).impactXMm, { timeout: 10_000 }).not.toBeNull()
  })

  it('is read from a photo: its two ends first, then the strike, in millimetres', async () => {
    const photo = path.join(folder, 'face.jpg')
    runFfmpegNow('-f', 'lavfi', '-i', 'color=c=gray:size=800x400', '-frames:v', '1', photo)
    await launched.app.evaluate(({ dialog }, chosen) => {
      dialog.showOpenDialog = async () => ({ canceled: false, filePaths: [chosen] })
    }, photo)
    const part = page.getByRole('region', { name: 'Strike on the face' })
    await part.getByRole('button', { name: 'On a photo of the face…' }).click()
    await part.getByLabel('mm between the ends').fill('100')
    const face = part.getByRole('img', { name: /on the photo of the face/ })
    const at = async (x: number, y: number) => {
      const box = (await face.boundingBox())!
      await face.click({ position: { x: box.width * x, y: box.height * y } })
    }
    await part.getByText('Click the toe end').waitFor()
    await at(0.25, 0.5)
    await part.getByText('Click the heel end').waitFor()
    await at(0.75, 0.5)
    await part.getByText('Click where this shot met the face').waitFor()
    // Half the picture's width is 100 mm: an eighth of it towards the toe is 25 mm, an eighth of its height up 12.5 mm.
    await at(0.375, 0.375)
    const isThere = async () => {
      const { impactXMm, impactYMm } = await firstShot()
      return Math.abs(impactXMm! - 25) <= 1 && Math.abs(impactYMm! - 12.5) <= 1
    }
    await expect.poll(isThere, { timeout: 10_000 }).toBe(true)
    await part.getByRole('button', { name: 'Take the photo off' }).click()
    await part.getByRole('img', { name: /toe on the left/ }).waitFor()
    // The picture stays in the lesson, and can be used again.
    await page.getByText('face.jpg').first().waitFor()
    await part.getByRole('button', { name: /or on a picture of this lesson/ }).click()
    await page.getByRole('option', { name: 'Face · face.jpg' }).click()
    await part.getByText('Click the toe end').waitFor()
  })
})
