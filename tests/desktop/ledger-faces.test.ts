import fs from 'node:fs'
import path from 'node:path'
import { AxeBuilder } from '@axe-core/playwright'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { readStory } from '../../electron/library/jobs/load-demo.ts'
import { lessonWithDrawing } from '../library/support/lesson-with-drawing.ts'
import { launchApp, type LaunchedApp } from './launch.ts'
import { lessonOf } from './library-in-window.ts'

/** The Ledger's three faces, with the demo lesson's own shot records and blocks, and two short clips. */
let folder: string
let launched: LaunchedApp
let page: Page
/** The shot that has a clip, by its number in the records. */
let pairedOrder: number

beforeAll(async () => {
  const made = await lessonWithDrawing()
  const { library, lessonId } = made
  folder = made.folder
  await library.ask('shots.add', { lessonId, file: path.resolve('demo-media/shots-device.csv') })
  const shotOrders = (n: number) =>
    readStory()
      .blocks.find((b) => b.number === n)!
      .swings.flatMap((s) => s.shot ?? [])
  for (const block of readStory().blocks.slice(1)) {
    const { shots, swings } = await library.ask('lesson.open', { lessonId })
    const first = shots.find((s) => s.order === Math.min(...shotOrders(block.number)))!
    const beforeSwingId = swings.find((s) => s.shotId === first.id)!.id
    const { id } = await library.ask('block.cut', { lessonId, beforeSwingId })
    await library.ask('block.update', { id, patch: { name: block.name, focus: block.focus } })
  }
  // One of the shots has a clip: the first driver shot of the third block.
  const { shots, swings } = await library.ask('lesson.open', { lessonId })
  const [filmed, ...others] = swings.filter((s) => s.views.length > 0)
  pairedOrder = Math.min(...shotOrders(3))
  const shotId = shots.find((s) => s.order === pairedOrder)!.id
  for (const { id } of others) await library.ask('pair.set', { swingId: id, shotId: null, refit: false })
  await library.ask('pair.set', { swingId: filmed!.id, shotId, refit: false })
  await library.close()
  launched = await launchApp({ library: path.join(folder, 'library') })
  page = launched.page
  page.setDefaultTimeout(20_000)
  await page
    .getByRole('button', { name: /A lesson/ })
    .first()
    .click()
  await ledger().waitFor()
})
afterAll(async () => {
  await launched?.close()
  fs.rmSync(folder, { recursive: true, force: true })
})

const ledger = () => page.getByRole('complementary', { name: 'Ledger' })
const face = () => ledger().getByRole('tabpanel')
const picture = () => face().getByRole('img', { name: /shots with the driver/ })

