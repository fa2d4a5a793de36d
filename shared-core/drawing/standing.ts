import { boxAround, cornersOf } from '../geometry/box.ts'
import type { Point } from '../geometry/point.ts'
import { isCover, type Drawing } from './drawing.ts'
import { motionOf, type Motions } from './motion.ts'
import { plainPicture } from './shape-definition.ts'
import { definitionOf, type Shape } from './shapes.ts'

type Placed = Pick<Drawing, 'fromFrame' | 'toFrame' | 'shape' | 'tie'>

/**
 * A drawing for a place where nothing is known of what it moves with. A cover then stands over everything that it hid on its
 * way; another drawing stands on the one frame where it was drawn; the way of a point is null: there is nothing to draw it from.
 */
export const standing = <D extends Placed>(drawing: D, motions: Motions): (D & { shape: Shape }) | null => {
  const { tie } = drawing
  if (!tie) return drawing
  if (tie.to.kind === 'way') return null
  if (!isCover(drawing.shape)) return { ...drawing, fromFrame: tie.frame, toFrame: tie.frame }
  const motion = motionOf(drawing.shape, tie, motions)
  const { over } = definitionOf(drawing.shape)
  if (!motion || !over) return drawing
  const corners: Point[] = []
  for (let frame = drawing.fromFrame; frame <= drawing.toFrame; frame++) {
    for (const shape of motion(frame)) {
      corners.push(...cornersOf(definitionOf(shape).bounds(shape, plainPicture)))
    }
  }
  return corners.length === 0
    ? drawing
    : { ...drawing, shape: over(drawing.shape, boxAround(corners), false) }
}
