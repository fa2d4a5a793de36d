import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { shapes, type ShapeKind } from '../../shared-core/drawing/shapes.ts'
import type { OpenLesson } from '../../shared-core/model/entities.ts'
import { lessonOf, untilLesson } from './library-in-window.ts'
import { codedSize } from './numbered-clip.ts'
import {
  boxOf,
  canvasOf,
  choose,
  closeStage,
  drawingsOf,
  extent,
  launched,
  onPage,
  open,
  openStage,
  page,
  pictureOf,
  untilPainted,
  viewIds,
  waitForFrame,
  paintedNumber,
  widthOf,
} from './stage-window.ts'

/**
 * What the Stage does with two pictures, zoom, and drawing by keys, with real keys, pointer and fingers, checked on what
 * is stored and on what is painted: every frame of these clips carries its own number.
 */
beforeAll(openStage)
afterAll(closeStage)

describe('two swings together', () => {
  /** Two pictures fill their places, cut at the sides; the frame's number is read from the whole picture. */
  const seeWhole = async () => {
    await page.waitForSelector(`${canvasOf('second')}[data-frame]`)
    await page.keyboard.press('0')
    await expect.poll(() => paintedNumber('first')).not.toBeNull()
    await expect.poll(() => paintedNumber('second')).not.toBeNull()
  }

  test('two of one lesson are locked on a moment, and steps move both at real speed', async () => {
    await open(viewIds[0]!)
    await page.keyboard.press('k')
    const dialog = page.getByRole('dialog', { name: 'Compare two swings' })
    await dialog.waitFor()
    await page.getByRole('button', { name: 'Compare', exact: true }).click()
    await seeWhole()
    await untilPainted(180, 100)
    // 240 frames a second beside 120: two steps of the one are one of the other.
    await page.keyboard.press('ArrowRight')
    await page.keyboard.press('ArrowRight')
    await untilPainted(182, 101)
    await page.keyboard.press('Shift+ArrowLeft')
    await untilPainted(172, 96)
    await page.getByRole('button', { name: 'Back to one picture' }).click()
  })

  test('two lessons of the same student, locked or stretched; other students are not offered', async () => {
    await page.keyboard.press('k')
    const second = page.getByRole('group', { name: 'Second' })
    await second.getByRole('button', { name: /Lesson$/ }).click()
    const offered = await page.getByRole('option').allTextContents()
    expect(offered).toHaveLength(2)
    expect(offered.join()).not.toContain('not this one')
    await page.getByRole('option').nth(1).click()
    await page.getByRole('button', { name: 'Compare', exact: true }).click()
    await seeWhole()
    await page.keyboard.press('Alt+5')
    await untilPainted(180, 200)
    await page.keyboard.press('Alt+3')
    await untilPainted(120, 140)
    await page.getByText('all moments together').click()
    await untilPainted(120, 150)
    await page.keyboard.press('Alt+2')
    await untilPainted(60, 50)
    await choose(/Locked on/, 'locked on takeaway')
    await page.getByText('all moments together').click()
    await page.keyboard.press('Alt+3')
    await untilPainted(120, 110)
    await page.getByRole('button', { name: 'Keep', exact: true }).click()
    const lesson = await untilLesson(page, 'a kept comparison', (l) => l.comparisons.length === 1)
    expect(lesson.comparisons[0]).toMatchObject({
      firstViewId: viewIds[0],
      secondViewId: viewIds[2],
      lockedOn: 'takeaway',
      isStretched: false,
    })
    await page.getByRole('textbox', { name: 'Name of the comparison' }).fill('Spring and autumn')
    await untilLesson(page, 'its name', (l) => l.comparisons[0]!.name === 'Spring and autumn')
  })

  test('one over the other: as strong as the coach wants, zoomed and moved as one or the upper alone', async () => {
    await page.getByRole('radio', { name: 'One over the other' }).click()
    await page.waitForSelector('.pictures-over')
    const whole = await widthOf('first')
    await page.getByRole('slider', { name: 'Second over first' }).focus()
    await page.keyboard.press('ArrowLeft')
    expect(await page.locator(canvasOf('second')).evaluate((e) => getComputedStyle(e).opacity)).toBe('0.45')
    const box = await boxOf()
    await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2)
    await page.mouse.wheel(0, 200)
    await expect.poll(() => widthOf('first')).toBeLessThan(whole * 0.8)
    await expect.poll(async () => (await widthOf('second')) - (await widthOf('first'))).toBe(0)
    const before = [await extent('first'), await extent('second')]
    await page.keyboard.down('Shift')
    await page.mouse.down()
    await page.mouse.move(box.x + box.width / 2 + 40, box.y + box.height / 2, { steps: 4 })
    await page.mouse.up()
    await page.keyboard.up('Shift')
    await expect.poll(async () => (await extent('second')).left - before[1]!.left).toBeCloseTo(40, -0.5)
    expect(await extent('first')).toEqual(before[0])
    await page.getByRole('button', { name: 'Keep changes' }).click()
    await untilLesson(page, 'laid over', (l) => l.comparisons[0]!.arrangement === 'over')
    await page.getByRole('button', { name: 'Back to one picture' }).click()
  })

  test('the kept view opens again, also after the lesson was left', async () => {
    await page.keyboard.press('Control+r')
    await page.getByRole('button', { name: /2026 autumn/ }).click()
    await page.getByRole('row', { name: /^Swing 1\b/ }).waitFor()
    await page.keyboard.press('k')
    await page.getByRole('button', { name: 'Spring and autumn', exact: true }).click()
    await page.waitForSelector('.pictures-over')
    await page.waitForSelector(`${canvasOf('second')}[data-frame]`)
    await page.keyboard.press('Alt+5')
    await untilPainted(180, 170)
    await page.getByRole('button', { name: 'Back to one picture' }).click()
  })

  test('the swing of another lesson is looked at here, not marked', async () => {
    await page.keyboard.press('k')
    const first = page.getByRole('group', { name: 'First' })
    await first.getByRole('button', { name: /Lesson$/ }).click()
    await page.getByRole('option').nth(1).click()
    await page.getByRole('button', { name: 'Compare', exact: true }).click()
    await page.waitForSelector(`${canvasOf('second')}[data-frame]`)
    await waitForFrame(200)
    const { revision } = await lessonOf(page)
    await page.keyboard.press('ArrowRight')
    await waitForFrame(201)
    await page.keyboard.press('5')
    await page.getByText('The picture on the Strip is of another lesson').waitFor()
    expect((await lessonOf(page)).revision).toBe(revision)
    await page.getByRole('button', { name: 'Back to one picture' }).click()
  })
})

