import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { mirrorShape } from '../../../shared-core/drawing/copy-shape.ts'
import { scaleFrom } from '../../../shared-core/drawing/ruler.ts'
import { defaultStyle } from '../../../shared-core/drawing/shape-base.ts'
import { plainPicture } from '../../../shared-core/drawing/shape-definition.ts'
import { definitionOf, shapes } from '../../../shared-core/drawing/shapes.ts'
import { angleAt } from '../../../shared-core/geometry/angle.ts'
import { anyOf, anyPicture, anyShape } from './any-shape.ts'

const angle = (first: [number, number], vertex: [number, number], second: [number, number]) =>
  shapes.angle.create(
    [first, vertex, second].map(([x, y]) => ({ x, y })),
    defaultStyle,
  )

describe('an angle', () => {
  it('says the inner angle, or the outer one when asked', () => {
    // Closed form: atan2(3, 4) of the 3-4-5 triangle.
    const shape = angle([400, 0], [0, 0], [400, 300])
    expect(shapes.angle.measure(shape, plainPicture)!.value).toBeCloseTo(36.86989764584402, 10)
    expect(shapes.angle.measure({ ...shape, isOuter: true }, plainPicture)!.value).toBeCloseTo(
      323.130102354156,
      10,
    )
  })

  it('is written without digits the picture does not carry, and says that depth is not seen', () => {
    const short = shapes.angle.measure(angle([30, 0], [0, 0], [30, 25]), plainPicture)!
    expect(short.text).toBe('40°')
    expect(short.plusMinus).toBeGreaterThan(1)
    expect(short.note).toMatch(/one camera cannot see depth/)
    const long = shapes.angle.measure(angle([3000, 0], [0, 0], [3000, 2500]), plainPicture)!
    expect(long.text).toBe('39.8°')
  })

  it('measures nothing on legs without length', () => {
    expect(shapes.angle.measure(angle([5, 5], [5, 5], [80, 5]), plainPicture)).toBeNull()
  })

  it('stays the same in the mirrored copy', () => {
    fc.assert(
      fc.property(anyOf.angle, (shape) => {
        const before = shapes.angle.measure(shape, plainPicture)
        const after = shapes.angle.measure(mirrorShape(shape, 1280), plainPicture)
        expect(after?.value ?? null).toEqual(before === null ? null : expect.closeTo(before.value, 5))
      }),
    )
  })
})

describe('a ruler', () => {
  const ruler = shapes.ruler.create(
    [
      { x: 100, y: 100 },
      { x: 400, y: 500 },
    ],
    defaultStyle,
  ) // 500 px

  it('says metres once there is a scale, and that one camera cannot see depth', () => {
    const measure = shapes.ruler.measure(ruler, { ...plainPicture, pixelsPerMeter: 400 })!
    expect(measure).toMatchObject({ value: 1.25, unit: 'meters', text: '1.25 m' })
    // Two ends, each placed to one pixel: sqrt(2) px of 400 px/m.
    expect(measure.plusMinus).toBeCloseTo(Math.SQRT2 / 400, 12)
    expect(measure.note).toMatch(/One camera cannot see depth/)
    expect(measure.shortNote).not.toBe('')
  })

  it('says pixels and asks for a scale without one', () => {
    const measure = shapes.ruler.measure(ruler, plainPicture)!
    expect(measure).toMatchObject({ value: 500, unit: 'pixels', text: '500 px' })
    expect(measure.note).toMatch(/^No scale yet/)
  })

  it('is the scale itself when its length is known: a ball of 42.67 mm (R&A and USGA, Equipment Rules)', () => {
    const known = { ...ruler, knownLengthM: 0.04267 }
    expect(scaleFrom(known)).toBeCloseTo(500 / 0.04267, 6)
    expect(scaleFrom(ruler)).toBeNull()
    expect(shapes.ruler.measure(known, plainPicture)!.text).toBe('43 mm')
    const other = shapes.ruler.measure(ruler, { ...plainPicture, pixelsPerMeter: scaleFrom(known) })!
    expect(other.value).toBeCloseTo(0.04267, 12)
  })

  it('writes inches for those who think in them (1 in = 25.4 mm exactly)', () => {
    const measure = shapes.ruler.measure(ruler, {
      ...plainPicture,
      pixelsPerMeter: 400,
      lengths: 'imperial',
    })!
    expect(measure.text).toBe('49 in')
  })
})

describe('plumb line and level', () => {
  it('follow the edges of the picture without a tilt', () => {
    const plumb = shapes.plumb.create(
      [
        { x: 50, y: 10 },
        { x: 50, y: 110 },
      ],
      defaultStyle,
    )
    expect(shapes.plumb.handles(plumb, plainPicture)[1]!.at).toEqual({ x: 50, y: 110 })
    expect(shapes.plumb.measure(plumb, plainPicture)!.note).toMatch(/No camera tilt is set/)
  })

  it('stand at right angles to each other at any tilt', () => {
    fc.assert(
      fc.property(anyOf.plumb, anyOf.level, anyPicture, (plumb, level, picture) => {
        fc.pre(plumb.lengthPx > 1 && level.lengthPx > 1)
        const [top, end] = shapes.plumb.handles(plumb, picture).map((handle) => handle.at)
        const [left, , right] = shapes.level.handles(level, picture).map((handle) => handle.at)
        const along = { x: top!.x + right!.x - left!.x, y: top!.y + right!.y - left!.y }
        expect(angleAt(top!, end!, along)).toBeCloseTo(90, 4)
      }),
    )
  })

  it('take out a roll of the camera: rolled clockwise, what hangs down points down and to the right', () => {
    // A camera rolled by 90° clockwise shows "down" to the right: (sin t, cos t) at t = 90°; here t = 30°.
    const picture = { ...plainPicture, tiltDeg: 30 }
    const plumb = shapes.plumb.create(
      [
        { x: 0, y: 0 },
        { x: 0, y: 100 },
      ],
      defaultStyle,
    )
    const end = shapes.plumb.handles(plumb, picture)[1]!.at
    expect(end.x).toBeCloseTo(50, 10)
    expect(end.y).toBeCloseTo(86.60254037844386, 10)
    expect(shapes.plumb.measure(plumb, picture)!.note).toMatch(/30\.0° clockwise/)
  })

  it('agree with the steepness a line says of itself', () => {
    fc.assert(
      fc.property(anyOf.plumb, anyOf.level, anyPicture, (plumb, level, picture) => {
        fc.pre(plumb.lengthPx > 2 && level.lengthPx > 2)
        const hung = shapes.plumb.handles(plumb, picture).map((handle) => handle.at)
        const lying = shapes.level.handles(level, picture).map((handle) => handle.at)
        const steep = shapes.line.create([hung[0]!, hung[1]!], defaultStyle)
        const flat = shapes.line.create([lying[0]!, lying[2]!], defaultStyle)
        expect(shapes.line.measure(steep, picture)!.value).toBeCloseTo(90, 4)
        expect(shapes.line.measure(flat, picture)!.value).toBeCloseTo(0, 4)
      }),
    )
  })
})

describe('every measure', () => {
  it('is a finite number with its error, words and a note', () => {
    fc.assert(
      fc.property(anyShape, anyPicture, (shape, picture) => {
        const measure = definitionOf(shape).measure(shape, picture)
        if (measure === null) return
        expect(Number.isFinite(measure.value)).toBe(true)
        expect(measure.plusMinus).toBeGreaterThanOrEqual(0)
        expect(measure.text).toMatch(/^-?\d/)
        expect(measure.note.length).toBeGreaterThan(20)
      }),
    )
  })
})
