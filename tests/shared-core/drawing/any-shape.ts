import fc from 'fast-check'
import type { Point } from '../../../shared-core/geometry/point.ts'
import { shapes, type Shape, type ShapeKind } from '../../../shared-core/drawing/shapes.ts'
import type { PictureContext } from '../../../shared-core/drawing/shape-definition.ts'
import { toneNames } from '../../../shared-core/drawing/tones.ts'

/** Sixty-fourths of a pixel, finer than any pointer. */
const pixels = (min: number, max: number) => fc.integer({ min: min * 64, max: max * 64 }).map((n) => n / 64)
const coordinate = pixels(-200, 2200)
export const anyPoint: fc.Arbitrary<Point> = fc.record({ x: coordinate, y: coordinate })
const style = fc.record({
  tone: fc.constantFrom(...toneNames),
  widthPx: fc.double({ min: 1, max: 40, noNaN: true }),
  isDashed: fc.boolean(),
})
const base = <K extends ShapeKind>(kind: K) => ({
  kind: fc.constant(kind),
  version: fc.constant(1 as const),
  style,
  label: fc.string({ maxLength: 20 }),
})
const lengthPx = pixels(0, 1500)
const twoPoints = { from: anyPoint, to: anyPoint }
const points = fc.array(anyPoint, { minLength: 2, maxLength: 20 })

/** Any valid shape of each kind. */
export const anyOf: { readonly [K in ShapeKind]: fc.Arbitrary<Extract<Shape, { kind: K }>> } = {
  line: fc.record({ ...base('line'), ...twoPoints }),
  arrow: fc.record({ ...base('arrow'), ...twoPoints }),
  curve: fc.record({ ...base('curve'), points }),
  angle: fc.record({
    ...base('angle'),
    vertex: anyPoint,
    first: anyPoint,
    second: anyPoint,
    isOuter: fc.boolean(),
  }),
  circle: fc.record({ ...base('circle'), centre: anyPoint, radiusPx: lengthPx }),
  box: fc.record({
    ...base('box'),
    centre: anyPoint,
    widthPx: lengthPx,
    heightPx: lengthPx,
    turnDeg: fc.double({ min: -179, max: 180, noNaN: true }),
  }),
  freehand: fc.record({ ...base('freehand'), points }),
  text: fc.record({
    ...base('text'),
    at: anyPoint,
    text: fc.string({ maxLength: 60 }),
    sizePx: fc.double({ min: 8, max: 60, noNaN: true }),
    wrapPx: fc.double({ min: 50, max: 600, noNaN: true }),
  }),
  plumb: fc.record({ ...base('plumb'), top: anyPoint, lengthPx }),
  level: fc.record({ ...base('level'), middle: anyPoint, lengthPx }),
  ruler: fc.record({
    ...base('ruler'),
    ...twoPoints,
    knownLengthM: fc.option(fc.double({ min: 0.01, max: 50, noNaN: true })),
  }),
  cover: fc.record({
    ...base('cover'),
    at: anyPoint,
    widthPx: lengthPx,
    heightPx: lengthPx,
    outline: fc.constantFrom('box' as const, 'oval' as const),
    how: fc.constantFrom('blur' as const, 'fill' as const),
  }),
}

export const anyShape: fc.Arbitrary<Shape> = fc.oneof(...(Object.values(anyOf) as fc.Arbitrary<Shape>[]))

export const anyPicture: fc.Arbitrary<PictureContext> = fc.record({
  tiltDeg: fc.double({ min: -20, max: 20, noNaN: true }),
  pixelsPerMeter: fc.option(fc.double({ min: 20, max: 2000, noNaN: true })),
  lengths: fc.constantFrom('metric' as const, 'imperial' as const),
})

export const everyKind = Object.keys(shapes) as ShapeKind[]
