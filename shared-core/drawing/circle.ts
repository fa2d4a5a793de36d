import { z } from 'zod'
import { growBox } from '../geometry/box.ts'
import { distance, pointSchema } from '../geometry/point.ts'
import { applyTo, factorOf } from '../geometry/similarity.ts'
import { rounded } from '../scene/node.ts'
import { stroked } from '../scene/stroke.ts'
import { labelPlate } from './label-plate.ts'
import { shapeSchemaOf, type Known } from './shape-base.ts'
import type { ShapeDefinition } from './shape-definition.ts'
import { scaledStyle, toStroke } from './two-points.ts'

const schema = shapeSchemaOf('circle', 1, {
  centre: pointSchema,
  radiusPx: z.number().finite().nonnegative(),
})
export type Circle = Known<z.infer<typeof schema>>

/** A circle, drawn from its centre outwards. */
export const circle: ShapeDefinition<Circle> = {
  kind: 'circle',
  name: 'Circle',
  version: 1,
  schema,
  upgrades: {},
  placing: { by: 'drag' },
  create: ([centre, rim], style) => ({
    kind: 'circle',
    version: 1,
    style,
    label: '',
    centre: centre!,
    radiusPx: distance(centre!, rim!),
  }),
  handles: ({ centre, radiusPx }) => [
    { id: 'centre', at: centre, label: 'Centre' },
    { id: 'rim', at: { x: centre.x + radiusPx, y: centre.y }, label: 'Rim' },
  ],
  moveHandle: (shape, handleId, to) => {
    if (handleId === 'centre') return { ...shape, centre: to }
    if (handleId === 'rim') return { ...shape, radiusPx: distance(shape.centre, to) }
    return shape
  },
  bounds: ({ centre, radiusPx, style }) =>
    growBox({ x: centre.x, y: centre.y, width: 0, height: 0 }, radiusPx + style.widthPx / 2),
  distance: (shape, p) => toStroke(Math.abs(distance(shape.centre, p) - shape.radiusPx), shape.style),
  transform: (shape, map) => ({
    ...shape,
    style: scaledStyle(shape.style, map),
    centre: applyTo(map, shape.centre),
    radiusPx: shape.radiusPx * factorOf(map),
  }),
  measure: () => null,
  paint: (shape, context) => [
    ...stroked(
      'Circle',
      { x: rounded(shape.centre.x), y: rounded(shape.centre.y), radius: rounded(shape.radiusPx) },
      shape.style,
    ),
    ...labelPlate(shape, { x: shape.centre.x, y: shape.centre.y - shape.radiusPx }, 'above', context),
  ],
}
