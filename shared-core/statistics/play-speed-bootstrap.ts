import { ascending } from './ascending.ts'
import { defaultGenerator, drawIndex } from './generator.ts'
import type { Generator } from './generator.ts'
import { mean } from './mean.ts'
import { bestSpeed } from './play-speed.ts'
import type { Place } from './play-speed.ts'
import { quantileOfSorted } from './quantiles.ts'
import { finiteOrNull, presentPairs } from './reading.ts'
import type { Readings, Reason } from './reading.ts'
import { variance } from './variance.ts'

/** Where the best speed lies against the speeds observed, or why that can't be told. */
export type PlaySpeedVerdict = 'too-few' | 'not-enough-range' | 'inside' | 'still-rising' | 'falling'

/** How surely the best speed is known, by resampling, in the unit of speed. */
export interface PlaySpeedBootstrap {
  /** 1 − u²/s²: share of the spread of club speed that is not the device's error. */
  reliability: number | null
  shareInside: number | null
  shareFastest: number | null
  shareSlowest: number | null
  /** 2.5 and 97.5 % quantiles of the best speed. */
  lower: number | null
  upper: number | null
  verdict: PlaySpeedVerdict
  reason: Reason | null
}

/** What the resampling may be told; every part has its default. */
export interface PlaySpeedBootstrapOptions {
  /** One-sigma error of one club speed reading. */
  speedSem?: number
  degree?: number
  replicates?: number
  generator?: Generator
  /** Share of runs that must agree on the place. */
  share?: number
  minReliability?: number
  minShots?: number
}

/**
 * How sure the best speed is: pairs resampled, best speed of each, and a verdict that refuses: too few pairs;
 * speeds that differ no more than the device errs (then the naive optimum falls on the mean speed whatever the
 * player does); runs that do not agree. Sources: Davison & Hinkley 1997; the refusal rules are Leadside's own.
 */
export function playSpeedBootstrap(
  speed: Readings,
  ratio: Readings,
  options: PlaySpeedBootstrapOptions = {},
): PlaySpeedBootstrap {
  const { speedSem = 0, degree = 2, replicates = 2_000, generator = defaultGenerator() } = options
  const { share = 0.95, minReliability = 0.8, minShots = 12 } = options
  const { first: x, second: r } = presentPairs(speed, ratio)
  const n = x.length
  const spread = variance(x)
  const reliability = spread > 0 ? 1 - speedSem ** 2 / spread : null

  const runs = n > 0 ? resample(x, r, degree, replicates, generator) : { at: [], places: noPlaces() }
  const fitted = runs.at.length
  const shareOf = (place: Place): number | null => (fitted > 0 ? runs.places[place] / fitted : null)
  const sorted = ascending(runs.at)
  const shares = {
    shareInside: shareOf('inside'),
    shareFastest: shareOf('at-fastest'),
    shareSlowest: shareOf('at-slowest'),
  }
  const decide = (): PlaySpeedVerdict => {
    if (n < minShots) return 'too-few'
    if (reliability === null || reliability < minReliability || fitted === 0) return 'not-enough-range'
    if (shares.shareInside! >= share) return 'inside'
    if (shares.shareFastest! >= share) return 'still-rising'
    if (shares.shareSlowest! >= share) return 'falling'
    return 'not-enough-range'
  }
  return {
    reliability,
    ...shares,
    lower: finiteOrNull(quantileOfSorted(sorted, 0.025)),
    upper: finiteOrNull(quantileOfSorted(sorted, 0.975)),
    verdict: decide(),
    reason: fitted > 0 ? null : n === 0 ? 'no-data' : 'not-enough-range',
  }
}

const noPlaces = (): Record<Place, number> => ({ inside: 0, 'at-fastest': 0, 'at-slowest': 0 })

function resample(
  x: readonly number[],
  ratio: readonly number[],
  degree: number,
  replicates: number,
  generator: Generator,
): { at: number[]; places: Record<Place, number> } {
  const n = x.length
  const centre = mean(x)
  const low = Math.min(...x)
  const high = Math.max(...x)
  const scale = Math.max(high - centre, centre - low) || 1
  const scaled = x.map((value) => (value - centre) / scale)
  const at: number[] = []
  const places = noPlaces()
  const picked = new Int32Array(n)
  for (let run = 0; run < replicates; run++) {
    for (let i = 0; i < n; i++) picked[i] = drawIndex(generator, n)
    if (!hasMoreThan(degree, picked, x)) continue
    const coefficients = fitPicked(scaled, ratio, picked, degree)
    if (coefficients === null) continue
    const best = bestSpeed(
      coefficients.map((coefficient, power) => coefficient / scale ** power),
      centre,
      low,
      high,
    )
    at.push(best.at)
    places[best.place]++
  }
  return { at, places }
}

/** True if the picked shots have more than `count` different speeds. */
function hasMoreThan(count: number, picked: Int32Array, x: readonly number[]): boolean {
  const seen: number[] = []
  for (const i of picked) {
    if (seen.includes(x[i]!)) continue
    seen.push(x[i]!)
    if (seen.length > count) return true
  }
  return false
}

/**
 * Least squares on scaled, centred speeds by normal equations (Gaussian elimination with pivoting): thousands of
 * small fits, of which only the quantiles are used.
 */
function fitPicked(
  scaled: readonly number[],
  ratio: readonly number[],
  picked: Int32Array,
  degree: number,
): number[] | null {
  const size = degree + 1
  const powers = new Float64Array(2 * degree + 1)
  const right = new Float64Array(size)
  for (const i of picked) {
    const q = scaled[i]!
    let power = 1
    for (let k = 0; k < powers.length; k++) {
      powers[k]! += power
      if (k < size) right[k]! += power * ratio[i]!
      power *= q
    }
  }
  const rows = Array.from({ length: size }, (_, i) => [
    ...Array.from({ length: size }, (_, j) => powers[i + j]!),
    right[i]!,
  ])
  for (let column = 0; column < size; column++) {
    let pivot = column
    for (let row = column + 1; row < size; row++) {
      if (Math.abs(rows[row]![column]!) > Math.abs(rows[pivot]![column]!)) pivot = row
    }
    const lead = rows[pivot]!
    if (!(Math.abs(lead[column]!) > 1e-14 * picked.length)) return null
    rows[pivot] = rows[column]!
    rows[column] = lead
    for (let row = column + 1; row < size; row++) {
      const factor = rows[row]![column]! / lead[column]!
      for (let k = column; k <= size; k++) rows[row]![k]! -= factor * lead[k]!
    }
  }
  const solution = new Array<number>(size).fill(0)
  for (let row = size - 1; row >= 0; row--) {
    let value = rows[row]![size]!
    for (let k = row + 1; k < size; k++) value -= rows[row]![k]! * solution[k]!
    solution[row] = value / rows[row]![row]!
  }
  return solution
}
