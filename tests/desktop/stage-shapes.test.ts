import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { ShapeKind } from '../../shared-core/drawing/shapes.ts'
import type { OpenLesson } from '../../shared-core/model/entities.ts'
import { lessonOf, untilLesson } from './library-in-window.ts'
import { cell, origin } from './numbered-clip.ts'
import {
  boxOf,
  choose,
  closeStage,
  drawingsOf,
  launched,
  onPage,
  open,
  openStage,
  page,
  paintedNumber,
  pictureOf,
  toPicture,
  viewIds,
  waitForFrame,
} from './stage-window.ts'

/**
 * What one picture on the Stage shows and what the Strip under it does, with real keys and pointer, checked on what is
 * stored and on what is painted: every frame of these clips carries its own number.
 */
beforeAll(openStage)
afterAll(closeStage)

describe('looking closer', () => {
  test('mirrored, left is right, and the clip stays as it is', async () => {
    await open(viewIds[0]!)
    await page.keyboard.press('Alt+5')
    await waitForFrame(180)
    expect(await paintedNumber('first')).toBe(180)
    await page.keyboard.press('m')
    await expect.poll(() => paintedNumber('first', true)).toBe(180)
    await page.keyboard.press('m')
    await untilLesson(page, 'as it was', (l) => l.clips.every((c) => !c.isMirrored))
    await expect.poll(() => paintedNumber('first')).toBe(180)
    // Three presses faster than the library answers are three turns.
    for (let i = 0; i < 3; i++) await page.keyboard.press('m')
    await untilLesson(page, 'three turns', (l) => l.clips.some((c) => c.isMirrored))
    await expect.poll(() => paintedNumber('first', true), { timeout: 15_000 }).toBe(180)
    await page.keyboard.press('m')
    await untilLesson(page, 'as it was', (l) => l.clips.every((c) => !c.isMirrored))
    await expect.poll(() => paintedNumber('first'), { timeout: 15_000 }).toBe(180)
  })

  test('while a point is placed the loupe shows the clip’s own pixels around it', async () => {
    await page.getByRole('button', { name: 'Angle', exact: true }).click()
    // An edge between two blocks: the loupe is dark on one side of it and bright on the other.
    const edge = { x: origin.x + 3 * cell, y: origin.y + 1.5 * cell }
    const at = await onPage(edge.x, edge.y)
    await page.mouse.move(at.x - 30, at.y)
    await page.mouse.move(at.x, at.y)
    const look = () =>
      page.evaluate(() => {
        const glass = document.querySelector<HTMLCanvasElement>('.loupe canvas')!
        const middle = glass.width / 2
        const { data } = glass.getContext('2d')!.getImageData(0, Math.round(middle), glass.width, 1)
        const stage = document.querySelector<HTMLCanvasElement>('canvas[data-place="first"]')!
        return {
          hidden: glass.parentElement!.hidden,
          row: Array.from({ length: glass.width }, (_, i) => data[i * 4]!),
          shown: stage.dataset['frame'],
        }
      })
    // The edge is in the middle of the loupe, as exactly as one of the clip's own pixels is wide there.
    const scale = Math.max(3, Math.min(24, Math.round(at.scale * 4)))
    const edgeOf = (row: number[]) => row.findIndex((v, i) => i > 0 && v > 128 !== row[i - 1]! > 128)
    await expect.poll(async () => edgeOf((await look()).row), { timeout: 15_000 }).toBeGreaterThan(0)
    const seen = await look()
    expect(seen.hidden).toBe(false)
    const middle = Math.round(seen.row.length / 2)
    expect(Math.abs(edgeOf(seen.row) - middle)).toBeLessThanOrEqual(scale)
    const bits = [(180 >> 6) & 1, (180 >> 7) & 1]
    expect(seen.row[middle - 3 * scale]! > 128).toBe(bits[0] === 1)
    expect(seen.row[middle + 3 * scale]! > 128).toBe(bits[1] === 1)
    await page.mouse.move(5, 5)
    await page.waitForSelector('.loupe', { state: 'hidden' })
    await page.keyboard.press('Escape')
  })

  test('brightness and contrast change what is seen, are kept, and leave the clip alone', async () => {
    const brightness = async () => {
      const box = await boxOf()
      const png = await page.screenshot({
        clip: { x: box.x + box.width / 2 - 60, y: box.y + box.height / 2 - 60, width: 120, height: 120 },
      })
      return page.evaluate(
        async (bytes) => {
          const bitmap = await createImageBitmap(new Blob([new Uint8Array(bytes)], { type: 'image/png' }))
          const canvas = new OffscreenCanvas(bitmap.width, bitmap.height)
          const context = canvas.getContext('2d')!
          context.drawImage(bitmap, 0, 0)
          const { data } = context.getImageData(0, 0, bitmap.width, bitmap.height)
          let sum = 0
          for (let i = 0; i < data.length; i += 4) sum += data[i]!
          return sum / (data.length / 4)
        },
        [...png],
      )
    }
    await page.keyboard.press('Alt+5')
    const before = await brightness()
    await page.getByRole('button', { name: 'Picture and camera' }).click()
    const dialog = page.getByRole('dialog', { name: 'Picture and camera' })
    await page.getByRole('slider', { name: 'Brightness' }).focus()
    for (let i = 0; i < 8; i++) await page.keyboard.press('ArrowLeft')
    await untilLesson(page, 'darker', (l) =>
      l.clips.some((c) => c.id === pictureOf(l, viewIds[0]!).clipId && Math.abs(c.brightness + 0.4) < 0.001),
    )
    await page.keyboard.press('Escape')
    await dialog.waitFor({ state: 'detached' })
    await expect.poll(brightness, { timeout: 15_000 }).toBeLessThan(before * 0.75)
    expect(await paintedNumber('first')).toBe(180)
    await page.keyboard.press('Control+z')
    await untilLesson(page, 'as it was', (l) => l.clips.every((c) => c.brightness === 0))
    await expect
      .poll(async () => Math.abs((await brightness()) - before), { timeout: 15_000 })
      .toBeLessThan(2)
  })
})

