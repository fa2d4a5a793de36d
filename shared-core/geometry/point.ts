import { z } from 'zod'

/** A place in source pixels of the displayed picture (rotation applied): x to the right, y down. */
export interface Point {
  readonly x: number
  readonly y: number
}

/** A point as it is stored. */
export const pointSchema = z.object({ x: z.number().finite(), y: z.number().finite() })

/** a + b */
export const add = (a: Point, b: Point): Point => ({ x: a.x + b.x, y: a.y + b.y })

/** a − b */
export const subtract = (a: Point, b: Point): Point => ({ x: a.x - b.x, y: a.y - b.y })

/** A vector by a number. */
export const times = (a: Point, factor: number): Point => ({ x: a.x * factor, y: a.y * factor })

/** Scalar product. */
export const dot = (a: Point, b: Point): number => a.x * b.x + a.y * b.y
/** Third component of the cross product; positive if b lies clockwise of a on the screen (y is down). */
export const cross = (a: Point, b: Point): number => a.x * b.y - a.y * b.x

/** Distance of two points. */
export const distance = (a: Point, b: Point): number => Math.hypot(a.x - b.x, a.y - b.y)

/** The point at a share of the way from a to b; half way unless said. */
export const between = (a: Point, b: Point, share = 0.5): Point => ({
  x: a.x + (b.x - a.x) * share,
  y: a.y + (b.y - a.y) * share,
})

/** Direction from a to b with length 1; to the right if the two points are the same. */
export function unitFrom(a: Point, b: Point): Point {
  const length = distance(a, b)
  return length === 0 ? { x: 1, y: 0 } : { x: (b.x - a.x) / length, y: (b.y - a.y) / length }
}

/** The vector turned a quarter turn clockwise on the screen. */
export const quarterTurn = (a: Point): Point => ({ x: -a.y, y: a.x })

/** The point that is highest on the screen; there must be one. */
export const highest = (points: readonly Point[]): Point =>
  points.reduce((best, point) => (point.y < best.y ? point : best))
