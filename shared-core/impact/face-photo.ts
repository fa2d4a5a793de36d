import { between, distance, times, unitFrom, type Point } from '../geometry/point.ts'
import type { Side } from '../model/entities.ts'

/** What the coach marked on a photo of a club's face: its two ends at the height of its middle, and how far apart they are. */
export interface FaceMarks {
  toe: Point
  heel: Point
  lengthMm: number
}

/** A place on the face, mm from its centre: towards the toe and up, as strikes are kept. */
export interface FacePlace {
  xMm: number
  yMm: number
}

/**
 * The face's own axes in the photo, pixels per mm: towards the toe, and up. Looking at the face with its sole down,
 * a right-hander's toe is on the left, so that up is a quarter turn clockwise from it; a left-hander's is the mirror image.
 * Null where the marks are one place.
 */
export function faceAxes(
  { toe, heel, lengthMm }: FaceMarks,
  side: Side,
): { centre: Point; toe: Point; up: Point } | null {
  const pixels = distance(toe, heel)
  if (!(pixels > 0 && lengthMm > 0)) return null
  const toToe = times(unitFrom(heel, toe), pixels / lengthMm)
  const up = side === 'right' ? { x: -toToe.y, y: toToe.x } : { x: toToe.y, y: -toToe.x }
  return { centre: between(toe, heel), toe: toToe, up }
}

/** A place in the photo as a place on the face; null where the marks give no scale. */
export function placeOnFace(point: Point, marks: FaceMarks, side: Side): FacePlace | null {
  const axes = faceAxes(marks, side)
  if (!axes) return null
  const [dx, dy] = [point.x - axes.centre.x, point.y - axes.centre.y]
  const square = axes.toe.x ** 2 + axes.toe.y ** 2
  return {
    xMm: (dx * axes.toe.x + dy * axes.toe.y) / square,
    yMm: (dx * axes.up.x + dy * axes.up.y) / square,
  }
}
