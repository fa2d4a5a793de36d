import type { Point } from './point.ts'

/** An upright rectangle in source pixels. */
export interface Box {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
}

/** The smallest box around the points; an empty box at the origin if there are none. */
export function boxAround(points: readonly Point[]): Box {
  if (points.length === 0) return { x: 0, y: 0, width: 0, height: 0 }
  let left = Infinity
  let top = Infinity
  let right = -Infinity
  let bottom = -Infinity
  for (const { x, y } of points) {
    left = Math.min(left, x)
    top = Math.min(top, y)
    right = Math.max(right, x)
    bottom = Math.max(bottom, y)
  }
  return { x: left, y: top, width: right - left, height: bottom - top }
}

/** The four corners, clockwise from the top left. */
export const cornersOf = (box: Box): readonly [Point, Point, Point, Point] => [
  { x: box.x, y: box.y },
  { x: box.x + box.width, y: box.y },
  { x: box.x + box.width, y: box.y + box.height },
  { x: box.x, y: box.y + box.height },
]

/** A box larger by as much on every side. */
export const growBox = (box: Box, by: number): Box => ({
  x: box.x - by,
  y: box.y - by,
  width: Math.max(0, box.width + 2 * by),
  height: Math.max(0, box.height + 2 * by),
})

/** Whether a point lies in a box, its edge included. */
export const isInside = (box: Box, p: Point): boolean =>
  p.x >= box.x && p.x <= box.x + box.width && p.y >= box.y && p.y <= box.y + box.height

/** Distance from p to the box; 0 inside it. */
export const distanceToBox = (p: Point, box: Box): number =>
  Math.hypot(
    Math.max(box.x - p.x, 0, p.x - box.x - box.width),
    Math.max(box.y - p.y, 0, p.y - box.y - box.height),
  )

/** The box on a picture of that width whose left and right are exchanged. */
export const mirroredBox = (box: Box, width: number): Box => ({ ...box, x: width - box.x - box.width })

/** Whether two boxes share a point. */
export const doOverlap = (a: Box, b: Box): boolean =>
  a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height
