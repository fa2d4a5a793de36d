import { allEqual } from './all-equal.ts'
import { mean } from './mean.ts'

/** Sum of squared deviations from the mean, two-pass; exactly 0 where all values are alike. */
export function sumOfSquares(values: readonly number[]): number {
  if (allEqual(values)) return 0
  const centre = mean(values)
  let sum = 0
  let rest = 0
  for (const value of values) {
    sum += (value - centre) ** 2
    rest += value - centre
  }
  // The rest is 0 in exact arithmetic; taking it out corrects the rounding of the mean (Chan, Golub & LeVeque 1983).
  return Math.max(0, sum - (rest * rest) / values.length)
}

/** Sample variance (divides by n - 1); NaN below two values. */
export const variance = (values: readonly number[]): number =>
  values.length < 2 ? NaN : sumOfSquares(values) / (values.length - 1)

/** Sample standard deviation (divides by n - 1); NaN below two values. */
export const standardDeviation = (values: readonly number[]): number => Math.sqrt(variance(values))

/** Sample covariance of two equally long lists (divides by n - 1), two-pass; NaN below two values. */
export function covariance(x: readonly number[], y: readonly number[]): number {
  if (x.length < 2) return NaN
  if (allEqual(x) || allEqual(y)) return 0
  const centreX = mean(x)
  const centreY = mean(y)
  let sum = 0
  for (let i = 0; i < x.length; i++) sum += (x[i]! - centreX) * (y[i]! - centreY)
  return sum / (x.length - 1)
}