describe('looking closer', () => {
  test('wheel, trackpad pinch and keys zoom about the place pointed at; keys move and fit', async () => {
    await open(viewIds[0]!)
    const whole = await widthOf('first')
    const at = await onPage(80, 120)
    await page.mouse.move(at.x, at.y)
    await page.mouse.wheel(0, 300)
    await expect.poll(() => widthOf('first')).toBeLessThan(whole * 0.9)
    // The place under the pointer stays under it.
    const { left, right } = await extent('first')
    const box = await boxOf()
    expect(box.x + left + ((right - left) * 80) / codedSize.width).toBeCloseTo(at.x, -0.5)
    await page.keyboard.press('0')
    await expect.poll(() => widthOf('first')).toBe(whole)
    await page.keyboard.down('Control')
    await page.mouse.wheel(0, 40)
    await page.keyboard.up('Control')
    await expect.poll(() => widthOf('first')).toBeLessThan(whole * 0.8)
    await page.keyboard.press('0')
    await page.keyboard.press('-')
    await expect.poll(() => widthOf('first')).toBeCloseTo(whole * 0.8, -0.5)
    const before = await extent('first')
    await page.keyboard.press('Alt+ArrowRight')
    await expect.poll(async () => (await extent('first')).left).toBeCloseTo(before.left - 60, -0.5)
    await page.keyboard.press('0')
    await expect.poll(() => widthOf('first')).toBe(whole)
  })

  test('two fingers zoom and move it, and leave no mark of the first finger', async () => {
    const whole = await widthOf('first')
    const { drawings } = pictureOf(await lessonOf(page), viewIds[0]!)
    await page.getByRole('button', { name: 'Line', exact: true }).click()
    const box = await boxOf()
    const [x, y] = [box.x + box.width / 2, box.y + box.height / 2]
    const fingers = await page.context().newCDPSession(page)
    const touch = (type: 'touchStart' | 'touchMove' | 'touchEnd', apart: number | null, count = 2) =>
      fingers.send('Input.dispatchTouchEvent', {
        type,
        touchPoints:
          apart === null
            ? []
            : [
                { x: x - apart, y, id: 1 },
                { x: x + apart, y, id: 2 },
              ].slice(0, count),
      })
    await touch('touchStart', 120, 1)
    await touch('touchStart', 120)
    for (const apart of [100, 80, 60]) await touch('touchMove', apart)
    await touch('touchEnd', null)
    await expect.poll(() => widthOf('first')).toBeCloseTo(whole / 2, -0.7)
    expect(pictureOf(await lessonOf(page), viewIds[0]!).drawings).toEqual(drawings)
    await page.keyboard.press('Escape')
    await page.keyboard.press('0')
  })
})

