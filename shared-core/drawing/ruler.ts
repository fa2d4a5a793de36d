import { z } from 'zod'
import { growBox } from '../geometry/box.ts'
import { add, between, distance, quarterTurn, subtract, times, unitFrom } from '../geometry/point.ts'
import { strokedChain } from '../scene/stroke.ts'
import { labelPlate } from './label-plate.ts'
import { depthNote, lengthMeasure, lengthText } from './measure.ts'
import { shapeSchemaOf, type Known } from './shape-base.ts'
import type { ShapeDefinition } from './shape-definition.ts'
import { besideStroke, ofTwoPoints, twoPointBounds, twoPointFields } from './two-points.ts'
import { said } from '../wording/phrase.ts'

const schema = shapeSchemaOf('ruler', 1, {
  ...twoPointFields,
  /** Real length between its ends, metres, if the coach gave it: then this ruler is the picture's scale. */
  knownLengthM: z.number().positive().max(1000).nullable(),
})
export type Ruler = Known<z.infer<typeof schema>>

/** The scale a ruler of known length gives, source pixels per metre; null without a known length or without extent. */
export function scaleFrom(ruler: Pick<Ruler, 'from' | 'to' | 'knownLengthM'>): number | null {
  const lengthPx = distance(ruler.from, ruler.to)
  return ruler.knownLengthM === null || lengthPx === 0 ? null : lengthPx / ruler.knownLengthM
}

/** Things whose length a coach knows, to offer for a scale. */
export const knownLengths = [
  // R&A and USGA, Equipment Rules: the diameter is not less than 1.680 in (42.67 mm).
  { key: 'ball', label: said('ruler.ball'), lengthM: 0.04267 },
  // Common practice, no source; clubs differ, so measure the student's own.
  { key: 'driver', label: said('ruler.driver'), lengthM: 1.143 },
  { key: 'iron-7', label: said('ruler.iron'), lengthM: 0.94 },
] as const

/** A length in the picture plane. */
export const ruler: ShapeDefinition<Ruler> = {
  kind: 'ruler',
  name: 'Ruler',
  version: 1,
  schema,
  upgrades: {},
  ...ofTwoPoints,
  create: ([from, to], style) => ({
    kind: 'ruler',
    version: 1,
    style,
    label: '',
    from: from!,
    to: to!,
    knownLengthM: null,
  }),
  bounds: (shape) => growBox(twoPointBounds(shape), shape.style.widthPx * 2.5),
  measure: (shape, picture) => {
    if (shape.knownLengthM === null) return lengthMeasure(distance(shape.from, shape.to), picture)
    return {
      value: shape.knownLengthM,
      unit: 'meters',
      plusMinus: 0,
      text: lengthText(shape.knownLengthM, shape.knownLengthM < 0.1 ? 0 : 0.005, picture.lengths),
      note: said('ruler.given', { depth: depthNote }),
      shortNote: said('ruler.givenShort'),
    }
  },
  paint: (shape, context) => {
    const across = times(quarterTurn(unitFrom(shape.from, shape.to)), shape.style.widthPx * 2.5)
    const solid = { ...shape.style, isDashed: false }
    return [
      ...strokedChain([shape.from, shape.to], shape.style),
      ...[shape.from, shape.to].flatMap((end) =>
        strokedChain([subtract(end, across), add(end, across)], solid),
      ),
      ...labelPlate(
        shape,
        between(shape.from, shape.to),
        besideStroke(shape),
        context,
        ruler.measure(shape, context),
      ),
    ]
  },
}
