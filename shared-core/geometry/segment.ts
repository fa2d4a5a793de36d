import { distance, dot, subtract, type Point } from './point.ts'

/** The point of the segment from a to b that is nearest to p. */
export function nearestOnSegment(p: Point, a: Point, b: Point): Point {
  const along = subtract(b, a)
  const squared = dot(along, along)
  if (squared === 0) return a
  const share = Math.min(1, Math.max(0, dot(subtract(p, a), along) / squared))
  return { x: a.x + along.x * share, y: a.y + along.y * share }
}

/** Distance from a point to the nearest point of a segment. */
export const distanceToSegment = (p: Point, a: Point, b: Point): number =>
  distance(p, nearestOnSegment(p, a, b))

/** Distance to a chain of segments; to the point itself if there is only one, Infinity if there is none. */
export function distanceToChain(p: Point, points: readonly Point[]): number {
  const [only] = points
  if (only === undefined) return Infinity
  let nearest = distance(p, only)
  for (let i = 1; i < points.length; i++) {
    nearest = Math.min(nearest, distanceToSegment(p, points[i - 1]!, points[i]!))
  }
  return nearest
}
