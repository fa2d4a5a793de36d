import { describe, expect, it } from 'vitest'
import { renderScene, type PaintedScene } from '../../../electron/library/scene/raster.ts'
import { paintedFrame } from '../../../electron/library/scene/still.ts'
import type { Shape } from '../../../shared-core/drawing/shapes.ts'
import { tones } from '../../../shared-core/drawing/tones.ts'
import type { Point } from '../../../shared-core/geometry/point.ts'
import { buildScene } from '../../../shared-core/scene/scene.ts'
import { textWidth } from '../../../shared-core/scene/text-width.ts'
import { drawingOf, everyDrawing, everyShape, frameSize, someCues, testPicture } from './every-shape.ts'

const paint = (shape: Shape, options = {}) =>
  renderScene(
    buildScene({ frameSize, drawings: [drawingOf({ ...shape, label: '' })], cues: [], frame: 0, options }),
    { frameSize },
  )
const reader = (painted: PaintedScene) => {
  const rgba = painted.rgba()
  return ({ x, y }: Point) => [
    ...rgba.subarray((Math.floor(y) * painted.width + Math.floor(x)) * 4).subarray(0, 4),
  ]
}
const bytesOf = (hex: string) => [1, 3, 5].map((i) => Number.parseInt(hex.slice(i, i + 2), 16)).concat(255)
const painted = (rgba: Uint8Array): number => {
  let count = 0
  for (let i = 3; i < rgba.length; i += 4) if (rgba[i]! > 0) count++
  return count
}

/** For each shape a point on it and a point off it. */
const places: { readonly [K in Exclude<Shape['kind'], 'text' | 'cover'>]: [on: Point, off: Point] } = {
  line: [
    { x: 140, y: 140 },
    { x: 140, y: 180 },
  ],
  arrow: [
    { x: 370, y: 150 },
    { x: 370, y: 190 },
  ],
  curve: [
    { x: 580, y: 90 },
    { x: 610, y: 180 },
  ],
  angle: [
    { x: 800, y: 140 },
    { x: 780, y: 140 },
  ],
  circle: [
    { x: 1190, y: 150 },
    { x: 1120, y: 150 },
  ],
  box: [
    { x: 140 + 50 * Math.sin(Math.PI / 12), y: 360 - 50 * Math.cos(Math.PI / 12) },
    { x: 140, y: 360 },
  ],
  freehand: [
    { x: 280, y: 350 },
    { x: 305, y: 350 },
  ],
  plumb: [
    { x: 860, y: 390 },
    { x: 880, y: 390 },
  ],
  level: [
    { x: 930, y: 420 },
    { x: 930, y: 440 },
  ],
  ruler: [
    { x: 120, y: 560 },
    { x: 120, y: 590 },
  ],
}

describe('a painted shape', () => {
  it.each(Object.keys(places) as (keyof typeof places)[])(
    '%s has its tone where it lies and nothing beside it',
    (kind) => {
      const at = reader(paint(everyShape[kind]))
      const [on, off] = places[kind]
      expect(at(on)).toEqual(bytesOf(tones[everyShape[kind].style.tone].hex))
      expect(at(off)[3]).toBe(0)
    },
  )

  it('plumb leans with the camera’s tilt', () => {
    // 120 px at 10°: the end lies 120 sin 10° = 20.8 px to the right, 120 cos 10° = 118.2 px down.
    const at = reader(paint(everyShape.plumb, { tiltDeg: 10 }))
    expect(at({ x: 880.8, y: 448.2 })).toEqual(bytesOf(tones.lagoon.hex))
    expect(at({ x: 860, y: 448 })[3]).toBe(0)
  })

  it('text can be read: light letters inside the plate', () => {
    const { at, sizePx } = everyShape.text
    const rgba = paint(everyShape.text).rgba()
    let light = 0
    for (let y = Math.floor(at.y); y < at.y + sizePx * 3; y++) {
      for (let x = Math.floor(at.x) + 8; x < at.x + 240; x++) {
        if (rgba[(y * frameSize.width + x) * 4]! > 200) light++
      }
    }
    expect(light).toBeGreaterThan(1000)
    expect(light).toBeLessThan(240 * sizePx * 3 * 0.5)
  })

  it('dashed has gaps that the solid one has not', () => {
    const dashed = { ...everyShape.ruler, style: { ...everyShape.ruler.style, isDashed: true } }
    const alphas = (shape: Shape) => {
      const at = reader(paint({ ...shape, kind: 'line' } as Shape))
      return Array.from({ length: 280 }, (_, i) => at({ x: 90 + i, y: 560 })[3]!)
    }
    expect(Math.min(...alphas(everyShape.ruler))).toBe(255)
    expect(Math.min(...alphas(dashed))).toBe(0)
    expect(Math.max(...alphas(dashed))).toBe(255)
  })
})