describe('a drawing once it is there', () => {
  const drawing = (l: OpenLesson, kind: ShapeKind, viewId = viewIds[0]!) =>
    drawingsOf(l, viewId).filter((d) => d.shape.kind === kind)

  test('is coloured, widened, put on a range, hidden, found again, and removed', async () => {
    await open(viewIds[0]!)
    await page.keyboard.press('Alt+3')
    await waitForFrame(120)
    await page.keyboard.press('b')
    const [a, b] = [await onPage(40, 40), await onPage(140, 120)]
    await page.mouse.move(a.x, a.y)
    await page.mouse.down()
    await page.mouse.move(b.x, b.y, { steps: 4 })
    await page.mouse.up()
    await untilLesson(page, 'a box', (l) => drawing(l, 'box').length === 1)
    const box = (l: OpenLesson) => drawing(l, 'box')[0]!
    await page.getByRole('button', { name: 'Colour and width' }).click()
    await page.getByRole('group', { name: 'Colour' }).getByRole('button').nth(3).click()
    const coloured = await untilLesson(page, 'a colour', (l) => {
      const { tone } = box(l).shape['style'] as { tone: string }
      return tone !== 'apricot'
    })
    await page.getByRole('slider', { name: /Width/ }).focus()
    await page.keyboard.press('ArrowRight')
    await untilLesson(page, 'wider', (l) => (box(l).shape['style'] as { widthPx: number }).widthPx === 5)
    await page.keyboard.press('Escape')
    expect(box(coloured).momentId).not.toBeNull()
    // From this frame on, then up to ten frames later: it is seen on these and on no other.
    await choose(/Shown on/, 'from this frame on')
    await untilLesson(page, 'off its moment', (l) => box(l).momentId === null && box(l).fromFrame === 120)
    await page.keyboard.press('Shift+ArrowRight')
    await waitForFrame(130)
    await choose(/Shown on/, 'up to this frame')
    await untilLesson(page, 'a range', (l) => box(l).fromFrame === 120 && box(l).toFrame === 130)
    const isSeen = () => page.locator('.picture-first .drawing-layer > :not([hidden])').count()
    await expect.poll(isSeen, { timeout: 15_000 }).toBe(1)
    await page.keyboard.press('ArrowRight')
    await waitForFrame(131)
    await expect.poll(isSeen, { timeout: 15_000 }).toBe(0)
    await page.keyboard.press('h')
    await untilLesson(page, 'hidden', (l) => box(l).isHidden)
    await page.keyboard.press('Escape')
    await page.getByRole('button', { name: 'Drawings of this swing' }).click()
    await page.getByRole('button', { name: /^Show Box/ }).click()
    await untilLesson(page, 'shown again', (l) => !box(l).isHidden)
    await page.getByRole('button', { name: /^Box · frames 120 to 130/ }).click()
    await waitForFrame(120)
    await page.keyboard.press('Escape')
    await page.keyboard.press('Delete')
    await untilLesson(page, 'removed', (l) => drawing(l, 'box').length === 0)
  })

  test('a ruler becomes the scale: a ball of 42.67 mm, and every length is told, with what it rests on', async () => {
    await page.keyboard.press('Alt+2')
    await waitForFrame(60)
    await page.keyboard.press('e')
    const [a, b] = [await onPage(20, 200), await onPage(60, 200)]
    await page.mouse.move(a.x, a.y)
    await page.mouse.down()
    await page.mouse.move(b.x, b.y, { steps: 4 })
    await page.mouse.up()
    const dialog = page.getByRole('dialog', { name: 'What did you measure?' })
    await dialog.getByText('One camera cannot see depth').waitFor()
    await dialog.getByRole('radio', { name: 'Ball' }).click()
    await dialog.getByRole('button', { name: 'Use as the scale' }).click()
    const clipOf = (l: OpenLesson) => l.clips.find((c) => c.id === pictureOf(l, viewIds[0]!).clipId)!
    const scaled = await untilLesson(page, 'a scale', (l) => clipOf(l).pixelsPerMeter !== null)
    const ruler = drawing(scaled, 'ruler')[0]!.shape as unknown as { from: { x: number }; to: { x: number } }
    expect(clipOf(scaled).pixelsPerMeter).toBeCloseTo((ruler.to.x - ruler.from.x) / 0.04267, 3)
    // The scale can be taken again, from this ruler or another.
    await page.getByRole('button', { name: 'Use this ruler as the scale' }).click()
    await dialog.getByRole('radio', { name: 'Shoulder height' }).click()
    await dialog.getByLabel(/Length/).fill('1450')
    await dialog.getByRole('button', { name: 'Use as the scale' }).click()
    await untilLesson(
      page,
      'another scale',
      (l) => Math.abs(clipOf(l).pixelsPerMeter! - (ruler.to.x - ruler.from.x) / 1.45) < 0.01,
    )
  })
})

