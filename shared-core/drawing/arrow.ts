import type { z } from 'zod'
import { growBox } from '../geometry/box.ts'
import { flat, stroked } from '../scene/stroke.ts'
import { tones } from './tones.ts'
import { labelPlate } from './label-plate.ts'
import { steepness } from './line.ts'
import { shapeSchemaOf, type Known } from './shape-base.ts'
import type { ShapeDefinition } from './shape-definition.ts'
import { ofTwoPoints, twoPointBounds, twoPointFields } from './two-points.ts'

const schema = shapeSchemaOf('arrow', 1, twoPointFields)
export type Arrow = Known<z.infer<typeof schema>>

/** The head, in stroke widths. */
const headLength = 4
const headWidth = 3.4

/** A straight arrow; its tip is at `to`. */
export const arrow: ShapeDefinition<Arrow> = {
  kind: 'arrow',
  name: 'Arrow',
  version: 1,
  schema,
  upgrades: {},
  ...ofTwoPoints,
  create: ([from, to], style) => ({ kind: 'arrow', version: 1, style, label: '', from: from!, to: to! }),
  bounds: (shape) => growBox(twoPointBounds(shape), (shape.style.widthPx * headWidth) / 2),
  measure: steepness,
  paint: (shape, context) => {
    const { widthPx, tone } = shape.style
    const [casing, body] = stroked(
      'Arrow',
      {
        points: flat([shape.from, shape.to]),
        pointerLength: widthPx * headLength,
        pointerWidth: widthPx * headWidth,
      },
      shape.style,
    )
    return [
      { ...casing!, attrs: { ...casing!.attrs, fill: tones[tone].casing } },
      { ...body!, attrs: { ...body!.attrs, fill: tones[tone].hex } },
      ...labelPlate(shape, shape.from, shape.to.x >= shape.from.x ? 'left' : 'right', context),
    ]
  },
}
