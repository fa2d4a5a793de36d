import fs from 'node:fs'
import path from 'node:path'
import { AxeBuilder } from '@axe-core/playwright'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { shapes, type ShapeKind } from '../../shared-core/drawing/shapes.ts'
import type { OpenLesson } from '../../shared-core/model/entities.ts'
import { temporaryFolder } from '../library/support/temporary-library.ts'
import { atRest } from './at-rest.ts'
import { launchApp, type LaunchedApp } from './launch.ts'
import { lessonOf, untilLesson } from './library-in-window.ts'

/** A coach's session from the empty Roster on, in the order a coach does it; each step goes on from the one before. */
const demo = path.resolve(import.meta.dirname, '../../demo-media')
const clips = ['swing-01.mp4', 'swing-02.mp4', 'swing-04.mp4'].map((name) => path.join(demo, name))

let folder: string
let launched: LaunchedApp
let page: Page

const start = async () => {
  launched = await launchApp({ library: path.join(folder, 'library') })
  page = launched.page
}

/** The next file dialog gives these files. */
const nextFiles = (files: string[]) =>
  launched.app.evaluate(({ dialog }, filePaths) => {
    dialog.showOpenDialog = async () => ({ canceled: false, filePaths })
  }, files)

const drawingsIn = (lesson: OpenLesson) => lesson.swings.flatMap((s) => s.views.flatMap((v) => v.drawings))

/** Axe finds nothing serious on the screen as it stands. */
const expectAccessible = async (screen: string) => {
  const { violations } = await new AxeBuilder({ page }).setLegacyMode(true).analyze()
  const serious = violations.filter((v) => v.impact === 'serious' || v.impact === 'critical')
  expect(
    serious.map((v) => `${screen}: ${v.id} at ${v.nodes.map((n) => n.target.join(' ')).join(', ')}`),
  ).toEqual([])
}

beforeAll(async () => {
  folder = temporaryFolder()
  await start()
})

afterAll(async () => {
  await launched?.close()
  fs.rmSync(folder, { recursive: true, force: true })
})