describe('drawing by keys alone', () => {
  const status = () => page.locator('.picture-first [role=status]')
  const region = () => page.getByRole('application', { name: 'Drawings on the picture' })

  test('a line is placed with the crosshair, pixel by pixel', async () => {
    await open(viewIds[1]!)
    await page.keyboard.press('Alt+3')
    await waitForFrame(60)
    await page.keyboard.press('l')
    await page.keyboard.press('w')
    // From the middle of the picture, 160 across and 120 down.
    for (let i = 0; i < 3; i++) await page.keyboard.press('ArrowLeft')
    await page.keyboard.press('Shift+ArrowUp')
    expect(await status().textContent()).toBe('157 across, 110 down')
    await page.waitForSelector('.loupe:not([hidden])')
    await page.keyboard.press('Space')
    for (let i = 0; i < 4; i++) await page.keyboard.press('Shift+ArrowRight')
    await page.keyboard.press('ArrowDown')
    await page.keyboard.press('Space')
    const lesson = await untilLesson(page, 'a line', (l) => drawingsOf(l, viewIds[1]!).length === 1)
    const picture = pictureOf(lesson, viewIds[1]!)
    expect(picture.drawings[0]).toMatchObject({
      momentId: picture.moments.find((m) => m.name === 'top')!.id,
      fromFrame: 60,
      shape: { kind: 'line', from: { x: 157, y: 110 }, to: { x: 197, y: 111 } },
    })
    // The arrow keys did not move the picture on.
    await waitForFrame(60)
  })

  test('its points and the whole of it are moved by single pixels, told as they move, undone in one', async () => {
    await page.keyboard.press('Escape')
    await page.keyboard.press('w')
    expect(await status().textContent()).toMatch(/^Line, 1 of 1 on this frame/)
    await expect.poll(() => region().evaluate((e) => e === document.activeElement)).toBe(true)
    await page.keyboard.press('i')
    expect(await status().textContent()).toBe('Start, 157 across, 110 down')
    await page.keyboard.press('i')
    expect(await status().textContent()).toBe('End, 197 across, 111 down')
    await page.keyboard.press('ArrowUp')
    await page.keyboard.press('Shift+ArrowRight')
    expect(await status().textContent()).toBe('207 across, 110 down, 0°')
    const line = (l: OpenLesson) =>
      drawingsOf(l, viewIds[1]!)[0]!.shape as unknown as { from: object; to: object }
    await untilLesson(page, 'the end moved', (l) => JSON.stringify(line(l).to) === '{"x":207,"y":110}')
    await page.keyboard.press('Control+z')
    const undone = await untilLesson(
      page,
      'both steps undone',
      (l) => JSON.stringify(line(l).to) === '{"x":197,"y":111}',
    )
    expect(line(undone).from).toEqual({ x: 157, y: 110 })
    await page.keyboard.press('Shift+I')
    await page.keyboard.press('Shift+I')
    expect(await status().textContent()).toMatch(/^Line/)
    await page.keyboard.press('ArrowDown')
    const moved = await untilLesson(
      page,
      'the whole moved',
      (l) => JSON.stringify(line(l).to) === '{"x":197,"y":112}',
    )
    expect(line(moved).from).toEqual({ x: 157, y: 111 })
    // Let go, the arrows are the picture's again.
    await page.keyboard.press('Escape')
    await page.keyboard.press('ArrowRight')
    await waitForFrame(61)
    await page.keyboard.press('ArrowLeft')
    await waitForFrame(60)
  })

  test('every shape can be drawn without a pointer', async () => {
    for (const kind of Object.keys(shapes) as ShapeKind[]) {
      await page.getByRole('button', { name: shapes[kind].name, exact: true }).focus()
      await page.keyboard.press('Space')
      await page.keyboard.press('w')
      const { placing } = shapes[kind]
      const presses = placing.by === 'clicks' ? (placing.max ?? 3) : 2
      for (let i = 0; i < presses; i++) {
        if (i > 0) {
          for (let k = 0; k < 3; k++) {
            await page.keyboard.press(i === 2 ? 'Shift+ArrowUp' : 'Shift+ArrowRight')
          }
          await page.keyboard.press('Shift+ArrowDown')
        }
        await page.keyboard.press('Space')
      }
      if (placing.by === 'clicks' && placing.max === null) await page.keyboard.press('Enter')
      if (kind === 'ruler') {
        await page.getByRole('dialog').waitFor()
        await page.keyboard.press('Escape')
      }
      await untilLesson(page, `a ${kind}`, (l) =>
        drawingsOf(l, viewIds[1]!).some((d) => d.shape.kind === kind),
      )
      await page.keyboard.press('Escape')
      await waitForFrame(60)
    }
    // W goes round all of them, forward and back.
    const seen = new Set<string>()
    const count = drawingsOf(await lessonOf(page), viewIds[1]!).length
    for (let i = 0; i < count; i++) {
      await page.keyboard.press('w')
      seen.add((await status().textContent())!)
    }
    expect(seen.size).toBe(count)
    await page.keyboard.press('Shift+W')
    expect(await status().textContent()).toContain(`${count - 1} of ${count}`)
    await page.keyboard.press('Escape')
  })

  test('a cue is pinned with the crosshair and moved by keys and by the pointer', async () => {
    await page.keyboard.press('Shift+C')
    await page.keyboard.press('w')
    // The crosshair comes back where it was last.
    const [x, y] = (await status().textContent())!.match(/\d+/g)!.map(Number) as [number, number]
    await page.keyboard.press('Shift+ArrowLeft')
    await page.keyboard.press('Enter')
    await page.getByRole('dialog', { name: 'Add a cue' }).waitFor()
    await page.getByRole('textbox', { name: 'Note', exact: true }).fill('tight here')
    await page.keyboard.press('Enter')
    const cue = (l: OpenLesson) => pictureOf(l, viewIds[1]!).cues.find((c) => c.note === 'tight here')
    await untilLesson(page, 'a pinned cue', (l) => cue(l)?.x === x - 10 && cue(l)?.y === y)
    await page.keyboard.press('Shift+W')
    expect(await status().textContent()).toMatch(/^Cue /)
    await page.keyboard.press('ArrowDown')
    await untilLesson(page, 'moved by a key', (l) => cue(l)?.x === x - 10 && cue(l)?.y === y + 1)
    await page.keyboard.press('Escape')
    const from = await onPage(x - 10, y + 1)
    await page.mouse.move(from.x, from.y)
    await page.mouse.down()
    await page.mouse.move(from.x + 20 * from.scale, from.y - 10 * from.scale, { steps: 5 })
    await page.mouse.up()
    await untilLesson(page, 'moved by the pointer', (l) => cue(l)?.x === x + 10 && cue(l)?.y === y - 9)
  })
})

