import { z } from 'zod'
import { angleAt, angleErrorAt, degrees, directionOf } from '../geometry/angle.ts'
import { boxAround, growBox } from '../geometry/box.ts'
import { distance, pointSchema, type Point } from '../geometry/point.ts'
import { distanceToChain } from '../geometry/segment.ts'
import { applyTo } from '../geometry/similarity.ts'
import { arcPath, stroked, strokedChain } from '../scene/stroke.ts'
import { labelPlate } from './label-plate.ts'
import { angleMeasure, placingErrorPx } from './measure.ts'
import { shapeSchemaOf, type Known } from './shape-base.ts'
import type { ShapeDefinition } from './shape-definition.ts'
import { scaledStyle, toStroke } from './two-points.ts'
import { said } from '../wording/phrase.ts'

const schema = shapeSchemaOf('angle', 1, {
  vertex: pointSchema,
  first: pointSchema,
  second: pointSchema,
  /** The outer side of the angle: 360 degrees less the inner one. */
  isOuter: z.boolean(),
})
export type Angle = Known<z.infer<typeof schema>>

const chainOf = (shape: Angle): Point[] => [shape.first, shape.vertex, shape.second]

/** From the first leg to the second: start and sweep of the arc, radians, + clockwise on the screen. */
function arcOf(shape: Angle): { from: number; sweep: number } {
  const from = directionOf(shape.vertex, shape.first)
  const turn = directionOf(shape.vertex, shape.second) - from
  const short = Math.atan2(Math.sin(turn), Math.cos(turn))
  return { from, sweep: shape.isOuter ? short - Math.sign(short || 1) * 2 * Math.PI : short }
}

/** Two legs from a vertex, with the degrees between them. */
export const angle: ShapeDefinition<Angle> = {
  kind: 'angle',
  name: 'Angle',
  version: 1,
  schema,
  upgrades: {},
  // First leg's end, vertex, second leg's end: the way a joint is pointed out.
  placing: { by: 'clicks', min: 3, max: 3 },
  create: ([first, vertex, second], style) => ({
    kind: 'angle',
    version: 1,
    style,
    label: '',
    vertex: vertex!,
    first: first!,
    second: second!,
    isOuter: false,
  }),
  handles: (shape) => [
    { id: 'first', at: shape.first, label: said('handle.firstLeg') },
    { id: 'vertex', at: shape.vertex, label: 'Vertex' },
    { id: 'second', at: shape.second, label: said('handle.secondLeg') },
  ],
  moveHandle: (shape, handleId, to) => {
    if (handleId === 'first') return { ...shape, first: to }
    if (handleId === 'vertex') return { ...shape, vertex: to }
    if (handleId === 'second') return { ...shape, second: to }
    return shape
  },
  bounds: (shape) => growBox(boxAround(chainOf(shape)), shape.style.widthPx / 2),
  distance: (shape, p) => toStroke(distanceToChain(p, chainOf(shape)), shape.style),
  transform: (shape, map) => ({
    ...shape,
    style: scaledStyle(shape.style, map),
    vertex: applyTo(map, shape.vertex),
    first: applyTo(map, shape.first),
    second: applyTo(map, shape.second),
  }),
  measure: ({ vertex, first, second, isOuter }) => {
    if (Math.min(distance(vertex, first), distance(vertex, second)) <= placingErrorPx) return null
    const inner = angleAt(vertex, first, second)
    return angleMeasure(
      isOuter ? degrees(360 - inner) : inner,
      angleErrorAt(vertex, first, second, placingErrorPx),
    )
  },
  paint: (shape, context) => {
    const legs = [distance(shape.vertex, shape.first), distance(shape.vertex, shape.second)]
    const radius = Math.min(...legs) * 0.45
    const { from, sweep } = arcOf(shape)
    const thin = { ...shape.style, widthPx: shape.style.widthPx * 0.7, isDashed: false }
    const middle = from + sweep / 2
    const at = {
      x: shape.vertex.x + radius * Math.cos(middle),
      y: shape.vertex.y + radius * Math.sin(middle),
    }
    const lies =
      Math.abs(Math.cos(middle)) < 0.5
        ? Math.sin(middle) > 0
          ? 'below'
          : 'above'
        : Math.cos(middle) > 0
          ? 'right'
          : 'left'
    return [
      ...strokedChain(chainOf(shape), shape.style),
      ...(Math.abs(sweep) > 1e-6 && radius > 0
        ? stroked('Path', { data: arcPath(shape.vertex, radius, from, sweep) }, thin)
        : []),
      ...labelPlate(shape, at, lies, context, angle.measure(shape, context)),
    ]
  },
}