describe('a session at the Desk', () => {
  test('an empty Roster says what to do, and a student with a lesson is two dialogs away', async () => {
    await page.getByRole('button', { name: 'Open the demo lesson' }).waitFor()
    await expectAccessible('empty Roster')
    await page.getByRole('button', { name: 'Add a student' }).click()
    await page.getByLabel('Name').fill('Ilse Varga')
    await expectAccessible('new student')
    await page.getByRole('button', { name: 'Add the student' }).click()
    await page.getByLabel(/What it is about/).fill('first look')
    await page.getByRole('button', { name: 'Open the Desk' }).click()
    await page.getByRole('heading', { name: 'No swings yet' }).waitFor()
    await expectAccessible('empty Desk')
  })

  test('clips are taken in with their progress shown, and come up as swings with their impact found', async () => {
    await nextFiles(clips)
    await page.getByRole('button', { name: 'Add clips…' }).click()
    await page.getByRole('region', { name: 'Work under way' }).waitFor()
    const lesson = await untilLesson(page, 'three clips', (l) => l.clips.length === 3, 180)
    await page.getByRole('row', { name: /^Swing 3/ }).waitFor()
    expect(lesson.swings).toHaveLength(3)
    for (const swing of lesson.swings) {
      expect(swing.views[0]!.moments.map((m) => m.name)).toContain('impact')
    }
  })

  test('shot records are read, what is not certain is asked, and the shots are paired', async () => {
    await nextFiles([path.join(demo, 'shots-device.csv')])
    await page.getByRole('button', { name: 'Add shot records', exact: true }).click()
    const question = page.getByRole('button', { name: 'Add the shots' })
    await question.waitFor({ timeout: 4000 }).then(
      async () => {
        await expectAccessible('columns of a file')
        await question.click()
      },
      () => {},
    )
    const lesson = await untilLesson(page, 'shots', (l) => l.shots.length > 10)
    expect(lesson.swings.filter((s) => s.shotId && s.views.length > 0).length).toBeGreaterThan(0)
  })

  test('the first swing opens on its impact; Enter confirms moment after moment', async () => {
    await page.getByRole('row', { name: /^Swing 1\b/ }).click()
    await page.waitForSelector('canvas[data-frame]')
    const before = await lessonOf(page)
    const open = (l: OpenLesson) =>
      l.swings.flatMap((s) => s.views.flatMap((v) => v.moments)).filter((m) => !m.isConfirmed).length
    const waiting = open(before)
    expect(waiting).toBeGreaterThan(0)
    for (const confirmed of [1, 2]) {
      await page.keyboard.press('Enter')
      await untilLesson(page, `${confirmed} confirmed`, (l) => open(l) <= waiting - confirmed)
    }
    await expectAccessible('Desk')
  })

  test('a key places a moment at the playhead, and the flag moves by single frames', async () => {
    await page.keyboard.press('Home')
    await page.waitForSelector('canvas[data-frame="0"]')
    await page.keyboard.press('Shift+ArrowRight')
    await page.waitForSelector('canvas[data-frame="10"]')
    await page.keyboard.press('1')
    const setupFrame = (l: OpenLesson) =>
      l.swings
        .flatMap((s) => s.views.flatMap((v) => v.moments))
        .filter((m) => m.name === 'setup' && m.frame < 20)
    await untilLesson(page, 'setup at 10', (l) => setupFrame(l).some((m) => m.frame === 10))
    await page.getByRole('button', { name: /^Setup, frame 10/ }).focus()
    await page.keyboard.press('ArrowRight')
    await untilLesson(page, 'setup at 11', (l) =>
      setupFrame(l).some((m) => m.frame === 11 && m.how === 'coach'),
    )
  })

  test('every shape can be drawn', async () => {
    const picture = (await page.locator('.picture-first').boundingBox())!
    const at = (x: number, y: number) => ({
      x: picture.x + picture.width * x,
      y: picture.y + picture.height * y,
    })
    let row = 0
    for (const [kind, definition] of Object.entries(shapes)) {
      await page.getByRole('button', { name: definition.name, exact: true }).click()
      const y = 0.32 + 0.03 * row++
      const points = [at(0.3, y), at(0.5, y + 0.05), at(0.65, y), at(0.4, y + 0.08)]
      if (definition.placing.by === 'clicks') {
        const max = definition.placing.max ?? Math.max(definition.placing.min, 3)
        for (const p of points.slice(0, max)) await page.mouse.click(p.x, p.y)
        if (definition.placing.max === null) await page.keyboard.press('Enter')
      } else {
        await page.mouse.move(points[0]!.x, points[0]!.y)
        await page.mouse.down()
        await page.mouse.move(points[1]!.x, points[1]!.y, { steps: 6 })
        await page.mouse.up()
      }
      if ((kind as ShapeKind) === 'ruler') {
        await page.getByRole('button', { name: 'Use as the scale' }).click()
      }
      await untilLesson(page, `a ${kind}`, (l) => drawingsIn(l).some((d) => d.shape.kind === kind))
    }
    const lesson = await lessonOf(page)
    expect(drawingsIn(lesson).map((d) => d.shape.kind)).toEqual(expect.arrayContaining(Object.keys(shapes)))
    expect(lesson.clips.some((c) => c.pixelsPerMeter !== null)).toBe(true)
    await expectAccessible('Desk with drawings')
  })

  test('a drawing is moved by dragging and goes back with undo', async () => {
    const before = drawingsIn(await lessonOf(page)).find((d) => d.shape.kind === 'line')!
    await page.keyboard.press('Escape')
    const picture = (await page.locator('.picture-first').boundingBox())!
    const from = { x: picture.x + picture.width * 0.34, y: picture.y + picture.height * 0.33 }
    await page.mouse.move(from.x, from.y)
    await page.mouse.down()
    await page.mouse.move(from.x - 60, from.y + 12, { steps: 5 })
    await page.mouse.up()
    const same = (a: unknown, b: unknown) => JSON.stringify(a) === JSON.stringify(b)
    await untilLesson(page, 'a drawing moved', (l) =>
      drawingsIn(l).some((d) => d.id === before.id && !same(d.shape, before.shape)),
    )
    await page.keyboard.press('Control+z')
    await untilLesson(page, 'the drawing back', (l) =>
      drawingsIn(l).some((d) => d.id === before.id && same(d.shape, before.shape)),
    )
  })

  test('a cue is added by keys alone', async () => {
    await page.keyboard.press('Alt+5')
    await atRest(page)
    await page.keyboard.press('c')
    await page.getByRole('dialog', { name: 'Add a cue' }).waitFor()
    await expectAccessible('cue dialog')
    await page.getByRole('textbox', { name: 'Note', exact: true }).fill('lets go late')
    await page.keyboard.press('Enter')
    await untilLesson(page, 'a cue', (l) =>
      l.swings.some((s) => s.views.some((v) => v.cues.some((c) => c.note === 'lets go late'))),
    )
  })

  test('a pair is parted and made again by hand', async () => {
    const paired = (await lessonOf(page)).swings.find((s) => s.shotId && s.views.length > 0)!
    await page.getByRole('button', { name: 'Part the clip from this shot' }).click()
    await untilLesson(page, 'parted', (l) => l.swings.some((s) => s.id === paired.id && s.shotId === null))
    await page.getByRole('button', { name: /Shots without a clip/ }).click()
    await page.getByRole('option').nth(1).click()
    await untilLesson(page, 'paired by hand', (l) =>
      l.swings.some((s) => s.views.length > 0 && s.pairHow === 'coach' && s.shotId !== null),
    )
  })

  test('notes are saved as they are typed', async () => {
    await page.getByRole('textbox', { name: 'Notes on this swing' }).fill('softer hands')
    await untilLesson(page, 'the note', (l) => l.swings.some((s) => s.note === 'softer hands'))
  })

  test('a block begins at a swing and gets a name', async () => {
    await page.getByRole('row', { name: /^Swing 2\b/ }).click()
    await page.keyboard.press('d')
    const lesson = await untilLesson(page, 'two blocks', (l) => l.blocks.length === 2)
    await page
      .getByRole('button', { name: /^Edit / })
      .nth(1)
      .click()
    await page.getByRole('dialog').getByRole('textbox', { name: 'Name' }).fill('Soft shoulders')
    await untilLesson(page, 'a named block', (l) => l.blocks.some((b) => b.name === 'Soft shoulders'))
    await page.keyboard.press('Escape')
    expect(lesson.blocks.filter((b) => b.isBaseline)).toHaveLength(1)
  })

  test('two swings stand side by side, step together, and the view is kept', async () => {
    await page.keyboard.press('k')
    await page.getByRole('button', { name: 'Compare', exact: true }).click()
    await page.waitForSelector('canvas[data-place="second"][data-frame]')
    await page.waitForSelector('canvas[data-place="first"][data-frame]')
    const frames = () =>
      page.evaluate(() =>
        ['first', 'second'].map((place) =>
          Number(document.querySelector<HTMLElement>(`canvas[data-place="${place}"]`)!.dataset['frame']),
        ),
      )
    await atRest(page)
    const before = await frames()
    for (let i = 0; i < 3; i++) {
      await page.keyboard.press('ArrowRight')
      await atRest(page)
    }
    const after = await frames()
    expect(after[0]).toBe(before[0]! + 3)
    expect(after[1]).toBeGreaterThan(before[1]!)
    await expectAccessible('comparison')
    await page.getByRole('button', { name: 'Keep', exact: true }).click()
    await untilLesson(page, 'a kept comparison', (l) => l.comparisons.length === 1)
    await page.getByRole('button', { name: 'Back to one picture' }).click()
  })

  test('the sheet of keys, the settings and the student’s card are free of serious faults', async () => {
    await page.keyboard.press('?')
    await page.getByRole('dialog', { name: 'Keys' }).waitFor()
    await expectAccessible('keys')
    await page.keyboard.press('Escape')
    await page.keyboard.press('Control+,')
    await page.getByRole('dialog', { name: 'Settings' }).waitFor()
    await expectAccessible('settings, light')
    await page.getByRole('radio', { name: 'Dark' }).click()
    await page.waitForSelector('html[data-theme="dark"]')
    // Colours take a moment to change over; what is measured is where they end.
    await atRest(page)
    await expectAccessible('settings, dark')
    await page.keyboard.press('Escape')
    await page.getByRole('dialog').waitFor({ state: 'detached' })
    await expectAccessible('Desk, dark')
  })

  test('units change everywhere at once', async () => {
    await page.getByRole('button', { name: /Units/ }).click()
    await page.getByRole('option', { name: 'm/s · m' }).click()
    await untilLesson(page, 'other units', (l) => l.student.units === 'mps-m')
    await page.locator('.numbers').getByText('m/s').first().waitFor()
  })

  test('undo goes back through the whole lesson, redo forward again, and both outlive a restart', async () => {
    const full = await lessonOf(page)
    let undone = 0
    for (; undone < 6; undone++) {
      const { undoLabel, revision } = await lessonOf(page)
      expect(undoLabel).not.toBeNull()
      await page.keyboard.press('Control+z')
      await untilLesson(page, 'undone', (l) => l.revision !== revision)
    }
    await launched.close()
    await start()
    await page.getByRole('button', { name: /2\d{3} first look/ }).click()
    await page.getByRole('row', { name: /^Swing 1\b/ }).waitFor()
    for (let i = 0; i < undone; i++) {
      const { redoLabel, revision } = await lessonOf(page)
      expect(redoLabel).not.toBeNull()
      await page.keyboard.press('Control+Shift+z')
      await untilLesson(page, 'done again', (l) => l.revision !== revision)
    }
    const again = await lessonOf(page)
    const { revision: _a, undoLabel: _b, redoLabel: _c, ...fullContent } = full
    const { revision: _d, undoLabel: _e, redoLabel: _f, ...againContent } = again
    expect(againContent).toEqual(fullContent)
  })

  test('the window complained of nothing', () => {
    expect(launched.complaints).toEqual([])
  })
})
