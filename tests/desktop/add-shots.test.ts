import fs from 'node:fs'
import path from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { openWithLesson } from '../library/support/temporary-library.ts'
import { launchApp, type LaunchedApp } from './launch.ts'
import { lessonOf, untilLesson } from './library-in-window.ts'

/** What the window asks of a file of shots whose rows stand twice. */
let folder: string
let launched: LaunchedApp
let page: Page
let ofFolderId: string
const pictures = process.env.LEADSIDE_SCREENSHOTS

const table = [
  'Shot,Club,Club Speed,Ball Speed,Carry',
  '1,Driver,93.1,136.2,220',
  '2,Driver,95.4,139.0,228',
  '2,Driver,95.4,139.0,228',
  '3,Driver,94.2,137.3,221',
].join('\n')

const picture = async (name: string) => {
  if (!pictures) return
  for (const [width, height] of [
    [1440, 900],
    [1024, 700],
  ] as const) {
    await page.setViewportSize({ width, height })
    for (const colorScheme of ['light', 'dark'] as const) {
      await page.emulateMedia({ colorScheme })
      await page.screenshot({ path: path.join(pictures, `${name}-${width}-${colorScheme}.png`) })
    }
  }
  await page.emulateMedia({ colorScheme: 'light' })
}

beforeAll(async () => {
  const made = await openWithLesson()
  folder = made.folder
  // As a watched folder does: nobody is there to be asked.
  const { library, studentId } = made
  const { id } = await library.ask('lesson.create', { studentId, date: '2026-05-02' })
  ofFolderId = id
  const file = path.join(folder, 'watched.csv')
  fs.writeFileSync(file, table)
  await library.ask('shots.add', { lessonId: id, file })
  await library.close()
  launched = await launchApp({ library: folder })
  page = launched.page
  page.setDefaultTimeout(20_000)
  await page.evaluate((to) => (location.hash = to), `#/lesson/${made.lessonId}`)
  await page.getByRole('heading', { name: 'No swings yet' }).waitFor()
})
afterAll(async () => {
  await launched?.close()
  fs.rmSync(folder, { recursive: true, force: true })
})

const add = async (name: string) => {
  const file = path.join(folder, name)
  fs.writeFileSync(file, table)
  await launched.app.evaluate(({ dialog }, chosen) => {
    dialog.showOpenDialog = async () => ({ canceled: false, filePaths: [chosen] })
  }, file)
  await page.getByRole('button', { name: 'Add shot records', exact: true }).click()
  return page.getByRole('dialog', { name: /please check/ })
}

test('rows that stand twice are asked about: the same, taken once', async () => {
  const dialog = await add('once.csv')
  await dialog.getByText('One row says the same as another').waitFor()
  expect(await dialog.innerText()).toMatch(/line 4\b/)
  await picture('doubled')
  await dialog.getByRole('button', { name: 'Add the shots' }).click()
  const lesson = await untilLesson(page, 'three shots', (l) => l.shots.length > 0)
  expect(lesson.shots).toHaveLength(3)
})

test('or shots of their own, if the coach says so', async () => {
  const before = (await lessonOf(page)).shots.length
  const dialog = await add('all.csv')
  await dialog.getByText('Shots of their own, take all').click()
  await dialog.getByRole('button', { name: 'Add the shots' }).click()
  const lesson = await untilLesson(page, 'one more', (l) => l.shots.length > before)
  expect(lesson.shots).toHaveLength(before + 1)
})

test('units that nobody was asked about are asked about in the Ledger until the coach says that they are right', async () => {
  await page.evaluate((to) => (location.hash = to), `#/lesson/${ofFolderId}`)
  const lesson = await untilLesson(page, 'its shots', (l) => l.shots.length > 0)
  expect(lesson.shots.every((s) => s.assumed.length > 0)).toBe(true)
  await page.keyboard.press('F7')
  const face = page.getByRole('complementary', { name: 'Ledger' }).getByRole('tabpanel')
  const right = face.getByRole('button', { name: 'The units are right' })
  await right.waitFor()
  await picture('units')
  await right.click()
  await right.waitFor({ state: 'detached' })
  expect((await lessonOf(page)).shots.every((s) => s.assumed.length === 0)).toBe(true)
  await page.keyboard.press('Control+z')
  await right.waitFor()
  expect((await lessonOf(page)).shots).toEqual(lesson.shots)
})
