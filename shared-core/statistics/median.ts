import { ascending } from './ascending.ts'

/** Median of sorted values; the mean of the middle two for an even count. NaN for none. */
export function medianOfSorted(sorted: ArrayLike<number>): number {
  const n = sorted.length
  if (n === 0) return NaN
  const upper = sorted[n >> 1]!
  return n % 2 === 1 ? upper : (sorted[(n >> 1) - 1]! + upper) / 2
}

/** Median; the mean of the middle two for an even count. NaN for none. */
export const median = (values: ArrayLike<number>): number => medianOfSorted(ascending(values))
