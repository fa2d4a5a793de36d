import type { z } from 'zod'
import { toDegrees, directionOf, radians } from '../geometry/angle.ts'
import { between, distance } from '../geometry/point.ts'
import { strokedChain } from '../scene/stroke.ts'
import { labelPlate } from './label-plate.ts'
import { angleMeasure, angleNote, placingErrorPx, type Measure } from './measure.ts'
import { shapeSchemaOf, type Known } from './shape-base.ts'
import type { PictureContext, ShapeDefinition } from './shape-definition.ts'
import { besideStroke, ofTwoPoints, twoPointBounds, twoPointFields } from './two-points.ts'
import { said } from '../wording/phrase.ts'

const schema = shapeSchemaOf('line', 1, twoPointFields)
export type Line = Known<z.infer<typeof schema>>

/**
 * How steep the line is: degrees from level, 0 to 90, with the camera's tilt taken out. A camera rolled clockwise
 * shows everything turned the other way, so the tilt is added to what the picture shows.
 */
export function steepness(
  line: Pick<Line, 'from' | 'to'>,
  picture: Pick<PictureContext, 'tiltDeg'>,
): Measure | null {
  const lengthPx = distance(line.from, line.to)
  if (lengthPx <= placingErrorPx) return null
  const shown = toDegrees(directionOf(line.from, line.to)) + picture.tiltDeg
  const folded = ((shown % 180) + 180) % 180
  const plusMinus = toDegrees(radians((Math.SQRT2 * placingErrorPx) / lengthPx))
  return angleMeasure(
    Math.min(folded, 180 - folded),
    plusMinus,
    said('measure.fromLevel', { note: angleNote }),
  )
}

/** A straight line. */
export const line: ShapeDefinition<Line> = {
  kind: 'line',
  name: 'Line',
  version: 1,
  schema,
  upgrades: {},
  ...ofTwoPoints,
  create: ([from, to], style) => ({ kind: 'line', version: 1, style, label: '', from: from!, to: to! }),
  bounds: twoPointBounds,
  measure: steepness,
  paint: (shape, context) => [
    ...strokedChain([shape.from, shape.to], shape.style),
    ...labelPlate(shape, between(shape.from, shape.to), besideStroke(shape), context),
  ],
}
