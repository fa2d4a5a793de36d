import fs from 'node:fs'
import path from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { Library } from '../../electron/library/library.ts'
import { temporaryFolder } from '../library/support/temporary-library.ts'
import { launchApp, type LaunchedApp } from './launch.ts'
import { lessonOf, untilLesson } from './library-in-window.ts'

/** Two real windows of one program on one lesson; each test goes on from the one before. */
let folder: string
let launched: LaunchedApp
let first: Page
let second: Page

const note = (page: Page) => page.getByRole('textbox', { name: 'Notes on the lesson' })
/** The Ledger's lesson face, everything in it open. */
const toLesson = async (page: Page) => {
  await page.getByRole('tab', { name: 'This lesson' }).click()
  await note(page).waitFor()
  await page.getByText(/^Details:/).click()
}
const formatted = (page: Page) =>
  page.getByRole('region', { name: 'Lesson', exact: true }).locator('.note-read')

beforeAll(async () => {
  folder = temporaryFolder()
  const library = new Library({ folder: path.join(folder, 'library'), printPdf: null })
  const { id: studentId } = await library.ask('student.create', { name: 'Robin Testing', side: 'right' })
  const { id: lessonId } = await library.ask('lesson.create', {
    studentId,
    date: '2026-05-01',
    title: 'Shared',
  })
  const file = path.join(folder, 'shots.csv')
  fs.writeFileSync(file, 'Club,Club Speed (mph),Ball Speed (mph)\nDriver,90,130\nDriver,91,132\n')
  await library.ask('shots.add', { lessonId, file })
  await library.close()
  launched = await launchApp({ library: path.join(folder, 'library') })
  first = launched.page
  await first
    .getByRole('button', { name: /Shared/ })
    .first()
    .click()
  await toLesson(first)
  const opened = launched.app.waitForEvent('window')
  await first.getByRole('button', { name: 'More', exact: true }).click()
  await first.getByRole('menuitem', { name: 'Second window on this lesson' }).click()
  second = await opened
  await toLesson(second)
})
afterAll(async () => {
  await launched?.close()
  fs.rmSync(folder, { recursive: true, force: true })
})

describe('two windows on one lesson', () => {
  test('what one edits, the other shows', async () => {
    await first.getByRole('textbox', { name: 'What it was about' }).fill('grip and stance')
    await second.getByText('grip and stance').first().waitFor()
    await second.getByRole('button', { name: /Units/ }).click()
    await second.getByRole('option', { name: 'm/s · m' }).click()
    await first.locator('.tray-columns').getByText('m/s').first().waitFor()
  })

  test('both type into the same note at the same time; both texts are kept, and both windows show them', async () => {
    await note(first).fill('grip\nstance')
    await untilLesson(first, 'the note', (l) => l.lesson.note === 'grip\nstance')
    await expect.poll(() => note(second).inputValue()).toBe('grip\nstance')
    // Neither has seen the other's words when it begins.
    await note(first).evaluate((field: HTMLTextAreaElement) => {
      field.focus()
      field.setSelectionRange(4, 4)
    })
    await note(second).evaluate((field: HTMLTextAreaElement) => {
      field.focus()
      field.setSelectionRange(field.value.length, field.value.length)
    })
    await Promise.all([
      first.keyboard.type(': stronger, two knuckles', { delay: 45 }),
      second.keyboard.type(': wider by a foot', { delay: 70 }),
    ])
    const whole = 'grip: stronger, two knuckles\nstance: wider by a foot'
    await untilLesson(first, 'both texts', (l) => l.lesson.note === whole)
    await expect.poll(() => note(first).inputValue()).toBe(whole)
    await expect.poll(() => note(second).inputValue()).toBe(whole)
  })

  test('undo does not take back unseen what the other window did last', async () => {
    await first.getByRole('textbox', { name: 'Focus for next time' }).fill('first window')
    await untilLesson(first, 'mine', (l) => l.lesson.nextFocus === 'first window')
    await note(second).fill('**second** window')
    await untilLesson(second, 'theirs', (l) => l.lesson.note === '**second** window')
    // Formatted, as nobody types there.
    await formatted(first).locator('strong', { hasText: 'second' }).waitFor()

    await first.getByRole('button', { name: /^Undo/ }).click()
    await first.getByText(/was made in another window/).waitFor()
    expect((await lessonOf(first)).lesson.note).toBe('**second** window')
    await first.getByRole('button', { name: /^Undo/ }).click()
    await untilLesson(first, 'taken back all the same', (l) => l.lesson.note !== '**second** window')
    expect((await lessonOf(first)).lesson.nextFocus).toBe('first window')
    await first.getByRole('button', { name: /^Redo/ }).click()
    await untilLesson(first, 'there again', (l) => l.lesson.note === '**second** window')
  })

  test('a note reads formatted where nobody types in it', async () => {
    await first.getByRole('textbox', { name: 'What it was about' }).focus()
    await formatted(first).locator('strong', { hasText: 'second' }).waitFor()
    await first.getByRole('button', { name: 'Edit: Notes on the lesson' }).click()
    await expect.poll(() => note(first).inputValue()).toBe('**second** window')
    await expect.poll(() => note(first).evaluate((field) => field === document.activeElement)).toBe(true)
    await first.keyboard.press('Control+a')
    await first.keyboard.press('Control+i')
    await expect.poll(() => note(first).inputValue()).toBe('***second** window*')
    await first.keyboard.press('Escape')
  })

  test('the windows complained of nothing', () => {
    expect(launched.complaints).toEqual([])
  })
})
