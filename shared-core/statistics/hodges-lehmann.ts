import { quickselect } from 'simple-statistics'
import { walshSums } from './walsh-averages.ts'

/**
 * Hodges-Lehmann centre: median of all (xᵢ + xⱼ)/2 with i ≤ j, found by selection instead of sorting; NaN for none.
 * 95 % efficient for normal data, and it stands 29 % bad shots. Source: Hodges & Lehmann 1963.
 */
export function hodgesLehmann(values: readonly number[]): number {
  const sums = walshSums(values)
  const count = sums.length
  if (count === 0) return NaN
  // quickselect only swaps and compares, so a typed array serves it as well as a plain one.
  const workspace = sums as unknown as number[]
  const middle = count >> 1
  quickselect(workspace, middle, 0, count - 1)
  const upper = sums[middle]!
  if (count % 2 === 1) return upper / 2
  let lower = -Infinity
  for (let i = 0; i < middle; i++) if (sums[i]! > lower) lower = sums[i]!
  return (lower + upper) / 4
}
