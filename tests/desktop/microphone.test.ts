import fs from 'node:fs'
import path from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { openWithLesson, takeIn, temporaryFolder } from '../library/support/temporary-library.ts'
import { atRest } from './at-rest.ts'
import { launchAtLesson, type LaunchedApp } from './launch.ts'
import { lessonOf, untilLesson } from './library-in-window.ts'

/** Four clips of the demo with their strikes seen and heard, the microphone at 3 m. LEADSIDE_SCREENS names a folder for pictures. */
const demo = path.resolve(import.meta.dirname, '../../demo-media')
let folder: string
let launched: LaunchedApp
let page: Page

beforeAll(async () => {
  folder = temporaryFolder()
  const { library, lessonId } = await openWithLesson(path.join(folder, 'library'))
  const files = ['swing-01', 'swing-03', 'swing-05', 'swing-19'].map((name) => path.join(demo, `${name}.mp4`))
  for (const job of await takeIn(library, lessonId, files)) expect(job.problem).toBeNull()
  await library.close()
  launched = await launchAtLesson(path.join(folder, 'library'), 2)
  page = launched.page
}, 240_000)
afterAll(async () => {
  await launched?.close()
  fs.rmSync(folder, { recursive: true, force: true })
})

test('the microphone’s field says what the clips tell, by how many strikes, and that the coach’s own number wins', async () => {
  await page.keyboard.press('F7')
  await page.getByText('Details: title, microphone, clocks').click()
  const field = page.getByLabel('Microphone to ball, m')
  expect(await field.inputValue()).toBe('')
  await page.getByText(/by [34] strikes seen and heard, the sound comes \d+ ms after the picture/).waitFor()
  await page.getByText('A number of your own goes before it').waitFor()
  await field.scrollIntoViewIfNeeded()
  await atRest(page)
  const shots = process.env['LEADSIDE_SCREENS']
  if (shots) await page.screenshot({ path: path.join(shots, 'microphone.png') })

  await field.fill('6.5')
  await field.press('Enter')
  await untilLesson(page, 'told 6.5 m', ({ lesson }) => lesson.isMicTold && lesson.micDistanceM === 6.5)
  await page.getByText('Your own number goes before it. Empty the field to go by the clips.').waitFor()

  await field.fill('')
  await field.press('Enter')
  await untilLesson(page, 'told nothing', ({ lesson }) => !lesson.isMicTold)
  await page.getByText('A number of your own goes before it').waitFor()
  expect((await lessonOf(page)).lesson.isMicTold).toBe(false)
  expect(launched.complaints).toEqual([])
})
