import { z } from 'zod'
import { boxAround, growBox } from '../geometry/box.ts'
import { curveThrough, sampleCurve } from '../geometry/curve.ts'
import { highest, pointSchema, type Point } from '../geometry/point.ts'
import { distanceToChain } from '../geometry/segment.ts'
import { curvePath, stroked } from '../scene/stroke.ts'
import { labelPlate } from './label-plate.ts'
import { shapeSchemaOf, type Known } from './shape-base.ts'
import type { ShapeDefinition } from './shape-definition.ts'
import { toStroke, transformPoints } from './two-points.ts'
import { said } from '../wording/phrase.ts'

const schema = shapeSchemaOf('curve', 1, { points: z.array(pointSchema).min(2).max(400) })
export type Curve = Known<z.infer<typeof schema>>

const chainOf = (points: readonly Point[]): Point[] => {
  const chain = sampleCurve(curveThrough(points))
  return chain.length > 0 ? chain : [points[0]!]
}

/** A smooth curve through placed points. */
export const curve: ShapeDefinition<Curve> = {
  kind: 'curve',
  name: 'Curve',
  version: 1,
  schema,
  upgrades: {},
  placing: { by: 'clicks', min: 2, max: null },
  create: (points, style) => ({ kind: 'curve', version: 1, style, label: '', points: [...points] }),
  handles: (shape) =>
    shape.points.map((at, i) => ({ id: `point-${i}`, at, label: said('handle.point', { n: i + 1 }) })),
  moveHandle: (shape, handleId, to) => ({
    ...shape,
    points: shape.points.map((at, i) => (handleId === `point-${i}` ? to : at)),
  }),
  bounds: (shape) => growBox(boxAround(chainOf(shape.points)), shape.style.widthPx / 2),
  distance: (shape, p) => toStroke(distanceToChain(p, chainOf(shape.points)), shape.style),
  transform: transformPoints,
  measure: () => null,
  paint: (shape, context) => [
    ...stroked('Path', { data: curvePath(curveThrough(shape.points)) }, shape.style),
    ...labelPlate(shape, highest(shape.points), 'above', context),
  ],
}
