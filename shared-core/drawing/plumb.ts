import { z } from 'zod'
import { degrees } from '../geometry/angle.ts'
import { boxAround, growBox } from '../geometry/box.ts'
import { add, dot, pointSchema, subtract, times, type Point } from '../geometry/point.ts'
import { distanceToSegment } from '../geometry/segment.ts'
import { applyTo, factorOf } from '../geometry/similarity.ts'
import { rounded } from '../scene/node.ts'
import { strokedChain } from '../scene/stroke.ts'
import { labelPlate } from './label-plate.ts'
import { angleMeasure } from './measure.ts'
import { shapeSchemaOf, type Known } from './shape-base.ts'
import type { PictureContext, ShapeDefinition } from './shape-definition.ts'
import { tones } from './tones.ts'
import { scaledStyle, toStroke } from './two-points.ts'
import { downIn, tiltNote } from './upright.ts'
import { said } from '../wording/phrase.ts'

const schema = shapeSchemaOf('plumb', 1, {
  /** Where it hangs from. */
  top: pointSchema,
  lengthPx: z.number().finite().nonnegative(),
})
export type Plumb = Known<z.infer<typeof schema>>

const endOf = (shape: Plumb, picture: Pick<PictureContext, 'tiltDeg'>): Point =>
  add(shape.top, times(downIn(picture), shape.lengthPx))
/** Half the height of the bob at the lower end. */
const bobPx = (shape: Plumb): number => shape.style.widthPx * 2.2

/** A plumb line: hangs straight down whatever the camera's tilt. */
export const plumb: ShapeDefinition<Plumb> = {
  kind: 'plumb',
  name: said('shape.plumb'),
  version: 1,
  schema,
  upgrades: {},
  placing: { by: 'drag' },
  // The first point holds; the length follows the drag's height.
  create: ([top, to], style) => ({
    kind: 'plumb',
    version: 1,
    style,
    label: '',
    top: top!.y <= to!.y ? top! : { x: top!.x, y: to!.y },
    lengthPx: Math.abs(to!.y - top!.y),
  }),
  handles: (shape, picture) => [
    { id: 'top', at: shape.top, label: said('handle.top') },
    { id: 'end', at: endOf(shape, picture), label: said('handle.lowerEnd') },
  ],
  moveHandle: (shape, handleId, to, picture) => {
    if (handleId === 'top') return { ...shape, top: to }
    if (handleId !== 'end') return shape
    return { ...shape, lengthPx: Math.max(0, dot(subtract(to, shape.top), downIn(picture))) }
  },
  bounds: (shape, picture) =>
    growBox(boxAround([shape.top, endOf(shape, picture)]), Math.max(shape.style.widthPx / 2, bobPx(shape))),
  distance: (shape, p, picture) =>
    toStroke(distanceToSegment(p, shape.top, endOf(shape, picture)), shape.style),
  transform: (shape, map) => ({
    ...shape,
    style: scaledStyle(shape.style, map),
    top: applyTo(map, shape.top),
    lengthPx: shape.lengthPx * factorOf(map),
  }),
  measure: (_shape, picture) =>
    angleMeasure(degrees(90), 0, said('measure.fromLevel', { note: tiltNote(picture.tiltDeg) })),
  paint: (shape, context) => {
    const end = endOf(shape, context)
    const bob = bobPx(shape)
    const tone = tones[shape.style.tone]
    return [
      ...strokedChain([shape.top, end], shape.style),
      {
        className: 'Circle',
        attrs: {
          x: rounded(end.x),
          y: rounded(end.y),
          radius: rounded(bob),
          fill: tone.hex,
          stroke: tone.casing,
          strokeWidth: rounded(Math.max(1, shape.style.widthPx * 0.4)),
        },
      },
      ...labelPlate(shape, shape.top, 'above', context),
    ]
  },
}
