import type { Reason } from '../../../shared-core/statistics/reading.ts'

/**
 * A ratio of two measured quantities and its standard error, first order:
 * (u_E/E)² = (u_B/B)² + (u_C/C)² − 2r·(u_B/B)(u_C/C). Source: JCGM 100:2008 (GUM) 5.2.2, annex H.2.
 */
export function ratioUncertainty(
  parts: { numerator: number; numeratorSe: number; denominator: number; denominatorSe: number },
  options: { correlation?: number } = {},
): { ratio: number | null; standardError: number | null; reason: Reason | null } {
  const { correlation = 0 } = options
  const { numerator, numeratorSe, denominator, denominatorSe } = parts
  if (denominator === 0) return { ratio: null, standardError: null, reason: 'no-data' }
  const ratio = numerator / denominator
  const fromNumerator = numeratorSe / denominator
  const fromDenominator = (ratio * denominatorSe) / denominator
  const square = fromNumerator ** 2 + fromDenominator ** 2 - 2 * correlation * fromNumerator * fromDenominator
  return { ratio, standardError: Math.sqrt(Math.max(0, square)), reason: null }
}
