import { z } from 'zod'
import { boxAround, cornersOf, growBox } from '../geometry/box.ts'
import { between, distance, highest, pointSchema } from '../geometry/point.ts'
import { distanceToChain } from '../geometry/segment.ts'
import { scaleAbout, shift } from '../geometry/similarity.ts'
import { simplify } from '../geometry/simplify.ts'
import { strokedChain } from '../scene/stroke.ts'
import { labelPlate } from './label-plate.ts'
import { shapeSchemaOf, type Known } from './shape-base.ts'
import type { ShapeDefinition } from './shape-definition.ts'
import { toStroke, transformPoints } from './two-points.ts'

const schema = shapeSchemaOf('freehand', 1, { points: z.array(pointSchema).min(1).max(20_000) })
export type Freehand = Known<z.infer<typeof schema>>

/** A stroke is stored with fewer points, none of those left out farther from it than this. */
export const strokeWithinPx = 0.75

/** A stroke as drawn by hand. Dragging its middle moves it, dragging its corner scales it. */
export const freehand: ShapeDefinition<Freehand> = {
  kind: 'freehand',
  name: 'Freehand',
  version: 1,
  schema,
  upgrades: {},
  placing: { by: 'stroke' },
  create: (points, style) => ({
    kind: 'freehand',
    version: 1,
    style,
    label: '',
    points: simplify(points, strokeWithinPx),
  }),
  handles: (shape) => {
    const [topLeft, , bottomRight] = cornersOf(boxAround(shape.points))
    return [
      { id: 'middle', at: between(topLeft, bottomRight), label: 'Middle' },
      { id: 'corner', at: bottomRight, label: 'Corner' },
    ]
  },
  moveHandle: (shape, handleId, to, picture) => {
    const [topLeft, , bottomRight] = cornersOf(boxAround(shape.points))
    const middle = between(topLeft, bottomRight)
    if (handleId === 'middle') return freehand.transform(shape, shift(to.x - middle.x, to.y - middle.y))
    if (handleId !== 'corner') return shape
    const diagonal = distance(topLeft, bottomRight)
    if (diagonal === 0) return freehand.moveHandle(shape, 'middle', to, picture)
    const factor = Math.max(0.05, distance(topLeft, to) / diagonal)
    const scaled = freehand.transform(shape, scaleAbout(topLeft, factor))
    return { ...scaled, style: shape.style }
  },
  bounds: (shape) => growBox(boxAround(shape.points), shape.style.widthPx / 2),
  distance: (shape, p) => toStroke(distanceToChain(p, shape.points), shape.style),
  transform: transformPoints,
  measure: () => null,
  paint: (shape, context) => [
    // A dot is a line without length; round caps make it visible.
    ...strokedChain(
      shape.points.length === 1 ? [shape.points[0]!, shape.points[0]!] : shape.points,
      shape.style,
    ),
    ...labelPlate(shape, highest(shape.points), 'above', context),
  ],
}