describe('a drawing once it is there', () => {
  const drawing = (l: OpenLesson, kind: ShapeKind, viewId = viewIds[0]!) =>
    drawingsOf(l, viewId).filter((d) => d.shape.kind === kind)

  test('goes in front of and behind others, and is copied to a chosen swing at the same moment', async () => {
    await open(viewIds[0]!)
    await page.keyboard.press('Alt+2')
    await waitForFrame(60)
    for (const [kind, key, y] of [
      ['line', 'l', 60],
      ['circle', 'o', 150],
    ] as const) {
      await page.keyboard.press(key)
      const [a, b] = [await onPage(80, y), await onPage(120, y)]
      await page.mouse.move(a.x, a.y)
      await page.mouse.down()
      await page.mouse.move(b.x, b.y, { steps: 4 })
      await page.mouse.up()
      await untilLesson(page, kind, (l) => drawing(l, kind).length === 1)
    }
    const order = (l: OpenLesson, kind: ShapeKind) => drawing(l, kind)[0]!.order
    const lesson = await lessonOf(page)
    expect(order(lesson, 'circle')).toBeGreaterThan(order(lesson, 'line'))
    await page.keyboard.press('[')
    await untilLesson(page, 'behind', (l) => order(l, 'circle') < order(l, 'line'))
    await page.keyboard.press(']')
    await untilLesson(page, 'in front', (l) => order(l, 'circle') > order(l, 'line'))
    const before = drawing(await lessonOf(page), 'circle', viewIds[1]!).length
    await page.getByRole('button', { name: 'Copy to another swing' }).click()
    await page.getByRole('menuitem', { name: /^2/ }).click()
    const copied = await untilLesson(
      page,
      'the copy',
      (l) => drawing(l, 'circle', viewIds[1]!).length === before + 1,
    )
    const takeaway = pictureOf(copied, viewIds[1]!).moments.find((m) => m.name === 'takeaway')!
    const copy = drawing(copied, 'circle', viewIds[1]!).find((d) => d.momentId === takeaway.id)!
    expect(copy).toMatchObject({ fromFrame: 20, toFrame: 20, shape: drawing(copied, 'circle')[0]!.shape })
  })
})

