import ranks from '@stdlib/stats-ranks'
import { allEqual } from './all-equal.ts'
import { twoSidedNormal, twoSidedTPValue } from './distributions.ts'
import { presentPairs } from './reading.ts'
import type { Readings, Reason } from './reading.ts'
import { covariance, variance } from './variance.ts'

/** Three coefficients of correlation between two rows of readings. */
export interface Correlation {
  n: number
  pearson: number | null
  /** Fisher's interval tanh(atanh r ± z/√(n − 3)); null for three pairs. */
  lower: number | null
  upper: number | null
  p: number | null
  spearman: number | null
  kendallTauB: number | null
  reason: Reason | null
}

/**
 * How two readings go together: Pearson with Fisher's interval, Spearman ("the farther, the worse"), Kendall's
 * tau-b. Three pairs to compute, ten to show. Sources: Fisher 1921, Metron 1:3; Bonett & Wright 2000,
 * Psychometrika 65:23; Kendall 1975.
 */
export function correlation(x: Readings, y: Readings, options: { confidence?: number } = {}): Correlation {
  const { confidence = 0.95 } = options
  const { first, second } = presentPairs(x, y)
  const n = first.length
  const none = { pearson: null, lower: null, upper: null, p: null, spearman: null, kendallTauB: null }
  if (n < 3) return { n, ...none, reason: 'too-few' }
  if (allEqual(first) || allEqual(second)) return { n, ...none, reason: 'no-spread' }
  const pearson = pearsonCorrelation(first, second)
  const isPerfect = Math.abs(pearson) === 1
  const t = pearson * Math.sqrt((n - 2) / (1 - pearson * pearson))
  return {
    n,
    pearson,
    ...fisherInterval(pearson, n, confidence),
    p: isPerfect ? 0 : twoSidedTPValue(t, n - 2),
    spearman: pearsonCorrelation(ranks(first), ranks(second)),
    kendallTauB: kendallTauB(first, second),
    reason: null,
  }
}

function fisherInterval(
  r: number,
  n: number,
  confidence: number,
): { lower: number | null; upper: number | null } {
  if (n < 4) return { lower: null, upper: null }
  const reach = twoSidedNormal(confidence) / Math.sqrt(n - 3)
  return { lower: Math.tanh(Math.atanh(r) - reach), upper: Math.tanh(Math.atanh(r) + reach) }
}

/** Pearson's r of equally long lists without gaps; NaN where one side is constant. */
export const pearsonCorrelation = (x: readonly number[], y: readonly number[]): number =>
  Math.max(-1, Math.min(1, covariance(x, y) / Math.sqrt(variance(x) * variance(y))))

function kendallTauB(x: readonly number[], y: readonly number[]): number {
  let s = 0
  let untiedX = 0
  let untiedY = 0
  for (let i = 0; i < x.length; i++) {
    for (let j = i + 1; j < x.length; j++) {
      const signX = Math.sign(x[j]! - x[i]!)
      const signY = Math.sign(y[j]! - y[i]!)
      s += signX * signY
      untiedX += Math.abs(signX)
      untiedY += Math.abs(signY)
    }
  }
  return s / Math.sqrt(untiedX * untiedY)
}