describe('a painted scene', () => {
  const scene = buildScene({ frameSize, drawings: everyDrawing, cues: someCues, frame: 5 })

  it('is the same every time', () => {
    expect(
      Buffer.compare(renderScene(scene, { frameSize }).png(), renderScene(scene, { frameSize }).png()),
    ).toBe(0)
  })

  it('is scaled to the wanted size', () => {
    const small = renderScene(scene, { frameSize, size: { width: 640, height: 360 } })
    expect([small.width, small.height]).toEqual([640, 360])
    expect(reader(small)({ x: 560, y: 75 })[3]).toBe(0)
    expect(reader(small)({ x: 400, y: 70 })).toEqual(bytesOf(tones.orchid.hex))
    const share = painted(small.rgba()) / painted(renderScene(scene, { frameSize }).rgba())
    expect(share).toBeGreaterThan(0.23)
    expect(share).toBeLessThan(0.28)
  })

  it('is transparent where nothing is drawn, and shows the picture beneath', () => {
    expect(painted(renderScene([], { frameSize }).rgba())).toBe(0)
    const background = testPicture()
    expect(renderScene([], { frameSize, background }).rgba()).toEqual(background.rgba)
  })

  it('encodes as PNG and JPEG', () => {
    const result = renderScene(scene, { frameSize, background: testPicture() })
    expect(result.png().subarray(1, 4).toString('latin1')).toBe('PNG')
    expect([...result.jpeg().subarray(0, 3)]).toEqual([0xff, 0xd8, 0xff])
  })

  it('hides what lies under a cover and leaves the rest', () => {
    const background = testPicture()
    const drawings = [drawingOf(everyShape.cover)]
    const at = reader(paintedFrame(background, { drawings, cues: [], frame: 5 }))
    const spread = (x: number, y: number) => Math.abs(at({ x, y })[0]! - at({ x: x + 4, y })[0]!)
    expect(spread(1160, 375)).toBeLessThanOrEqual(2)
    expect(spread(1000, 375)).toBe(36)
    // The picture that was handed in is not changed.
    expect(background.rgba).toEqual(testPicture().rgba)
  })
})

describe('the table of character widths', () => {
  it('agrees with the font file', async () => {
    renderScene([], { frameSize }) // registers the font
    const { createCanvas } = await import('@napi-rs/canvas')
    const context = createCanvas(10, 10).getContext('2d')
    context.font = '600 100px "Source Sans 3"'
    for (const text of [
      'Lead side slides past',
      'Tension: jaw and face',
      '42.67 mm',
      '37° ± 1°',
      'Größe, café – “à”',
    ]) {
      // Kerning is not in the table: a hundredth at most.
      expect(textWidth(text, 100) / context.measureText(text).width).toBeCloseTo(1, 1)
      expect(Math.abs(textWidth(text, 100) / context.measureText(text).width - 1)).toBeLessThan(0.02)
    }
  })
})