describe('a camera that was not upright', () => {
  /** Lines on the Stage, by the ink on the layer of drawings: its middle on two rows or columns far apart. */
  const slope = (along: 'down' | 'across') =>
    page.evaluate((way) => {
      const canvas = document.querySelector<HTMLCanvasElement>('.picture-first .drawing-layer canvas')!
      const context = canvas.getContext('2d')!
      const middleAt = (share: number) => {
        const isDown = way === 'down'
        const at = Math.round((isDown ? canvas.height : canvas.width) * share)
        const length = isDown ? canvas.width : canvas.height
        const { data } = isDown
          ? context.getImageData(0, at, length, 1)
          : context.getImageData(at, 0, 1, length)
        let [sum, weight] = [0, 0]
        for (let i = 0; i < length; i++) {
          sum += i * data[i * 4 + 3]!
          weight += data[i * 4 + 3]!
        }
        return { at, middle: sum / weight }
      }
      const [a, b] = way === 'down' ? [middleAt(0.35), middleAt(0.65)] : [middleAt(0.45), middleAt(0.55)]
      return (b.middle - a.middle) / (b.at - a.at)
    }, along)

  test('a plumb line hangs and a level lies as the world does, not as the picture', async () => {
    await open(viewIds[1]!)
    await page.keyboard.press('Alt+5')
    await waitForFrame(100)
    const tilt = async () => {
      await page.getByRole('button', { name: 'Picture and camera' }).click()
      await page.getByRole('slider', { name: 'Tilt of the camera' }).focus()
      // A tenth of the way from −10° to 10°.
      await page.keyboard.press('PageUp')
      await untilLesson(page, 'a tilt of 2°', (l) =>
        l.clips.some((c) => c.id === pictureOf(l, viewIds[1]!).clipId && Math.abs(c.tiltDeg - 2) < 0.001),
      )
      await page.keyboard.press('Escape')
      await page.getByRole('dialog', { name: 'Picture and camera' }).waitFor({ state: 'detached' })
    }
    for (const [key, kind, along, from, to] of [
      ['p', 'plumb', 'down', [160, 20], [160, 220]],
      ['v', 'level', 'across', [40, 120], [280, 120]],
    ] as const) {
      await page.keyboard.press(key)
      const [a, b] = [await onPage(from[0], from[1]), await onPage(to[0], to[1])]
      await page.mouse.move(a.x, a.y)
      await page.mouse.down()
      await page.mouse.move(b.x, b.y, { steps: 4 })
      await page.mouse.up()
      await untilLesson(page, kind, (l) => drawingsOf(l, viewIds[1]!).length === 1)
      await page.keyboard.press('Escape')
      await expect.poll(() => slope(along), { timeout: 15_000 }).toBeCloseTo(0, 2)
      await tilt()
      // Rolled clockwise by 2°, the camera shows the world turned the other way by as much.
      const turned = Math.tan((2 * Math.PI) / 180) * (along === 'down' ? 1 : -1)
      await expect.poll(() => slope(along), { timeout: 15_000 }).toBeCloseTo(turned, 2)
      await page.keyboard.press('Control+z')
      await untilLesson(page, 'upright', (l) => l.clips.every((c) => c.tiltDeg === 0))
      await page.keyboard.press('Control+z')
      await untilLesson(page, 'nothing drawn', (l) => drawingsOf(l, viewIds[1]!).length === 0)
    }
  })
})

