import { allEqual } from '../../../shared-core/statistics/all-equal.ts'
import { mean } from '../../../shared-core/statistics/mean.ts'
import { presentValues } from '../../../shared-core/statistics/reading.ts'
import type { Readings, Reason } from '../../../shared-core/statistics/reading.ts'

/**
 * Lag-1 autocorrelation r₁ = Σ(xᵢ − x̄)(xᵢ₊₁ − x̄)/Σ(xᵢ − x̄)²: how much a shot resembles the one before.
 * Source: NIST/SEMATECH e-Handbook of Statistical Methods 1.3.5.12.
 */
export function lag1(values: Readings): { lag1: number | null; reason: Reason | null } {
  const present = presentValues(values)
  if (present.length < 3) return { lag1: null, reason: 'too-few' }
  if (allEqual(present)) return { lag1: null, reason: 'no-spread' }
  const centre = mean(present)
  let cross = 0
  let square = 0
  present.forEach((value, i) => {
    square += (value - centre) ** 2
    if (i > 0) cross += (value - centre) * (present[i - 1]! - centre)
  })
  return { lag1: cross / square, reason: null }
}
