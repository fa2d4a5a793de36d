import fs from 'node:fs'
import path from 'node:path'
import type { Locator, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { swingsInOrder } from '../../renderer/store/desk-store.ts'
import type { OpenLesson, Swing } from '../../shared-core/model/entities.ts'
import { temporaryFolder } from '../library/support/temporary-library.ts'
import { atRest } from './at-rest.ts'
import { launchApp, type LaunchedApp } from './launch.ts'
import { lessonOf, untilLesson } from './library-in-window.ts'
import { blockNames, libraryWithManySwings, shotCount } from './many-swings.ts'

/** The Tray of a lesson with 300 shots and two clips; each test leaves the lesson as it found it, or says so. */
let folder: string
let launched: LaunchedApp
let page: Page
const swingCount = shotCount + 2

const tray = () => page.getByRole('complementary', { name: 'Tray' })
const list = () => page.getByRole('grid', { name: 'Swings' })
const swingRow = (number: number) => page.getByRole('row', { name: new RegExp(`^Swing ${number}$`) })
const selected = (count: number) => tray().getByText(`${count} selected`, { exact: true })
const rowsInPage = () => list().getByRole('row').count()

/** Scrolls the Tray until the row is there. */
const reach = async (number: number): Promise<Locator> => {
  const row = swingRow(number)
  // A row is 64 px high; the heads of the blocks above it push it down by less than a row each.
  for (const past of [2, 1, 4]) {
    await list().evaluate((element, top) => (element.scrollTop = top), (number - past) * 64)
    const isThere = await row.waitFor({ timeout: 4000 }).then(
      () => true,
      () => false,
    )
    if (isThere) break
  }
  await row.scrollIntoViewIfNeeded()
  // A list that is still scrolling takes no click, for a person neither.
  const yOf = async () => (await row.boundingBox())?.y
  await expect
    .poll(
      async () => {
        const before = await yOf()
        await page.waitForTimeout(150)
        const events = await row.evaluate((e) => getComputedStyle(e).pointerEvents)
        return events !== 'none' && before === (await yOf())
      },
      { timeout: 10_000 },
    )
    .toBe(true)
  return row
}
const click = async (number: number, modifiers: ('Shift' | 'ControlOrMeta')[] = []) =>
  (await reach(number)).click({ modifiers, position: { x: 100, y: 20 } })

const leaveFilter = async () => {
  const filter = page.getByRole('dialog', { name: 'Filter' })
  // A list that is still closing takes the first Escape.
  await expect
    .poll(async () => {
      await page.keyboard.press('Escape')
      return filter.count()
    })
    .toBe(0)
}

const numberOf = (lesson: OpenLesson, id: string) => swingsInOrder(lesson).findIndex((s) => s.id === id) + 1
const loneClips = (lesson: OpenLesson) =>
  swingsInOrder(lesson).filter((s) => s.views.length > 0 && s.shotId === null)
const undo = async () => {
  const { revision } = await lessonOf(page)
  await page.keyboard.press('Control+z')
  await untilLesson(page, 'undone', (l) => l.revision !== revision)
}

beforeAll(async () => {
  folder = temporaryFolder()
  await libraryWithManySwings(folder)
  launched = await launchApp({ library: path.join(folder, 'library') })
  page = launched.page
  await page
    .getByRole('button', { name: /Long one/ })
    .first()
    .click()
  await swingRow(1).waitFor()
})
afterAll(async () => {
  await launched?.close()
  fs.rmSync(folder, { recursive: true, force: true })
})

describe('the Tray with 300 swings', () => {
  test('holds only the rows in sight, at the beginning, the end and in between', async () => {
    await tray().getByText(String(swingCount), { exact: true }).waitFor()
    for (const number of [1, swingCount, 150]) {
      await reach(number)
      const rows = await rowsInPage()
      expect(rows).toBeGreaterThan(3)
      expect(rows).toBeLessThan(60)
    }
  })

  test('says the columns’ units, and changes them with the student’s', async () => {
    const columns = page.locator('.tray-columns')
    expect((await columns.innerText()).match(/mph/g)).toHaveLength(2)
    await page.getByRole('button', { name: /Units/ }).click()
    await page.getByRole('option', { name: 'km/h · m', exact: true }).click()
    await expect.poll(async () => (await columns.innerText()).match(/km\/h/g)?.length).toBe(2)
    await page.getByRole('button', { name: /Units/ }).click()
    await page.getByRole('option', { name: 'mph · yd' }).click()
    await expect.poll(async () => (await columns.innerText()).match(/mph/g)?.length).toBe(2)
  })

  test('a click far down shows that swing; Shift and a click far up selects all between', async () => {
    await click(300)
    expect(await swingRow(300).getAttribute('aria-selected')).toBe('true')
    await selected(1).waitFor()
    await click(41, ['Shift'])
    await selected(260).waitFor()
    await click(100, ['ControlOrMeta'])
    await selected(259).waitFor()
    expect(await swingRow(100).getAttribute('aria-selected')).toBe('false')
    expect(await rowsInPage()).toBeLessThan(60)
  })

  test('several are chosen by keys, starred at once, removed at once, and come back by undo', async () => {
    await click(290)
    for (let i = 0; i < 4; i++) await page.keyboard.press('Shift+ArrowDown')
    await selected(5).waitFor()
    await page.keyboard.press('s')
    const numbersStarred = (l: OpenLesson) =>
      l.swings.filter((s) => s.isStarred).map((s) => numberOf(l, s.id))
    const starred = await untilLesson(page, 'stars', (l) => numbersStarred(l).length > 0)
    expect(numbersStarred(starred).toSorted()).toEqual([290, 291, 292, 293, 294])
    await page.keyboard.press('Delete')
    const less = await untilLesson(page, 'removed', (l) => l.swings.length === swingCount - 5)
    expect(less.shots).toHaveLength(shotCount - 5)
    await undo()
    await undo()
    const again = await lessonOf(page)
    expect(again.swings).toHaveLength(swingCount)
    expect(numbersStarred(again)).toEqual([])
  })

  test('filters by block, club and cue', async () => {
    const filterBy = async (label: string, option: string, count: number) => {
      await tray()
        .getByRole('button', { name: /^Filter/ })
        .click()
      const filter = page.getByRole('dialog', { name: 'Filter' })
      await filter.getByRole('button', { name: new RegExp(label) }).click()
      await page.getByRole('option', { name: option, exact: true }).click()
      await tray().getByText(`${count} of ${swingCount}`, { exact: true }).waitFor()
      await filter.getByRole('button', { name: 'Show all' }).click()
      await tray().getByText(String(swingCount), { exact: true }).waitFor()
      await leaveFilter()
    }
    const lesson = await lessonOf(page)
    const second = lesson.blocks.find((b) => b.name === blockNames[1])!
    await filterBy('Block', second.name, lesson.swings.filter((s) => s.blockId === second.id).length)
    await filterBy('Club', '7-iron', 100)
    await filterBy('Cue', 'Grip', 1)
  })

  test('what the filter hides is not touched by what is done to the selected', async () => {
    await click(1)
    await click(3, ['Shift'])
    await selected(3).waitFor()
    await tray()
      .getByRole('button', { name: /^Filter/ })
      .click()
    const filter = page.getByRole('dialog', { name: 'Filter' })
    await filter.getByRole('button', { name: /Club/ }).click()
    await page.getByRole('option', { name: '7-iron', exact: true }).click()
    await selected(1).waitFor()
    await leaveFilter()
    await page.keyboard.press('s')
    const starred = (l: OpenLesson) => l.swings.filter((s) => s.isStarred).map((s) => numberOf(l, s.id))
    expect(starred(await untilLesson(page, 'a star', (l) => starred(l).length > 0))).toEqual([3])
    await undo()
    await tray()
      .getByRole('button', { name: /^Filter/ })
      .click()
    await filter.getByRole('button', { name: 'Show all' }).click()
    await leaveFilter()
  })
})

describe('pairing by hand', () => {
  /** The other clip may be fitted anew around it; that is not looked at. */
  const isPaired = (l: OpenLesson, clip: Swing, shotId: string | null) =>
    l.swings.some(
      (s) => s.views[0]?.clipId === clip.views[0]!.clipId && s.shotId === shotId && s.pairHow === 'coach',
    )

  test('a clip is dragged onto its shot', async () => {
    const before = await lessonOf(page)
    const [clip] = loneClips(before)
    const from = numberOf(before, clip!.id)
    const target = swingsInOrder(before).find(
      (s, i) => s.views.length === 0 && s.shotId && Math.abs(i + 1 - from) === 2,
    )!
    await reach(from)
    const [at, onto] = [swingRow(from), swingRow(numberOf(before, target.id))]
    const [start, end] = [(await at.boundingBox())!, (await onto.boundingBox())!]
    await page.mouse.move(start.x + 100, start.y + 30)
    await page.mouse.down()
    await page.mouse.move(start.x + 105, start.y + 20, { steps: 3 })
    await page.mouse.move(end.x + 105, end.y + 32, { steps: 8 })
    await atRest(page)
    await page.mouse.up()
    await untilLesson(page, 'paired', (l) => isPaired(l, clip!, target.shotId))
    await undo()
    expect(loneClips(await lessonOf(page))).toHaveLength(2)
  })

  test('the same by keys: select both, and Z', async () => {
    const before = await lessonOf(page)
    const order = swingsInOrder(before)
    const at = order.findIndex((s, i) => s.views.length > 0 && !s.shotId && order[i - 1]?.views.length === 0)
    await click(at + 1)
    await page.keyboard.press('Shift+ArrowUp')
    await selected(2).waitFor()
    await tray().getByRole('button', { name: 'Make one swing of these two' }).waitFor()
    await page.keyboard.press('z')
    await untilLesson(page, 'paired', (l) => isPaired(l, order[at]!, order[at - 1]!.shotId))
    await undo()
  })
})

describe('blocks', () => {
  const sizes = (l: OpenLesson) =>
    [...l.blocks]
      .sort((a, b) => a.order - b.order)
      .map((b) => l.swings.filter((s) => s.blockId === b.id).length)

  test('the first is the baseline; another can be made it', async () => {
    const before = await lessonOf(page)
    const baseline = (l: OpenLesson) => l.blocks.filter((b) => b.isBaseline).map((b) => b.name)
    expect(baseline(before)).toEqual([blockNames[0]])
    await click(299)
    await page.keyboard.press('F6')
    await page.getByRole('region', { name: 'Block', exact: true }).getByText('baseline: hit as').click()
    await untilLesson(page, 'another baseline', (l) => baseline(l).join() === blockNames[2])
    // The box far down in the Ledger took the focus: the window itself must stay where it is.
    expect(await page.evaluate(() => document.scrollingElement!.scrollTop)).toBe(0)
    await undo()
    expect(baseline(await lessonOf(page))).toEqual([blockNames[0]])
  })

  test('are cut from the middle, cut and joined by keys', async () => {
    const before = sizes(await lessonOf(page))
    await click(20)
    await selected(1).waitFor()
    await click(22, ['Shift'])
    await selected(3).waitFor({ timeout: 5000 })
    await tray().getByRole('button', { name: 'Block of the selected swings' }).click()
    await page.getByRole('menuitem', { name: 'A block of these' }).click()
    const cut = await untilLesson(page, 'cut out', (l) => l.blocks.length === 5)
    expect(sizes(cut)).toEqual([19, 3, before[0]! - 22, before[1], before[2]])
    await undo()
    await click(20)
    await page.keyboard.press('d')
    await untilLesson(
      page,
      'cut',
      (l) => sizes(l).join() === [19, before[0]! - 19, before[1], before[2]].join(),
    )
    await page.keyboard.press('j')
    await untilLesson(page, 'joined', (l) => sizes(l).join() === before.join())
  })

  test('the focus is a cue from the list, or the coach’s own words', async () => {
    await click(1)
    const block = page.getByRole('region', { name: 'Block', exact: true })
    const focusOf = (l: OpenLesson) => [...l.blocks].sort((a, b) => a.order - b.order)[0]!.focus
    await block.getByRole('button', { name: /Cues to choose from/ }).click()
    await page.getByRole('option', { name: 'Tension: shoulders' }).click()
    await untilLesson(page, 'a cue as the focus', (l) => focusOf(l) === 'Tension: shoulders')
    await block.getByRole('combobox', { name: /Focus/ }).fill('half speed')
    await untilLesson(page, 'own words', (l) => focusOf(l) === 'half speed')
  })

  test('cues are counted by block beside its numbers', async () => {
    const lesson = await lessonOf(page)
    const tagged = lesson.swings.find((s) => s.views.some((v) => v.cues.length > 0))!
    const inBlock = lesson.swings.filter((s) => s.blockId === tagged.blockId).length
    await page.getByRole('tab', { name: 'This lesson' }).click()
    const table = page.getByRole('region', { name: 'Cues by block' }).getByRole('table')
    const row = table.getByRole('row', { name: /^Grip/ })
    expect(await row.getByRole('cell').allInnerTexts()).toEqual([`1 of ${inBlock}`, '2.0'])
    await table
      .getByText(/driver, \d+ shots: efficiency 1\.\d\d, club \d+\.\d mph, ball \d+\.\d mph/)
      .first()
      .waitFor()
  })

  test('the window complained of nothing', () => {
    expect(launched.complaints).toEqual([])
  })
})
