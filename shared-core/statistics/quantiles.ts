import { quantileSorted } from 'simple-statistics'
import { ascending } from './ascending.ts'
import { presentValues } from './reading.ts'
import type { Readings, Reason } from './reading.ts'

/** Type 7 quantile of sorted values (simple-statistics); NaN for none. Source: Hyndman & Fan 1996. */
export const quantileOfSorted = (sorted: ArrayLike<number>, probability: number): number =>
  sorted.length === 0 ? NaN : quantileSorted(sorted as number[], probability)

/**
 * Quantiles of type 7 of the readings that are there, one per probability.
 * The 90 % quantile of a player's own efficiency is a measured ceiling from 20 shots on.
 * Source: Hyndman & Fan 1996, Am Stat 50:361.
 */
export function quantiles(
  values: Readings,
  probabilities: readonly number[],
): { quantiles: (number | null)[]; reason: Reason | null } {
  const sorted = ascending(presentValues(values))
  if (sorted.length === 0) return { quantiles: probabilities.map(() => null), reason: 'no-data' }
  return { quantiles: probabilities.map((p) => quantileOfSorted(sorted, p)), reason: null }
}
