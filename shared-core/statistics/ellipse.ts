import { chiSquareQuantile, fCdf, fQuantile } from './distributions.ts'
import { mean } from './mean.ts'
import { isPresent } from './reading.ts'
import type { Reading, Reason } from './reading.ts'
import { covariance, variance } from './variance.ts'

/** Where points of two coordinates lie and scatter, in their own unit. */
export interface Ellipse {
  n: number
  centre: [number, number] | null
  /** [var x, cov, var y]. */
  covariance: [number, number, number] | null
  /** Larger first. */
  eigenvalues: [number, number] | null
  /** Major axis against +x, in (−90°, 90°]; null if round. */
  angleDegrees: number | null
  semiAxesChiSquare: [number, number] | null
  /** Holds the asked share of shots only if the covariance is known or the shots are many. */
  areaChiSquare: number | null
  /** Half axes of the ellipse in which the next shot falls: the one to show. */
  semiAxesPrediction: [number, number] | null
  areaPrediction: number | null
  /** Where the centre lies. */
  areaMean: number | null
  /** Distance of the centre from the target. */
  biasDistance: number | null
  hotellingT2: number | null
  f: number | null
  p: number | null
  reason: Reason | null
}

/**
 * Strike pattern: covariance ellipse and bias from a target. The prediction ellipse carries the F factor
 * 2(n − 1)(n + 1)/(n(n − 2))·F(2, n − 2), because the χ² ellipse of 8 shots holds 82 % of new shots, not 95 %.
 * Four points to compute, eight to show, fifteen to compare areas.
 * Sources: Chew 1966, JASA 61:605; Schubert & Kirchner 2014, Gait Posture 39:518; Hotelling 1931.
 */
export function ellipse(
  points: readonly (readonly Reading[])[],
  options: { confidence?: number; target?: readonly [number, number] | readonly number[] } = {},
): Ellipse {
  const { confidence = 0.95, target = [0, 0] } = options
  const kept = points.filter((point) => isPresent(point[0]) && isPresent(point[1]))
  const x = kept.map((point) => point[0]!)
  const y = kept.map((point) => point[1]!)
  const n = kept.length
  if (n === 0) return { ...nothing, n, reason: 'no-data' }
  const centre: [number, number] = [mean(x), mean(y)]
  const offset = [centre[0] - target[0]!, centre[1] - target[1]!] as const
  const biasDistance = Math.hypot(...offset)
  if (n < 2) return { ...nothing, n, centre, biasDistance, reason: 'too-few' }

  const sxx = variance(x)
  const sxy = covariance(x, y)
  const syy = variance(y)
  const [larger, smaller] = eigenvaluesOf(sxx, sxy, syy)
  const isFlat = smaller <= 1e-12 * larger
  const isRound = larger - smaller <= 1e-12 * larger
  const size = Math.sqrt(larger * smaller)
  const axes = (factor: number): [number, number] => [Math.sqrt(factor * larger), Math.sqrt(factor * smaller)]
  const chiSquare = chiSquareQuantile(confidence, 2)
  const shape = {
    ...nothing,
    n,
    centre,
    covariance: [sxx, sxy, syy] as [number, number, number],
    eigenvalues: [larger, smaller] as [number, number],
    angleDegrees: isRound ? null : majorAxisDegrees(sxx, sxy, syy),
    semiAxesChiSquare: axes(chiSquare),
    areaChiSquare: Math.PI * chiSquare * size,
    biasDistance,
  }
  if (n < 4) return { ...shape, reason: 'too-few' }
  const quantile = fQuantile(confidence, 2, n - 2)
  const meanFactor = ((2 * (n - 1)) / (n * (n - 2))) * quantile
  const predictionFactor = meanFactor * (n + 1)
  const areas = {
    semiAxesPrediction: axes(predictionFactor),
    areaPrediction: Math.PI * predictionFactor * size,
    areaMean: Math.PI * meanFactor * size,
  }
  if (isFlat) return { ...shape, ...areas, reason: 'no-spread' }
  const determinant = sxx * syy - sxy * sxy
  const hotellingT2 =
    (n * (syy * offset[0] ** 2 - 2 * sxy * offset[0] * offset[1] + sxx * offset[1] ** 2)) / determinant
  const f = ((n - 2) / (2 * (n - 1))) * hotellingT2
  return { ...shape, ...areas, hotellingT2, f, p: Math.max(0, 1 - fCdf(f, 2, n - 2)), reason: null }
}

const nothing = {
  centre: null,
  covariance: null,
  eigenvalues: null,
  angleDegrees: null,
  semiAxesChiSquare: null,
  areaChiSquare: null,
  semiAxesPrediction: null,
  areaPrediction: null,
  areaMean: null,
  biasDistance: null,
  hotellingT2: null,
  f: null,
  p: null,
}

/**
 * Eigenvalues of a symmetric 2 × 2 matrix with entries a, b, c, larger first. The smaller one is taken as
 * determinant over the larger, factor by factor, which keeps its digits where the points are nearly on a line.
 * Source: LAPACK dlaev2.
 */
function eigenvaluesOf(a: number, b: number, c: number): [number, number] {
  const sum = a + c
  if (sum <= 0) return [0, 0]
  const difference = Math.abs(a - c)
  const twice = Math.abs(2 * b)
  const [large, small] = difference > twice ? [difference, twice] : [twice, difference]
  const root =
    large === 0 ? 0 : large === small ? large * Math.SQRT2 : large * Math.sqrt(1 + (small / large) ** 2)
  const larger = 0.5 * (sum + root)
  const smaller = (Math.max(a, c) / larger) * Math.min(a, c) - (b / larger) * b
  return [larger, Math.max(0, smaller)]
}

function majorAxisDegrees(sxx: number, sxy: number, syy: number): number {
  const degrees = (0.5 * Math.atan2(2 * sxy, sxx - syy) * 180) / Math.PI
  return degrees <= -90 ? degrees + 180 : degrees
}
