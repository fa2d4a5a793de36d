import ttest2 from '@stdlib/stats-ttest2'
import { allEqual } from './all-equal.ts'
import { mean } from './mean.ts'
import { finiteOrNull, presentValues } from './reading.ts'
import type { Readings, Reason } from './reading.ts'
import { variance } from './variance.ts'

/** Welch's test of two means (Welch 1947), in the readings' own unit. */
export interface WelchResult {
  /** Mean after − mean before. */
  difference: number | null
  standardError: number | null
  df: number | null
  t: number | null
  p: number | null
  lower: number | null
  upper: number | null
  reason: Reason | null
}

/**
 * Difference of two means with unequal variances: d ± t·SE, SE² = s₁²/n₁ + s₂²/n₂, Welch-Satterthwaite degrees
 * of freedom. Means, so one mishit moves it. Two readings each to compute, five to show.
 * Source: Welch 1947, Biometrika 34:28.
 */
export function welch(before: Readings, after: Readings, options: { confidence?: number } = {}): WelchResult {
  const { confidence = 0.95 } = options
  const a = presentValues(before)
  const b = presentValues(after)
  const difference = finiteOrNull(mean(b) - mean(a))
  const none = { difference, df: null, t: null, p: null, lower: null, upper: null }
  if (a.length < 2 || b.length < 2) return { ...none, standardError: null, reason: 'too-few' }
  if (allEqual(a) && allEqual(b)) return { ...none, standardError: 0, reason: 'no-spread' }
  const standardError = Math.sqrt(variance(a) / a.length + variance(b) / b.length)
  const test = ttest2(b, a, { variance: 'unequal', alpha: 1 - confidence })
  return {
    difference,
    standardError,
    df: finiteOrNull(test.df),
    t: finiteOrNull(test.statistic),
    p: finiteOrNull(test.pValue),
    lower: finiteOrNull(test.ci[0]!),
    upper: finiteOrNull(test.ci[1]!),
    reason: null,
  }
}
