import { ascending } from './ascending.ts'
import { standardNormalCdf } from './distributions.ts'
import { winsOfAfter } from './pairwise-differences.ts'
import { tieGroupSizes } from './rank-sum-distribution.ts'
import { presentValues } from './reading.ts'
import type { Readings, Reason } from './reading.ts'

/**
 * p-value of the shift for big blocks (more than 40,000 pairs): normal approximation with tie and continuity
 * correction, as R's wilcox.test(exact = FALSE). Source: Hollander, Wolfe & Chicken 2014.
 */
export function shiftLarge(
  before: Readings,
  after: Readings,
): { u: number | null; p: number | null; reason: Reason | null } {
  const a = presentValues(before)
  const b = presentValues(after)
  const m = b.length
  const n = a.length
  if (m === 0 || n === 0) return { u: null, p: null, reason: 'no-data' }
  const u = winsOfAfter(a, b)
  const total = m + n
  const ties = tieGroupSizes(ascending([...a, ...b])).reduce((sum, size) => sum + (size ** 3 - size), 0)
  const variance = ((m * n) / 12) * (total + 1 - ties / (total * (total - 1)))
  const distance = u - (m * n) / 2
  if (!(variance > 0)) return { u, p: 1, reason: null }
  const z = (distance - Math.sign(distance) * 0.5) / Math.sqrt(variance)
  return { u, p: Math.min(1, 2 * standardNormalCdf(-Math.abs(z))), reason: null }
}
