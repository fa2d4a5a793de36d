import { boxAround, growBox } from '../geometry/box.ts'
import { pointSchema, type Point } from '../geometry/point.ts'
import { distanceToSegment } from '../geometry/segment.ts'
import { applyTo, factorOf, type Similarity } from '../geometry/similarity.ts'
import type { Handle } from './shape-definition.ts'
import type { ShapeBase, Style } from './shape-base.ts'

/** What line, arrow and ruler have in common: two ends and a stroke between them. */
export const twoPointFields = { from: pointSchema, to: pointSchema }

interface TwoPoints extends ShapeBase {
  readonly from: Point
  readonly to: Point
}

/** The two ends, to be dragged. */
const twoPointHandles = (shape: TwoPoints): readonly Handle[] => [
  { id: 'from', at: shape.from, label: 'Start' },
  { id: 'to', at: shape.to, label: 'End' },
]

/** The shape with one end elsewhere; unknown handles change nothing. */
function moveTwoPointHandle<S extends TwoPoints>(shape: S, handleId: string, to: Point): S {
  if (handleId === 'from') return { ...shape, from: to }
  if (handleId === 'to') return { ...shape, to }
  return shape
}

/** The box around the stroke, source pixels. */
export const twoPointBounds = (shape: TwoPoints) =>
  growBox(boxAround([shape.from, shape.to]), shape.style.widthPx / 2)

/** From a point to the painted stroke, source pixels; 0 on it. */
const twoPointDistance = (shape: TwoPoints, p: Point): number =>
  toStroke(distanceToSegment(p, shape.from, shape.to), shape.style)

/** The shape under a similarity; the stroke grows with it. */
const transformTwoPoints = <S extends TwoPoints>(shape: S, map: Similarity): S => ({
  ...shape,
  style: scaledStyle(shape.style, map),
  from: applyTo(map, shape.from),
  to: applyTo(map, shape.to),
})

/** What line, arrow and ruler do alike. */
export const ofTwoPoints = {
  placing: { by: 'drag' },
  handles: twoPointHandles,
  moveHandle: moveTwoPointHandle,
  distance: twoPointDistance,
  transform: transformTwoPoints,
} as const

/** Where a plate at the middle covers less of the stroke. */
export const besideStroke = (shape: TwoPoints): 'above' | 'right' =>
  Math.abs(shape.to.x - shape.from.x) > Math.abs(shape.to.y - shape.from.y) ? 'above' : 'right'

/** Distance to the painted stroke, given the distance to its middle. */
export const toStroke = (distancePx: number, style: Style): number =>
  Math.max(0, distancePx - style.widthPx / 2)

/** The stroke grows with the shape, within what the schema allows. */
export const scaledStyle = (style: Style, map: Similarity): Style => ({
  ...style,
  widthPx: Math.min(200, Math.max(0.5, style.widthPx * factorOf(map))),
})

/** A shape of many points under a similarity; the stroke grows with it. */
export const transformPoints = <S extends ShapeBase & { readonly points: readonly Point[] }>(
  shape: S,
  map: Similarity,
): S => ({
  ...shape,
  style: scaledStyle(shape.style, map),
  points: shape.points.map((at) => applyTo(map, at)),
})
