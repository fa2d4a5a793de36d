import { allEqual } from './all-equal.ts'
import { mean } from './mean.ts'
import { median } from './median.ts'
import { finiteOrNull, presentPairs } from './reading.ts'
import type { Readings, Reason } from './reading.ts'
import { sumOfSquares } from './variance.ts'

/** How a line is laid: least squares, median of slopes (Theil 1950, Sen 1968), or robustly (Huber 1964). */
export type LineFit = 'ols' | 'theil-sen' | 'huber'

/** A fitted line, in the readings' own units. */
export interface Line {
  intercept: number | null
  slope: number | null
  /** Of the least squares line; null for the others. */
  residualSd: number | null
  interceptSe: number | null
  slopeSe: number | null
  r2: number | null
  /** Robust scale of the Huber line; null for the others. */
  scale: number | null
  reason: Reason | null
}

const nothing = {
  intercept: null,
  slope: null,
  residualSd: null,
  interceptSe: null,
  slopeSe: null,
  r2: null,
  scale: null,
}

/**
 * A straight line of y on x. `ols`: least squares, every shot counts. `theil-sen`: median of all slopes
 * (Sen 1968). `huber`: M-estimate with k = 1.345, scale = median|r|/0.6745 renewed at each step, run to
 * convergence (Huber 1964, Ann Math Stat 35:73; as MASS::rlm in R). The robust ones show the typical strike
 * beside the least squares line.
 */
export function line(x: Readings, y: Readings, options: { fit?: LineFit } = {}): Line {
  const { fit = 'ols' } = options
  const pairs = presentPairs(x, y)
  if (pairs.first.length < 2) return { ...nothing, reason: 'too-few' }
  if (allEqual(pairs.first)) return { ...nothing, reason: 'no-spread' }
  const fits = { ols: leastSquares, 'theil-sen': theilSen, huber }
  return { ...nothing, ...fits[fit](pairs.first, pairs.second), reason: null }
}

function leastSquares(x: readonly number[], y: readonly number[]): Partial<Line> {
  const n = x.length
  const { intercept, slope } = weightedLine(
    x,
    y,
    x.map(() => 1),
  )
  const centre = mean(x)
  const spread = sumOfSquares(x)
  const rest = y.reduce((sum, value, i) => sum + (value - intercept - slope * x[i]!) ** 2, 0)
  const residualSd = n > 2 ? Math.sqrt(rest / (n - 2)) : null
  const total = sumOfSquares(y)
  return {
    intercept,
    slope,
    residualSd,
    interceptSe: residualSd === null ? null : residualSd * Math.sqrt(1 / n + (centre * centre) / spread),
    slopeSe: residualSd === null ? null : residualSd / Math.sqrt(spread),
    r2: total > 0 ? finiteOrNull(1 - rest / total) : null,
  }
}

function weightedLine(
  x: readonly number[],
  y: readonly number[],
  weights: readonly number[],
): { intercept: number; slope: number } {
  let total = 0
  let sumX = 0
  let sumY = 0
  for (let i = 0; i < x.length; i++) {
    total += weights[i]!
    sumX += weights[i]! * x[i]!
    sumY += weights[i]! * y[i]!
  }
  const centreX = sumX / total
  const centreY = sumY / total
  let square = 0
  let cross = 0
  for (let i = 0; i < x.length; i++) {
    square += weights[i]! * (x[i]! - centreX) ** 2
    cross += weights[i]! * (x[i]! - centreX) * (y[i]! - centreY)
  }
  const slope = cross / square
  return { intercept: centreY - slope * centreX, slope }
}

function theilSen(x: readonly number[], y: readonly number[]): Partial<Line> {
  const slopes: number[] = []
  for (let i = 0; i < x.length; i++) {
    for (let j = i + 1; j < x.length; j++) {
      if (x[i] !== x[j]) slopes.push((y[j]! - y[i]!) / (x[j]! - x[i]!))
    }
  }
  const slope = median(slopes)
  return { slope, intercept: median(y.map((value, i) => value - slope * x[i]!)) }
}

function huber(x: readonly number[], y: readonly number[]): Partial<Line> {
  let fit = weightedLine(
    x,
    y,
    x.map(() => 1),
  )
  let scale = 0
  for (let step = 0; step < 2000; step++) {
    const { intercept, slope } = fit
    const distances = y.map((value, i) => Math.abs(value - intercept - slope * x[i]!))
    scale = median(distances) / 0.6745
    if (!(scale > 0)) break
    const weights = distances.map((distance) => Math.min(1, (1.345 * scale) / distance))
    const next = weightedLine(x, y, weights)
    const moved = Math.abs(next.slope - slope) + Math.abs(next.intercept - intercept)
    fit = next
    if (moved <= 1e-13 * (Math.abs(slope) + Math.abs(intercept))) break
  }
  return { ...fit, scale }
}
