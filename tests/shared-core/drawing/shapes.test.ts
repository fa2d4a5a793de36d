import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  mirrorShape,
  moveShape,
  scaleShape,
  transformShape,
} from '../../../shared-core/drawing/copy-shape.ts'
import { defaultStyle } from '../../../shared-core/drawing/shape-base.ts'
import { plainPicture } from '../../../shared-core/drawing/shape-definition.ts'
import { definitionOf, shapes, shapeSchema, type Shape } from '../../../shared-core/drawing/shapes.ts'
import { distanceToBox } from '../../../shared-core/geometry/box.ts'
import { distance } from '../../../shared-core/geometry/point.ts'
import { applyTo, turnAbout } from '../../../shared-core/geometry/similarity.ts'
import { degrees } from '../../../shared-core/geometry/angle.ts'
import { anyOf, anyPicture, anyPoint, anyShape, everyKind } from './any-shape.ts'

/** Every number of a shape, in the order of its fields. */
const numbersOf = (value: unknown): number[] =>
  typeof value === 'number'
    ? [value]
    : typeof value === 'object' && value !== null
      ? Object.values(value).flatMap(numbersOf)
      : []

const expectSame = (a: Shape, b: Shape, digits: number): void => {
  const [left, right] = [numbersOf(a), numbersOf(b)]
  expect(left.length).toBe(right.length)
  left.forEach((value, i) => expect(value).toBeCloseTo(right[i]!, digits))
}

describe.each(everyKind)('the shape %s', (kind) => {
  const definition = shapes[kind] as ReturnType<typeof definitionOf>
  const any = anyOf[kind] as fc.Arbitrary<Shape>

  it('is made from placed points, passes its schema and survives JSON', () => {
    const made = definition.create(
      [
        { x: 100, y: 200 },
        { x: 300, y: 260 },
        { x: 340, y: 90 },
      ],
      defaultStyle,
    )
    expect(made.kind).toBe(kind)
    expect(shapeSchema.parse(JSON.parse(JSON.stringify(made)))).toEqual(made)
  })

  it('refuses coordinates that are not numbers', () => {
    const made = definition.create(
      [
        { x: NaN, y: 2 },
        { x: 3, y: 4 },
        { x: 9, y: 9 },
      ],
      defaultStyle,
    )
    expect(shapeSchema.safeParse(made).success).toBe(false)
  })

  it('comes back when moved there and back, mirrored twice, scaled up and down', () => {
    fc.assert(
      fc.property(
        any,
        fc.integer({ min: -900, max: 900 }),
        fc.integer({ min: -900, max: 900 }),
        (shape, dx, dy) => {
          expectSame(moveShape(moveShape(shape, dx, dy), -dx, -dy), shape, 6)
          expectSame(mirrorShape(mirrorShape(shape, 1920), 1920), shape, 6)
          const about = { x: 640, y: 360 }
          expectSame(scaleShape(scaleShape(shape, about, 1.25), about, 0.8), shape, 5)
        },
      ),
    )
  })

  it('is as far from a point as its mirror image is from the mirrored point', () => {
    fc.assert(
      fc.property(any, anyPoint, (shape, p) => {
        const there = definition.distance(shape, p, plainPicture)
        const mirrored = { x: 1920 - p.x, y: p.y }
        const image = mirrorShape(shape, 1920)
        expect(definition.distance(image, mirrored, plainPicture)).toBeCloseTo(there, 5)
      }),
    )
  })

  it('has no negative distance, and what it is painted as lies within its bounds', () => {
    fc.assert(
      fc.property(any, anyPoint, anyPicture, (shape, p, picture) => {
        const away = definition.distance(shape, p, picture)
        expect(away).toBeGreaterThanOrEqual(0)
        expect(away).toBeGreaterThanOrEqual(distanceToBox(p, definition.bounds(shape, picture)) - 1e-6)
      }),
    )
  })

  it('puts a dragged handle where it was dragged, and ignores unknown handles', () => {
    fc.assert(
      fc.property(any, anyPicture, fc.nat(), anyPoint, (shape, picture, which, to) => {
        const handles = definition.handles(shape, picture)
        expect(handles.length).toBeGreaterThan(0)
        expect(new Set(handles.map((handle) => handle.id)).size).toBe(handles.length)
        const handle = handles[which % handles.length]!
        const moved = definition.moveHandle(shape, handle.id, to, picture)
        expect(definition.schema.safeParse(moved).success).toBe(true)
        expect(definition.moveHandle(shape, 'no such handle', to, picture)).toEqual(shape)
        // A handle that is free to move both ways is where the pointer is.
        const isFree = !['rim', 'turn', 'end', 'left', 'right', 'size', 'corner'].includes(handle.id)
        if (isFree && handle.id !== 'middle') {
          const at = definition.handles(moved, picture).map((other) => other.at)
          expect(Math.min(...at.map((other) => distance(other, to)))).toBeLessThan(1e-6)
        }
      }),
    )
  })
})

describe('turning a shape', () => {
  it('turns its distances with it, for all shapes that can lie at any angle', () => {
    const free = ['line', 'arrow', 'curve', 'angle', 'circle', 'box', 'freehand', 'ruler'] as const
    fc.assert(
      fc.property(
        fc.oneof(...free.map((kind) => anyOf[kind] as fc.Arbitrary<Shape>)),
        anyPoint,
        fc.double({ min: -180, max: 180, noNaN: true }),
        (shape, p, by) => {
          const turn = turnAbout({ x: 500, y: 400 }, degrees(by))
          const turned = transformShape(shape, turn)
          expect(definitionOf(turned).distance(turned, applyTo(turn, p), plainPicture)).toBeCloseTo(
            definitionOf(shape).distance(shape, p, plainPicture),
            5,
          )
        },
      ),
    )
  })
})

describe('hit distances', () => {
  const style = { ...defaultStyle, widthPx: 6 }
  it('are measured to the edge of the stroke', () => {
    const line = shapes.line.create(
      [
        { x: 0, y: 50 },
        { x: 100, y: 50 },
      ],
      style,
    )
    expect(shapes.line.distance(line, { x: 40, y: 70 }, plainPicture)).toBeCloseTo(17, 12)
    expect(shapes.line.distance(line, { x: 40, y: 52 }, plainPicture)).toBe(0)
    const circle = shapes.circle.create(
      [
        { x: 0, y: 0 },
        { x: 30, y: 40 },
      ],
      style,
    )
    expect(circle.radiusPx).toBe(50)
    expect(shapes.circle.distance(circle, { x: 0, y: 0 }, plainPicture)).toBe(47)
  })

  it('to an oval cover are 0 inside and exact along its axes', () => {
    const cover = shapes.cover.create(
      [
        { x: 0, y: 0 },
        { x: 200, y: 100 },
      ],
      style,
    )
    expect(shapes.cover.distance(cover, { x: 150, y: 60 }, plainPicture)).toBe(0)
    expect(shapes.cover.distance(cover, { x: 230, y: 50 }, plainPicture)).toBeCloseTo(30, 10)
    expect(shapes.cover.distance(cover, { x: 2, y: 2 }, plainPicture)).toBeGreaterThan(0)
  })

  it('never come out NaN for any shape', () => {
    fc.assert(
      fc.property(anyShape, anyPoint, anyPicture, (shape, p, picture) => {
        expect(Number.isFinite(definitionOf(shape).distance(shape, p, picture))).toBe(true)
      }),
    )
  })
})
