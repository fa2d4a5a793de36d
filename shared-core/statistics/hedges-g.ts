import gammaln from '@stdlib/math-base-special-gammaln'
import { allEqual } from './all-equal.ts'
import { twoSidedNormal } from './distributions.ts'
import { mean } from './mean.ts'
import { presentValues } from './reading.ts'
import type { Readings, Reason } from './reading.ts'
import { sumOfSquares } from './variance.ts'

/** Standardised difference of two means (Hedges 1981). */
export interface HedgesG {
  /** Difference of the means over the pooled standard deviation. */
  d: number | null
  /** J, which takes out the small-sample bias of d. */
  correction: number | null
  g: number | null
  lower: number | null
  upper: number | null
  reason: Reason | null
}

/**
 * Standardised difference: g = J·d, J = Γ(df/2)/(√(df/2)·Γ((df − 1)/2)), with a normal interval from
 * V = J²·[(n₁ + n₂)/(n₁n₂) + d²/(2(n₁ + n₂))]. For comparing metrics and lessons; five readings each to show.
 * Sources: Hedges 1981, J Educ Stat 6:107; Borenstein et al. 2009, Introduction to Meta-Analysis.
 */
export function hedgesG(before: Readings, after: Readings, options: { confidence?: number } = {}): HedgesG {
  const { confidence = 0.95 } = options
  const a = presentValues(before)
  const b = presentValues(after)
  const none = { d: null, correction: null, g: null, lower: null, upper: null }
  if (a.length < 2 || b.length < 2) return { ...none, reason: 'too-few' }
  if (allEqual(a) && allEqual(b)) return { ...none, reason: 'no-spread' }
  const total = a.length + b.length
  const df = total - 2
  const d = (mean(b) - mean(a)) / Math.sqrt((sumOfSquares(a) + sumOfSquares(b)) / df)
  const correction = Math.exp(gammaln(df / 2) - 0.5 * Math.log(df / 2) - gammaln((df - 1) / 2))
  const g = correction * d
  const spread = correction * Math.sqrt(total / (a.length * b.length) + (d * d) / (2 * total))
  const reach = twoSidedNormal(confidence) * spread
  return { d, correction, g, lower: g - reach, upper: g + reach, reason: null }
}
