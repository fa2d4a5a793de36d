import { z } from 'zod'
import { degrees, toDegrees, radians, wrapDegrees } from '../geometry/angle.ts'
import { boxAround, growBox } from '../geometry/box.ts'
import { between, pointSchema, type Point } from '../geometry/point.ts'
import { distanceToChain } from '../geometry/segment.ts'
import { applyTo, factorOf, turnAbout, turnOf } from '../geometry/similarity.ts'
import { strokedChain } from '../scene/stroke.ts'
import { labelPlate } from './label-plate.ts'
import { shapeSchemaOf, type Known } from './shape-base.ts'
import type { ShapeDefinition } from './shape-definition.ts'
import { scaledStyle, toStroke } from './two-points.ts'
import { said } from '../wording/phrase.ts'

const side = z.number().finite().nonnegative()
const schema = shapeSchemaOf('box', 1, {
  centre: pointSchema,
  widthPx: side,
  heightPx: side,
  /** Turned clockwise on the screen about its centre. */
  turnDeg: z.number().finite(),
})
export type BoxShape = Known<z.infer<typeof schema>>

const cornerNames = [
  said('handle.topLeft'),
  said('handle.topRight'),
  said('handle.bottomRight'),
  said('handle.bottomLeft'),
] as const

/** Corners in the order of `cornerNames`, as seen before turning. */
function corners({ centre, widthPx, heightPx, turnDeg }: BoxShape): Point[] {
  const turn = turnAbout(centre, degrees(turnDeg))
  const [w, h] = [widthPx / 2, heightPx / 2]
  return [
    { x: centre.x - w, y: centre.y - h },
    { x: centre.x + w, y: centre.y - h },
    { x: centre.x + w, y: centre.y + h },
    { x: centre.x - w, y: centre.y + h },
  ].map((corner) => applyTo(turn, corner))
}

/** A rectangle; dragging a corner keeps the opposite corner and the turn. */
export const box: ShapeDefinition<BoxShape> = {
  kind: 'box',
  name: 'Box',
  version: 1,
  schema,
  upgrades: {},
  placing: { by: 'drag' },
  create: ([from, to], style) => ({
    kind: 'box',
    version: 1,
    style,
    label: '',
    centre: between(from!, to!),
    widthPx: Math.abs(to!.x - from!.x),
    heightPx: Math.abs(to!.y - from!.y),
    turnDeg: 0,
  }),
  handles: (shape) => [
    ...corners(shape).map((at, i) => ({ id: `corner-${i}`, at, label: cornerNames[i]! })),
    { id: 'turn', at: turnHandle(shape), label: 'Turn' },
  ],
  moveHandle: (shape, handleId, to) => {
    if (handleId === 'turn') {
      const turn = radians(Math.atan2(to.y - shape.centre.y, to.x - shape.centre.x) + Math.PI / 2)
      return { ...shape, turnDeg: wrapDegrees(toDegrees(turn)) }
    }
    const i = [0, 1, 2, 3].find((corner) => handleId === `corner-${corner}`)
    if (i === undefined) return shape
    const opposite = corners(shape)[(i + 2) % 4]!
    const upright = turnAbout(opposite, degrees(-shape.turnDeg))
    const moved = applyTo(upright, to)
    return {
      ...shape,
      centre: between(opposite, to),
      widthPx: Math.abs(moved.x - opposite.x),
      heightPx: Math.abs(moved.y - opposite.y),
    }
  },
  bounds: (shape) => growBox(boxAround(corners(shape)), shape.style.widthPx / 2),
  distance: (shape, p) => {
    const outline = corners(shape)
    return toStroke(distanceToChain(p, [...outline, outline[0]!]), shape.style)
  },
  transform: (shape, map) => ({
    ...shape,
    style: scaledStyle(shape.style, map),
    centre: applyTo(map, shape.centre),
    widthPx: shape.widthPx * factorOf(map),
    heightPx: shape.heightPx * factorOf(map),
    turnDeg: wrapDegrees(
      degrees((map.isMirrored ? -shape.turnDeg : shape.turnDeg) + toDegrees(radians(turnOf(map)))),
    ),
  }),
  measure: () => null,
  paint: (shape, context) => {
    const top = boxAround(corners(shape))
    return [
      ...strokedChain(corners(shape), shape.style, true),
      ...labelPlate(shape, { x: top.x + top.width / 2, y: top.y }, 'above', context),
    ]
  },
}

/** A little above the middle of the top side. */
function turnHandle(shape: BoxShape): Point {
  const away = Math.max(20, shape.heightPx * 0.15)
  return applyTo(turnAbout(shape.centre, degrees(shape.turnDeg)), {
    x: shape.centre.x,
    y: shape.centre.y - shape.heightPx / 2 - away,
  })
}