describe('time', () => {
  test('a share of real speed is never outrun, and real speed is by the capture rate', async () => {
    await open(viewIds[0]!)
    /** Frames that went by for every second on the clock. */
    const lifeSpeed = async () => {
      await page.keyboard.press('Home')
      await waitForFrame(0)
      await page.keyboard.press('y')
      const at = () =>
        page.evaluate(() => ({
          clock: performance.now(),
          frame: Number(document.querySelector<HTMLElement>('canvas[data-place="first"]')!.dataset['frame']),
        }))
      await page.waitForFunction(
        () => Number(document.querySelector<HTMLElement>('canvas[data-place="first"]')!.dataset['frame']) > 2,
      )
      const a = await at()
      await page.waitForTimeout(1500)
      const b = await at()
      await page.keyboard.press('y')
      return ((b.frame - a.frame) * 1000) / (b.clock - a.clock)
    }
    const shares = [8, 16]
    for (const share of shares) {
      // After the choice, and after a button, keys go to the picture.
      await choose(/Speed/, `1/${share}×`)
      const framesASecond = await lifeSpeed()
      // A busy machine may fall behind, the clock waits for pictures; it never runs ahead by more than a frame or two.
      expect(framesASecond, `1/${share}`).toBeLessThan(240 / share + 2)
      expect(framesASecond, `1/${share}`).toBeGreaterThan(0)
    }
    // Said to have been filmed at half the rate, the same frames last twice as long.
    const untilTold = async (frame: number, words: string) => {
      await page.keyboard.press('Alt+3')
      await waitForFrame(frame)
      await page.locator('.stage-ms', { hasText: words }).waitFor()
    }
    await untilTold(120, '−250 ms')
    await page.getByRole('button', { name: 'Picture and camera' }).click()
    await page.getByLabel('Filmed at, frames a second').fill('120')
    await page.keyboard.press('Enter')
    await untilLesson(page, 'another rate', (l) =>
      l.clips.some((c) => c.captureRate === 120 && c.captureRateHow === 'coach' && c.frameCount === 300),
    )
    await page.keyboard.press('Escape')
    await page.getByRole('dialog', { name: 'Picture and camera' }).waitFor({ state: 'detached' })
    await untilTold(120, '−500 ms')
    await page.getByRole('button', { name: /^Top, frame 120, −500 ms from impact/ }).waitFor()
    expect(await lifeSpeed()).toBeLessThan(120 / 16 + 2)
    await page.keyboard.press('Control+z')
    await page.getByRole('button', { name: /^Top, frame 120, −250 ms from impact/ }).waitFor()
  })
})

