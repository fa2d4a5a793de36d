import { z } from 'zod'
import { degrees } from '../geometry/angle.ts'
import { boxAround, growBox } from '../geometry/box.ts'
import { add, between, dot, pointSchema, subtract, times, type Point } from '../geometry/point.ts'
import { distanceToSegment } from '../geometry/segment.ts'
import { applyTo, factorOf } from '../geometry/similarity.ts'
import { strokedChain } from '../scene/stroke.ts'
import { labelPlate } from './label-plate.ts'
import { angleMeasure } from './measure.ts'
import { shapeSchemaOf, type Known } from './shape-base.ts'
import type { PictureContext, ShapeDefinition } from './shape-definition.ts'
import { scaledStyle, toStroke } from './two-points.ts'
import { downIn, levelIn, tiltNote } from './upright.ts'
import { said } from '../wording/phrase.ts'

const schema = shapeSchemaOf('level', 1, { middle: pointSchema, lengthPx: z.number().finite().nonnegative() })
export type Level = Known<z.infer<typeof schema>>

function endsOf(shape: Level, picture: Pick<PictureContext, 'tiltDeg'>): [Point, Point] {
  const half = times(levelIn(picture), shape.lengthPx / 2)
  return [subtract(shape.middle, half), add(shape.middle, half)]
}

/** A level line, whatever the camera's tilt. */
export const level: ShapeDefinition<Level> = {
  kind: 'level',
  name: 'Level',
  version: 1,
  schema,
  upgrades: {},
  placing: { by: 'drag' },
  create: ([from, to], style) => ({
    kind: 'level',
    version: 1,
    style,
    label: '',
    middle: { x: between(from!, to!).x, y: from!.y },
    lengthPx: Math.abs(to!.x - from!.x),
  }),
  handles: (shape, picture) => {
    const [left, right] = endsOf(shape, picture)
    return [
      { id: 'left', at: left, label: said('handle.leftEnd') },
      { id: 'middle', at: shape.middle, label: 'Middle' },
      { id: 'right', at: right, label: said('handle.rightEnd') },
    ]
  },
  moveHandle: (shape, handleId, to, picture) => {
    if (handleId === 'middle') return { ...shape, middle: to }
    if (handleId !== 'left' && handleId !== 'right') return shape
    // The other end stays.
    const [left, right] = endsOf(shape, picture)
    const fixed = handleId === 'left' ? right : left
    const along = dot(subtract(to, fixed), levelIn(picture))
    const lengthPx = Math.max(0, handleId === 'left' ? -along : along)
    const half = times(levelIn(picture), (handleId === 'left' ? -1 : 1) * (lengthPx / 2))
    return { ...shape, middle: add(fixed, half), lengthPx }
  },
  bounds: (shape, picture) => growBox(boxAround(endsOf(shape, picture)), shape.style.widthPx * 2),
  distance: (shape, p, picture) => toStroke(distanceToSegment(p, ...endsOf(shape, picture)), shape.style),
  transform: (shape, map) => ({
    ...shape,
    style: scaledStyle(shape.style, map),
    middle: applyTo(map, shape.middle),
    lengthPx: shape.lengthPx * factorOf(map),
  }),
  measure: (_shape, picture) =>
    angleMeasure(degrees(0), 0, said('measure.fromLevel', { note: tiltNote(picture.tiltDeg) })),
  paint: (shape, context) => {
    const [left, right] = endsOf(shape, context)
    const tick = times(downIn(context), shape.style.widthPx * 1.8)
    return [
      ...strokedChain([left, right], shape.style),
      // The tick in the middle tells a level from a plain line.
      ...strokedChain([subtract(shape.middle, tick), add(shape.middle, tick)], {
        ...shape.style,
        isDashed: false,
      }),
      ...labelPlate(shape, right, 'right', context),
    ]
  },
}
