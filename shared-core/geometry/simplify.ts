import type { Point } from './point.ts'
import { distanceToSegment } from './segment.ts'

/**
 * A hand-drawn stroke with fewer points: every point left out lies within `withinPx` of the chain that stays.
 * The ends stay. Source: D. Douglas, T. Peucker, "Algorithms for the reduction of the number of points required to
 * represent a digitized line", Cartographica 10 (1973) 112-122. Iterative, so a long stroke cannot exhaust the stack.
 */
export function simplify(points: readonly Point[], withinPx: number): Point[] {
  if (points.length <= 2) return [...points]
  const stays = new Uint8Array(points.length)
  stays[0] = 1
  stays[points.length - 1] = 1
  const stretches: [number, number][] = [[0, points.length - 1]]
  for (let stretch = stretches.pop(); stretch !== undefined; stretch = stretches.pop()) {
    const [first, last] = stretch
    let farthest = -1
    let farthestPx = withinPx
    for (let i = first + 1; i < last; i++) {
      const px = distanceToSegment(points[i]!, points[first]!, points[last]!)
      if (px > farthestPx) {
        farthest = i
        farthestPx = px
      }
    }
    if (farthest < 0) continue
    stays[farthest] = 1
    stretches.push([first, farthest], [farthest, last])
  }
  return points.filter((_, i) => stays[i] === 1)
}