describe('playing', () => {
  /** Every frame that was painted, in its order, until `isEnough`. */
  const watched = async (isEnough: (frames: number[]) => boolean): Promise<number[]> => {
    const frames: number[] = []
    const end = Date.now() + 20_000
    await page.evaluate(() => {
      const seen: number[] = ((window as unknown as { seen: number[] }).seen = [])
      const canvas = document.querySelector<HTMLElement>('canvas[data-place="first"]')!
      new MutationObserver(() => seen.push(Number(canvas.dataset['frame']))).observe(canvas, {
        attributes: true,
        attributeFilter: ['data-frame'],
      })
    })
    while (!isEnough(frames) && Date.now() < end) {
      await page.waitForTimeout(100)
      const seen = await page.evaluate(() => (window as unknown as { seen: number[] }).seen)
      frames.splice(0, frames.length, ...seen.filter((f, i) => f !== seen[i - 1]))
    }
    return frames
  }

  test('loops between two moments, forward and in reverse', async () => {
    await open(viewIds[0]!)
    await page.keyboard.press('Alt+3')
    await waitForFrame(120)
    await page.getByRole('button', { name: /^Impact, frame 180/ }).click({ modifiers: ['Shift'] })
    await page.waitForSelector('.strip-loop')
    await choose(/Speed/, '1×')
    for (const [key, by] of [
      ['y', 1],
      ['r', -1],
    ] as const) {
      const turns = (list: number[]) => list.filter((f, i) => i > 0 && (f - list[i - 1]!) * by < 0).length
      await page.keyboard.press(key)
      const frames = await watched((list) => turns(list) >= 2)
      await page.keyboard.press(key)
      expect(turns(frames), `turns of ${key}`).toBeGreaterThanOrEqual(2)
      for (const frame of frames) {
        expect(frame).toBeGreaterThanOrEqual(120)
        expect(frame).toBeLessThanOrEqual(180)
      }
    }
    await page.keyboard.press('q')
    await page.waitForSelector('.strip-loop', { state: 'detached' })
  })
})

describe('the clip on the Stage', () => {
  const choose = async (item: string) => {
    await page.getByRole('button', { name: 'More', exact: true }).click()
    await page.getByRole('menuitem', { name: item }).click()
  }
  const parts = (lesson: OpenLesson, clipId: string) =>
    lesson.swings
      .flatMap((s) => s.views)
      .filter((v) => v.clipId === clipId)
      .map((v) => [v.fromFrame, v.toFrame])
      .sort((a, b) => a[0]! - b[0]!)

  test('is cut where the Stage stands: two swings of one take, undone in one step', async () => {
    await open(viewIds[1]!)
    const before = await lessonOf(page)
    const { clipId, fromFrame, toFrame } = pictureOf(before, viewIds[1]!)
    await page.keyboard.press('Home')
    await waitForFrame(fromFrame)
    await choose('Cut the clip here into two swings')
    await page.getByText('Go to the frame where the second swing begins').waitFor()
    await page.keyboard.press('Shift+ArrowRight')
    await waitForFrame(fromFrame + 10)
    await choose('Cut the clip here into two swings')
    const cut = await untilLesson(page, 'cut in two', (l) => l.swings.length === before.swings.length + 1)
    expect(parts(cut, clipId)).toEqual([
      [fromFrame, fromFrame + 9],
      [fromFrame + 10, toFrame],
    ])
    await page.keyboard.press('Control+z')
    const back = await untilLesson(page, 'undone', (l) => l.swings.length === before.swings.length)
    expect(parts(back, clipId)).toEqual([[fromFrame, toFrame]])
  })

  test('leaves the lesson and comes back with its moments', async () => {
    await open(viewIds[1]!)
    const before = await lessonOf(page)
    const view = pictureOf(before, viewIds[1]!)
    await choose('Take this clip out of the lesson')
    const without = await untilLesson(page, 'taken out', (l) => l.clips.length === before.clips.length - 1)
    expect(parts(without, view.clipId)).toEqual([])
    await page.getByText('The clip left the lesson').waitFor()
    await page.keyboard.press('Control+z')
    const back = await untilLesson(page, 'come back', (l) => l.clips.length === before.clips.length)
    expect(pictureOf(back, viewIds[1]!).moments).toEqual(view.moments)
  })
})

describe('the window', () => {
  test('the window complained of nothing', () => {
    expect(launched.complaints).toEqual([])
  })
})
