import { Matrix, QrDecomposition } from 'ml-matrix'
import { mean } from './mean.ts'
import { presentPairs } from './reading.ts'
import type { Readings, Reason } from './reading.ts'

/** Where the best speed lies against the speeds observed. */
export type Place = 'inside' | 'at-fastest' | 'at-slowest'

/** The speed at which speed times ratio is greatest, in the unit of speed. */
export interface PlaySpeed {
  /** Mean speed, about which the polynomial is written. */
  centre: number | null
  /** Ratio = c₀ + c₁(v − centre) + c₂(v − centre)². */
  coefficients: number[] | null
  /** Speed with the greatest speed × ratio between the slowest and the fastest observed. */
  best: number | null
  bestValue: number | null
  place: Place | null
  /** Where speed × ratio stays within `within` of its best. */
  bandLower: number | null
  bandUpper: number | null
  reason: Reason | null
}

/**
 * Best speed: efficiency against club speed by least squares with all shots (a mishit at high speed is the cost
 * of that speed), then the speed at which expected ball speed g(v) = v·efficiency(v) is greatest, never outside
 * what was hit. Speed against accuracy: Fitts 1954; Schmidt et al. 1979, Psychol Rev 86:415. The construction is
 * Leadside's own.
 */
export function playSpeed(
  speed: Readings,
  ratio: Readings,
  options: { degree?: number; within?: number } = {},
): PlaySpeed {
  const { degree = 2, within = 0.01 } = options
  const { first: x, second: r } = presentPairs(speed, ratio)
  const none = {
    centre: null,
    coefficients: null,
    best: null,
    bestValue: null,
    place: null,
    bandLower: null,
    bandUpper: null,
  }
  if (x.length <= degree) return { ...none, reason: 'too-few' }
  const distinct = new Set(x).size
  if (distinct <= degree) return { ...none, reason: distinct === 1 ? 'no-spread' : 'not-enough-range' }
  const centre = mean(x)
  const low = Math.min(...x)
  const high = Math.max(...x)
  const coefficients = fitPolynomial(x, r, centre, degree)
  const best = bestSpeed(coefficients, centre, low, high)
  const band = bandAround(coefficients, centre, low, high, (1 - within) * best.value)
  return {
    centre,
    coefficients,
    best: best.at,
    bestValue: best.value,
    place: best.place,
    bandLower: band?.[0] ?? null,
    bandUpper: band?.[1] ?? null,
    reason: null,
  }
}

/** Least squares by QR, x centred and scaled first so that the powers stay of one size. */
function fitPolynomial(x: readonly number[], y: readonly number[], centre: number, degree: number): number[] {
  const scale = Math.max(...x.map((value) => Math.abs(value - centre)))
  const design = new Matrix(
    x.map((value) => Array.from({ length: degree + 1 }, (_, power) => ((value - centre) / scale) ** power)),
  )
  const solution = new QrDecomposition(design).solve(Matrix.columnVector(y as number[]))
  return solution.to1DArray().map((coefficient, power) => coefficient / scale ** power)
}

/** Expected product speed × ratio at a speed. */
function productAt(coefficients: readonly number[], centre: number, speed: number): number {
  const q = speed - centre
  return speed * (coefficients[0]! + (coefficients[1] ?? 0) * q + (coefficients[2] ?? 0) * q * q)
}

/** Speeds strictly between low and high where the product's slope is 0. */
function turningPoints(coefficients: readonly number[], centre: number, low: number, high: number): number[] {
  const c1 = coefficients[1] ?? 0
  const c2 = coefficients[2] ?? 0
  const a = 3 * c2
  const b = 2 * c1 + 2 * c2 * centre
  const c = coefficients[0]! + c1 * centre
  const discriminant = b * b - 4 * a * c
  const roots =
    Math.abs(a) < 1e-300
      ? [-c / b]
      : discriminant >= 0
        ? [(-b - Math.sqrt(discriminant)) / (2 * a), (-b + Math.sqrt(discriminant)) / (2 * a)]
        : []
  return roots.map((q) => q + centre).filter((v) => Number.isFinite(v) && v > low && v < high)
}

/** The speed between low and high with the greatest product. */
export function bestSpeed(
  coefficients: readonly number[],
  centre: number,
  low: number,
  high: number,
): { at: number; value: number; place: Place } {
  let at = low
  let value = productAt(coefficients, centre, low)
  for (const candidate of [high, ...turningPoints(coefficients, centre, low, high)]) {
    const product = productAt(coefficients, centre, candidate)
    if (product > value) {
      at = candidate
      value = product
    }
  }
  return { at, value, place: at === high ? 'at-fastest' : at === low ? 'at-slowest' : 'inside' }
}

function bandAround(
  coefficients: readonly number[],
  centre: number,
  low: number,
  high: number,
  level: number,
): [number, number] | null {
  const above = (v: number): number => productAt(coefficients, centre, v) - level
  // Between neighbouring knots the product only rises or only falls, so a crossing is found by halving.
  const knots = [low, ...turningPoints(coefficients, centre, low, high).sort((a, b) => a - b), high]
  const first = knots.findIndex((v) => above(v) >= 0)
  if (first < 0) return null
  const last = knots.findLastIndex((v) => above(v) >= 0)
  return [
    first === 0 ? low : crossing(above, knots[first - 1]!, knots[first]!),
    last === knots.length - 1 ? high : crossing(above, knots[last + 1]!, knots[last]!),
  ]
}

/** Where the function crosses 0 between a speed below and a speed not below. */
function crossing(above: (v: number) => number, below: number, notBelow: number): number {
  let out = below
  let inside = notBelow
  for (let step = 0; step < 200; step++) {
    const middle = (out + inside) / 2
    if (middle === out || middle === inside) break
    if (above(middle) >= 0) inside = middle
    else out = middle
  }
  return inside
}
