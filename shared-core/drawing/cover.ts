import { z } from 'zod'
import { boxAround, cornersOf, distanceToBox, isInside, type Box } from '../geometry/box.ts'
import { pointSchema, type Point } from '../geometry/point.ts'
import { applyTo } from '../geometry/similarity.ts'
import { rounded } from '../scene/node.ts'
import { plateFill } from '../scene/plate.ts'
import { shapeSchemaOf, type Known } from './shape-base.ts'
import type { ShapeDefinition } from './shape-definition.ts'
import { scaledStyle } from './two-points.ts'
import { said } from '../wording/phrase.ts'

const side = z.number().finite().nonnegative()
const schema = shapeSchemaOf('cover', 1, {
  /** Top left corner. */
  at: pointSchema,
  widthPx: side,
  heightPx: side,
  outline: z.enum(['box', 'oval']),
  /** Blurred beyond recognition, or filled. */
  how: z.enum(['blur', 'fill']),
})
export type Cover = Known<z.infer<typeof schema>>

const boxOf = ({ at, widthPx, heightPx }: Cover): Box => ({ ...at, width: widthPx, height: heightPx })
const withBox = (shape: Cover, { x, y, width, height }: Box): Cover => ({
  ...shape,
  at: { x, y },
  widthPx: width,
  heightPx: height,
})

/**
 * An area that hides a face. Blurring needs the picture and is done by scene/cover-pixels.ts before the scene is
 * painted; what is painted here is the filled area, so that a picture that was not blurred never shows the face.
 */
export const cover: ShapeDefinition<Cover> = {
  kind: 'cover',
  name: 'Cover',
  version: 1,
  schema,
  upgrades: {},
  placing: { by: 'drag' },
  create: ([from, to], style) =>
    withBox(
      {
        kind: 'cover',
        version: 1,
        style,
        label: '',
        at: from!,
        widthPx: 0,
        heightPx: 0,
        outline: 'oval',
        how: 'blur',
      },
      boxAround([from!, to!]),
    ),
  handles: (shape) => {
    const [topLeft, topRight, bottomRight, bottomLeft] = cornersOf(boxOf(shape))
    return [
      { id: 'corner-0', at: topLeft, label: said('handle.topLeft') },
      { id: 'corner-1', at: topRight, label: said('handle.topRight') },
      { id: 'corner-2', at: bottomRight, label: said('handle.bottomRight') },
      { id: 'corner-3', at: bottomLeft, label: said('handle.bottomLeft') },
    ]
  },
  moveHandle: (shape, handleId, to) => {
    const corners = cornersOf(boxOf(shape))
    const i = [0, 1, 2, 3].find((corner) => handleId === `corner-${corner}`)
    return i === undefined ? shape : withBox(shape, boxAround([to, corners[(i + 2) % 4]!]))
  },
  bounds: boxOf,
  distance: (shape, p) =>
    shape.outline === 'box' ? distanceToBox(p, boxOf(shape)) : distanceToOval(p, boxOf(shape)),
  // A turned cover becomes the upright one around it: it may hide more, never less.
  transform: (shape, map) => ({
    ...withBox(shape, boxAround(cornersOf(boxOf(shape)).map((corner) => applyTo(map, corner)))),
    style: scaledStyle(shape.style, map),
  }),
  measure: () => null,
  over: (shape, box, isOne) => ({ ...withBox(shape, box), outline: isOne ? shape.outline : 'box' }),
  hides: (shape) => (shape.how === 'blur' ? { ...boxOf(shape), outline: shape.outline } : null),
  paint: (shape, { areCoversBlurred }) => {
    if (areCoversBlurred && shape.how === 'blur') return []
    const { x, y, width, height } = boxOf(shape)
    if (shape.outline === 'box') {
      return [
        {
          className: 'Rect',
          attrs: {
            x: rounded(x),
            y: rounded(y),
            width: rounded(width),
            height: rounded(height),
            fill: plateFill,
          },
        },
      ]
    }
    return [
      {
        className: 'Ellipse',
        attrs: {
          x: rounded(x + width / 2),
          y: rounded(y + height / 2),
          radiusX: rounded(width / 2),
          radiusY: rounded(height / 2),
          fill: plateFill,
        },
      },
    ]
  },
}

/** Distance along the ray from the middle: exact on the outline and 0 inside, an upper bound elsewhere. */
function distanceToOval(p: Point, area: Box): number {
  const [rx, ry] = [area.width / 2, area.height / 2]
  const [dx, dy] = [p.x - area.x - rx, p.y - area.y - ry]
  if (rx === 0 || ry === 0) return isInside(area, p) ? 0 : distanceToBox(p, area)
  const reach = Math.hypot(dx / rx, dy / ry)
  return reach <= 1 ? 0 : Math.hypot(dx, dy) * (1 - 1 / reach)
}
