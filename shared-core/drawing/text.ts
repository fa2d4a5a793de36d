import { z } from 'zod'
import { distanceToBox, type Box } from '../geometry/box.ts'
import { distance, pointSchema } from '../geometry/point.ts'
import { applyTo, factorOf } from '../geometry/similarity.ts'
import { group } from '../scene/node.ts'
import { plate, plateSize } from '../scene/plate.ts'
import { wrapText } from '../scene/text-width.ts'
import { shapeSchemaOf, type Known } from './shape-base.ts'
import type { ShapeDefinition } from './shape-definition.ts'
import { tones } from './tones.ts'
import { scaledStyle } from './two-points.ts'

const schema = shapeSchemaOf('text', 1, {
  /** Top left corner of the plate. */
  at: pointSchema,
  text: z.string().max(2000),
  sizePx: z.number().min(4).max(600),
  /** Lines are broken at this width where words allow it. */
  wrapPx: z.number().positive().finite(),
})
export type TextShape = Known<z.infer<typeof schema>>

const sizeFor = (style: { readonly widthPx: number }): number =>
  Math.min(600, Math.max(16, style.widthPx * 7))

const linesOf = (shape: TextShape) =>
  wrapText(shape.text === '' ? ' ' : shape.text, shape.sizePx, shape.wrapPx).map((text) => ({
    text,
    sizePx: shape.sizePx,
  }))

/** The plate; its width comes from the table of character widths (scene/text-width.ts). */
function plateBox(shape: TextShape): Box {
  const { width, height } = plateSize(linesOf(shape))
  return { x: shape.at.x, y: shape.at.y, width, height }
}

/** Words on a plate. Mirroring keeps them readable and moves the plate to the other side. */
export const text: ShapeDefinition<TextShape> = {
  kind: 'text',
  name: 'Text',
  version: 1,
  schema,
  upgrades: {},
  placing: { by: 'clicks', min: 1, max: 1 },
  create: ([at], style) => ({
    kind: 'text',
    version: 1,
    style,
    label: '',
    at: at!,
    text: '',
    sizePx: sizeFor(style),
    wrapPx: sizeFor(style) * 14,
  }),
  handles: (shape) => {
    const { x, y, width, height } = plateBox(shape)
    return [
      { id: 'at', at: shape.at, label: 'Place' },
      { id: 'size', at: { x: x + width, y: y + height }, label: 'Size' },
    ]
  },
  moveHandle: (shape, handleId, to) => {
    if (handleId === 'at') return { ...shape, at: to }
    if (handleId !== 'size') return shape
    const { width, height } = plateBox(shape)
    const factor = distance(shape.at, to) / Math.hypot(width, height)
    const sizePx = Math.min(600, Math.max(4, shape.sizePx * factor))
    return { ...shape, sizePx, wrapPx: (shape.wrapPx * sizePx) / shape.sizePx }
  },
  bounds: plateBox,
  distance: (shape, p) => distanceToBox(p, plateBox(shape)),
  transform: (shape, map) => {
    const factor = factorOf(map)
    const { x, y, width, height } = plateBox(shape)
    const centre = applyTo(map, { x: x + width / 2, y: y + height / 2 })
    const sizePx = Math.min(600, Math.max(4, shape.sizePx * factor))
    const grown = {
      ...shape,
      style: scaledStyle(shape.style, map),
      sizePx,
      wrapPx: (shape.wrapPx * sizePx) / shape.sizePx,
    }
    const size = plateBox(grown)
    return { ...grown, at: { x: centre.x - size.width / 2, y: centre.y - size.height / 2 } }
  },
  measure: () => null,
  paint: (shape, context) => {
    if (shape.text.trim() === '') return []
    const { x, y, width, height } = plateBox(shape)
    return [
      group([
        plate({
          at: { x: x + width / 2, y: y + height / 2 },
          lies: 'over',
          lines: linesOf(shape),
          edge: tones[shape.style.tone].hex,
          frameSize: context.frameSize,
        }),
      ]),
    ]
  },
}