describe('the Strip', () => {
  const found = (l: OpenLesson) => l.swings.flatMap((s) => s.views).find((v) => !viewIds.includes(v.id))!

  test('what was found looks unlike what was confirmed, says how sure it is, and one key goes through it', async () => {
    const view = found(await lessonOf(page))
    await open(view.id)
    const waiting = view.moments.filter((m) => !m.isConfirmed)
    expect(waiting.length).toBeGreaterThan(1)
    const flags = page.locator('.flag')
    await expect.poll(() => page.locator('.flag.is-unconfirmed').count()).toBe(waiting.length)
    const first = waiting[0]!
    const sure = `${Math.round(first.confidence * 100)} % sure, not confirmed`
    await page.getByRole('button', { name: new RegExp(`^${first.name} ${sure}`, 'i') }).click()
    await waitForFrame(first.frame)
    const look = () => flags.first().evaluate((e) => getComputedStyle(e).borderTopStyle)
    expect(await look()).toBe('dashed')
    await page.keyboard.press('Enter')
    await waitForFrame(waiting[1]!.frame)
    await untilLesson(page, 'confirmed', (l) => found(l).moments.find((m) => m.id === first.id)!.isConfirmed)
    await expect.poll(look, { timeout: 15_000 }).toBe('solid')
    // The sound is drawn: the wave is not empty.
    const inked = await page.locator('.strip-wave canvas').evaluate((e) => {
      const canvas = e as HTMLCanvasElement
      const { data } = canvas.getContext('2d')!.getImageData(0, 0, canvas.width, canvas.height)
      return data.filter((value, i) => i % 4 === 3 && value > 0).length
    })
    expect(inked).toBeGreaterThan(100)
  })

  test('a flag held by its name is dragged by exact frames; a key puts a moment at the playhead', async () => {
    await open(viewIds[0]!)
    const strip = (await page.getByRole('slider', { name: 'Time' }).boundingBox())!
    const perFrame = strip.width / 299
    const topFlag = page.getByRole('button', { name: /^Top, frame 120/ })
    const hold = { x: 0, y: 0 }
    // Where the flag comes to rest, and only once nothing lies over it.
    await expect
      .poll(
        async () => {
          const before = { ...hold }
          const { x, y, width, height } = (await topFlag.boundingBox())!
          Object.assign(hold, { x: x + width - 6, y: y + height / 2 })
          const isOnTop = await topFlag.evaluate(
            (e, at) => e.contains(document.elementFromPoint(at.x, at.y)),
            hold,
          )
          return isOnTop && before.x === hold.x && before.y === hold.y
        },
        { timeout: 15_000, interval: 200 },
      )
      .toBe(true)
    await page.mouse.move(hold.x, hold.y)
    await page.mouse.down()
    await page.mouse.move(hold.x + perFrame * 7, hold.y, { steps: 5 })
    await page.mouse.up()
    const top = (l: OpenLesson) => pictureOf(l, viewIds[0]!).moments.find((m) => m.name === 'top')!
    await untilLesson(page, 'the top moved', (l) => top(l).frame === 127)
    await toPicture()
    await page.keyboard.press('Control+z')
    await untilLesson(page, 'the top back', (l) => top(l).frame === 120)
    await page.keyboard.press('Home')
    await waitForFrame(0)
    await page.keyboard.press('Shift+ArrowRight')
    await waitForFrame(10)
    await page.keyboard.press('1')
    await untilLesson(page, 'a setup', (l) =>
      pictureOf(l, viewIds[0]!).moments.some((m) => m.name === 'setup' && m.frame === 10 && m.isConfirmed),
    )
    await page.getByRole('button', { name: /^Takeaway, frame 60.*1 drawing/ }).waitFor()
  })

  test('after a button of the bar was pressed with the pointer, arrows still step the picture', async () => {
    await page.keyboard.press('Alt+3')
    await waitForFrame(120)
    await page.getByRole('button', { name: 'One frame on' }).click()
    await waitForFrame(121)
    await page.keyboard.press('ArrowRight')
    await waitForFrame(122)
  })

  test('zoomed, a place is a frame, and what is written under it is the time there', async () => {
    const slider = page.getByRole('slider', { name: 'Time' })
    const box = (await slider.boundingBox())!
    await page.mouse.move(box.x + box.width / 2, box.y + 10)
    for (let i = 0; i < 6; i++) await page.mouse.wheel(0, -600)
    await page.getByText(/The Strip shows frames/).waitFor({ state: 'attached' })
    const [from, to] = (await page.getByText(/The Strip shows frames/).textContent())!
      .match(/\d+/g)!
      .map(Number) as [number, number]
    expect(to - from).toBeLessThanOrEqual(40)
    for (const share of [0.25, 0.8]) {
      await page.mouse.click(box.x + box.width * share, box.y + 20)
      const frame = Math.round(from + share * (to - from))
      await waitForFrame(frame)
      expect(await paintedNumber('first')).toBe(frame)
    }
    await page.mouse.dblclick(box.x + box.width / 2, box.y + 20)
  })

  test('the window complained of nothing', () => {
    expect(launched.complaints).toEqual([])
  })
})
