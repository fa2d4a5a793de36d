import { standardNormalCdf, twoSidedNormal } from './distributions.ts'
import { inversionCumulative } from './inversion-distribution.ts'
import { median, medianOfSorted } from './median.ts'
import { presentPairs } from './reading.ts'
import type { Readings, Reason } from './reading.ts'

/** A trend by ranks (Mann 1945, Kendall; slope: Theil 1950, Sen 1968), in the readings' own unit. */
export interface Trend {
  n: number
  /** Mann-Kendall S: rises minus falls over all pairs. */
  s: number | null
  varS: number | null
  /** Kendall's tau-b. */
  tau: number | null
  z: number | null
  pNormal: number | null
  /** Exact p from inversion counts; null with ties. */
  pExact: number | null
  /** Median of all pairwise slopes (Theil-Sen), in units of the reading per unit of x. */
  slope: number | null
  intercept: number | null
  lower: number | null
  upper: number | null
  achievedConfidence: number | null
  reason: Reason | null
}

/** From this many readings on the exact p-value gives way to the normal one: they no longer differ. */
const maxExactN = 400

/**
 * Does it drift: Mann-Kendall test and Theil-Sen slope with Sen's interval from the inversion distribution.
 * `x` may be uneven (days); without it the readings' places count, missing ones included. p ≤ 0.05 needs five
 * readings; useful from ten. Sources: Mann 1945, Econometrica 13:245; Sen 1968, JASA 63:1379; Kendall 1975.
 */
export function trend(values: Readings, options: { x?: Readings; confidence?: number } = {}): Trend {
  const { confidence = 0.95 } = options
  const pairs = presentPairs(options.x ?? values.map((_, i) => i + 1), values)
  const order = pairs.first.map((_, i) => i).sort((i, j) => pairs.first[i]! - pairs.first[j]!)
  const x = order.map((i) => pairs.first[i]!)
  const y = order.map((i) => pairs.second[i]!)
  const n = y.length
  if (n < 3) return { n, ...nothing, reason: 'too-few' }

  let s = 0
  const slopes: number[] = []
  for (let i = 0; i < n; i++) {
    for (let j = i + 1; j < n; j++) {
      if (x[i] === x[j]) continue
      s += Math.sign(y[j]! - y[i]!)
      slopes.push((y[j]! - y[i]!) / (x[j]! - x[i]!))
    }
  }
  if (slopes.length === 0) return { n, ...nothing, reason: 'not-enough-range' }

  const tiesX = tieSizes(x)
  const tiesY = tieSizes(y)
  const varS = varianceOfS(n, tiesX, tiesY)
  const z = varS > 0 ? (Math.sign(s) * Math.max(Math.abs(s) - 1, 0)) / Math.sqrt(varS) : 0
  const all = (n * (n - 1)) / 2
  const untied = (sizes: number[]): number => all - sum(sizes, (size) => (size * (size - 1)) / 2)
  const isTied = tiesX.length < n || tiesY.length < n
  const cumulative = inversionCumulative(Math.min(n, maxExactN))
  const bounds = slopeBounds(Float64Array.from(slopes).sort(), n, cumulative, confidence, varS)
  return {
    n,
    s,
    varS,
    tau: varS > 0 ? s / Math.sqrt(untied(tiesX) * untied(tiesY)) : null,
    z,
    pNormal: Math.min(1, 2 * standardNormalCdf(-Math.abs(z))),
    pExact: isTied || n > maxExactN ? null : Math.min(1, 2 * cumulative[(all - Math.abs(s)) / 2]!),
    ...bounds,
    intercept: median(y.map((value, i) => value - bounds.slope * x[i]!)),
    reason: null,
  }
}

const nothing = {
  s: null,
  varS: null,
  tau: null,
  z: null,
  pNormal: null,
  pExact: null,
  slope: null,
  intercept: null,
  lower: null,
  upper: null,
  achievedConfidence: null,
}

function slopeBounds(
  sorted: Float64Array,
  n: number,
  cumulative: Float64Array,
  confidence: number,
  varS: number,
): { slope: number; lower: number; upper: number; achievedConfidence: number } {
  const tail = (1 - confidence) / 2
  let k = 1
  let achievedConfidence = confidence
  if (n > maxExactN) {
    // Sen 1968, large samples: ranks half the pairs ± half of z·σ(S).
    const reach = Math.sqrt(varS) * twoSidedNormal(confidence)
    k = Math.max(1, Math.floor((sorted.length - reach) / 2))
  } else {
    // Largest k with P(fewer than k discordant pairs) ≤ tail; at least 1.
    let count = 0
    while (count < cumulative.length && cumulative[count]! <= tail) count++
    k = Math.min(Math.max(1, count), sorted.length)
    achievedConfidence = 1 - 2 * cumulative[k - 1]!
  }
  return {
    slope: medianOfSorted(sorted),
    lower: sorted[k - 1]!,
    upper: sorted[sorted.length - k]!,
    achievedConfidence,
  }
}

function tieSizes(values: readonly number[]): number[] {
  const sizes = new Map<number, number>()
  for (const value of values) sizes.set(value, (sizes.get(value) ?? 0) + 1)
  return [...sizes.values()]
}

const sum = (sizes: readonly number[], term: (size: number) => number): number =>
  sizes.reduce((total, size) => total + term(size), 0)

/** Variance of S with ties on either side. Source: Kendall 1975, as in R's cor.test(method = "kendall"). */
function varianceOfS(n: number, tiesX: readonly number[], tiesY: readonly number[]): number {
  const cubic = (size: number): number => size * (size - 1) * (2 * size + 5)
  const square = (size: number): number => size * (size - 1)
  const triple = (size: number): number => size * (size - 1) * (size - 2)
  return (
    (cubic(n) - sum(tiesX, cubic) - sum(tiesY, cubic)) / 18 +
    (sum(tiesX, square) * sum(tiesY, square)) / (2 * square(n)) +
    (sum(tiesX, triple) * sum(tiesY, triple)) / (9 * triple(n))
  )
}
