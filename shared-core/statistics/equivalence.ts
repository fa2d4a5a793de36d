import { tCdf } from './distributions.ts'
import type { Readings, Reason } from './reading.ts'
import { welch } from './welch.ts'

/** Two one-sided tests against a margin (Schuirmann 1987). */
export interface Equivalence {
  difference: number | null
  /** One-sided p that the difference lies above −margin. */
  pAboveLower: number | null
  /** One-sided p that the difference lies below +margin. */
  pBelowUpper: number | null
  p: number | null
  /** Interval with confidence 1 − 2·alpha; inside ±margin means equivalent. */
  lower: number | null
  upper: number | null
  equivalent: boolean | null
  reason: Reason | null
}

/**
 * Is it the same: two one-sided Welch tests against ±margin. Source: Schuirmann 1987,
 * J Pharmacokinet Biopharm 15:657.
 */
export function equivalence(
  before: Readings,
  after: Readings,
  options: { margin: number; alpha?: number },
): Equivalence {
  const { margin, alpha = 0.05 } = options
  const test = welch(before, after, { confidence: 1 - 2 * alpha })
  const { difference, standardError, df, lower, upper } = test
  if (difference === null || standardError === null || df === null || lower === null || upper === null) {
    return {
      difference,
      pAboveLower: null,
      pBelowUpper: null,
      p: null,
      lower: null,
      upper: null,
      equivalent: null,
      reason: test.reason,
    }
  }
  const pAboveLower = tCdf(-(difference + margin) / standardError, df)
  const pBelowUpper = tCdf((difference - margin) / standardError, df)
  const p = Math.max(pAboveLower, pBelowUpper)
  return { difference, pAboveLower, pBelowUpper, p, lower, upper, equivalent: p < alpha, reason: null }
}