describe('the Ledger', () => {
  test('answers which block was better and by how much after one press', async () => {
    await page.keyboard.press('F7')
    await expect
      .poll(() => face().locator('.lesson-sentence').innerText(), { timeout: 20_000 })
      .toMatch(/Firm lead side against Baseline: .*efficiency \+0\.0\d/)
    const row = face().locator('tbody', { hasText: 'Firm lead side' })
    await row.locator('td.is-sure').first().waitFor()
  })

  test('says the finding’s number, the blocks and the ceiling in the picture’s accessible text', async () => {
    const text = (await picture().getAttribute('aria-label'))!
    const sentence = await face().locator('.lesson-sentence').innerText()
    expect(text).toContain(sentence)
    expect(text).toMatch(/Firm lead side: middle 1\.4\d \(1\.4\d to 1\.4\d\), 5 shots/)
    expect(text).toMatch(/Ceiling of this club: 1\.\d\d/)
  })

  test('shows other numbers in the picture at one press', async () => {
    await face().getByRole('radio', { name: 'carry' }).click()
    await face()
      .getByRole('img', { name: /^Carry in yd of \d+ shots/ })
      .waitFor()
    await face().getByRole('radio', { name: 'efficiency' }).click()
  })

  test('a dot that is pressed puts its swing on the Stage', async () => {
    await page.getByRole('row', { name: /^Swing 1$/ }).click()
    const lesson = await lessonOf(page)
    const shotId = lesson.shots.find((s) => s.order === pairedOrder)!.id
    const swing = lesson.swings.find((s) => s.shotId === shotId)!
    const { fileName } = lesson.clips.find((c) => c.id === swing.views[0]!.clipId)!
    // The only round dot is the shot with a clip; all others are diamonds. (Where a block's name stands is a point of no size.)
    const round = async () => {
      const boxes = await Promise.all(
        (await picture().locator('path[d^="M1 0A1 1"]').all()).map((path) => path.boundingBox()),
      )
      return boxes.filter((box) => box !== null && box.width > 3)
    }
    await expect.poll(async () => (await round()).length).toBe(1)
    const [box] = await round()
    await page.mouse.click(box!.x + box!.width / 2, box!.y + box!.height / 2)
    await page
      .getByRole('main', { name: 'Stage' })
      .getByRole('img', { name: new RegExp(`^${fileName.replace('.', '\\.')}, frame`) })
      .waitFor()
  })

  test('the picture follows the machine from light to dark', async () => {
    const inks = () =>
      picture()
        .locator('text')
        .evaluateAll((texts) => [...new Set(texts.map((t) => t.getAttribute('fill')))].join())
    await page.emulateMedia({ colorScheme: 'light' })
    const light = await inks()
    await page.emulateMedia({ colorScheme: 'dark' })
    await expect.poll(inks).not.toBe(light)
    await page.emulateMedia({ colorScheme: 'light' })
    await expect.poll(inks).toBe(light)
  })

  test('what is shown to the student has no small words, no names and no notes', async () => {
    await page.keyboard.press('F3')
    const panel = page.getByRole('complementary', { name: 'For the student' })
    await panel.locator('.show-sentence').waitFor()
    await panel.locator('svg text').first().waitFor()
    const small = await page.evaluate(() =>
      [...document.querySelectorAll('.is-showing *')]
        .filter((e) => [...e.childNodes].some((n) => n.nodeType === 3 && n.textContent?.trim()))
        .filter((e) => e.getClientRects().length > 0 && !e.closest('.unseen, style'))
        .map((e) => [e.textContent, parseFloat(getComputedStyle(e).fontSize)] as const)
        .filter(([, px]) => px < 24),
    )
    const text = await page.locator('.is-showing').innerText()
    await page.keyboard.press('Escape')
    await panel.waitFor({ state: 'detached' })
    expect(small).toEqual([])
    expect(text).not.toMatch(/Robin|Notes|interval|Tray/)
  })

  test('keeps to its face on the next swing and after a restart of the window', async () => {
    await page.keyboard.press('F6')
    await ledger()
      .getByRole('tab', { name: /This block/, selected: true })
      .waitFor()
    await page.keyboard.press('PageUp')
    await ledger()
      .getByRole('tab', { name: /This block/, selected: true })
      .waitFor()
    await page.reload()
    await ledger()
      .getByRole('tab', { name: /This block/, selected: true })
      .waitFor()
  })

  test('the first face needs no scrolling at 1440 × 900', async () => {
    await launched.app.evaluate(({ BrowserWindow }) =>
      BrowserWindow.getAllWindows()[0]!.setContentSize(1440, 900),
    )
    await page.keyboard.press('F5')
    const swing = (await lessonOf(page)).swings.find((s) => s.views.length > 0)!
    expect(swing).toBeDefined()
    await page.getByRole('row', { name: /^Swing 1$/ }).click()
    await expect
      .poll(() => face().evaluate((element) => element.scrollHeight - element.clientHeight))
      .toBeLessThanOrEqual(0)
  })

  test('two swings beside each other are both in it, with their difference', async () => {
    await page.keyboard.press('k')
    await page.getByRole('dialog').getByRole('button', { name: 'Then and now' }).first().click()
    const table = face().getByRole('region', { name: 'Two swings, their moments' })
    await table.getByRole('row', { name: /Impact/ }).waitFor()
    expect(await face().getByRole('columnheader').count()).toBeGreaterThanOrEqual(3)
  })

  test('is read without fault by axe on each face', async () => {
    for (const key of ['F5', 'F6', 'F7']) {
      await page.keyboard.press(key)
      await face().waitFor()
      const { violations } = await new AxeBuilder({ page }).setLegacyMode(true).include('.ledger').analyze()
      expect(
        violations.filter((v) => v.impact === 'serious' || v.impact === 'critical').map((v) => v.id),
      ).toEqual([])
    }
  })

  test('the window complained of nothing', () => {
    expect(launched.complaints).toEqual([])
  })
})
