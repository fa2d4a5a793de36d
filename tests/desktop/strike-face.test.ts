import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { Library } from '../../electron/library/library.ts'
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
})
