import { allEqual } from '../../../shared-core/statistics/all-equal.ts'
import { ascending } from '../../../shared-core/statistics/ascending.ts'
import { standardNormalCdf, standardNormalQuantile } from '../../../shared-core/statistics/distributions.ts'
import { defaultGenerator, drawIndex } from '../../../shared-core/statistics/generator.ts'
import type { Generator } from '../../../shared-core/statistics/generator.ts'
import { mean } from '../../../shared-core/statistics/mean.ts'
import { finiteOrNull } from '../../../shared-core/statistics/reading.ts'
import type { Reason } from '../../../shared-core/statistics/reading.ts'

/** A bootstrap interval (Efron 1987), in the statistic's unit. */
export interface Bca {
  estimate: number | null
  /** Replicates below the estimate; equal ones count one half. */
  replicatesBelow: number
  z0: number | null
  acceleration: number | null
  alphaLower: number | null
  alphaUpper: number | null
  lower: number | null
  upper: number | null
  reason: Reason | null
}

/** What the bootstrap may be told; every part has its default. */
export interface BcaOptions {
  confidence?: number
  /** At least 9,999 for a number that is shown. */
  replicates?: number
  generator?: Generator
}

/**
 * Bias-corrected and accelerated bootstrap interval of any smooth statistic of one or several blocks; a block is
 * a list of readings or of rows, without gaps. Resampled inside each block, one index per draw, all draws of a
 * block before those of the next. Not for medians, and not below 15 shots a block.
 * Sources: Efron 1987, JASA 82:171; Davison & Hinkley 1997, Bootstrap Methods and their Application, 5.2-5.3.
 */
export function bca<Row extends number | readonly number[]>(
  blocks: readonly (readonly Row[])[],
  statistic: (blocks: readonly (readonly Row[])[]) => number,
  options: BcaOptions = {},
): Bca {
  const { confidence = 0.95, replicates = 9_999, generator = defaultGenerator() } = options
  const none = { z0: null, acceleration: null, alphaLower: null, alphaUpper: null, lower: null, upper: null }
  if (blocks.length === 0 || blocks.some((block) => block.length === 0)) {
    return { estimate: null, replicatesBelow: 0, ...none, reason: 'no-data' }
  }
  const estimate = statistic(blocks)
  if (blocks.every((block) => allEqual(block.flat() as number[]))) {
    return { estimate: finiteOrNull(estimate), replicatesBelow: 0, ...none, reason: 'no-spread' }
  }
  const values = new Float64Array(replicates)
  let count = 0
  for (let run = 0; run < replicates; run++) {
    const value = statistic(
      blocks.map((block) => block.map(() => block[drawIndex(generator, block.length)]!)),
    )
    if (Number.isFinite(value)) values[count++] = value
  }
  const sorted = ascending(values.subarray(0, count))
  const tolerance = 1e-10 * Math.max(1, Math.abs(estimate))
  let replicatesBelow = 0
  for (const value of sorted) {
    if (Math.abs(value - estimate) <= tolerance) replicatesBelow += 0.5
    else if (value < estimate) replicatesBelow++
  }
  const influence = influenceValues(blocks, statistic)
  const squares = influence.reduce((sum, value) => sum + value ** 2, 0)
  const acceleration = finiteOrNull(
    influence.reduce((sum, value) => sum + value ** 3, 0) / (6 * squares ** 1.5),
  )
  const z0 = count > 0 ? standardNormalQuantile(replicatesBelow / count) : NaN
  if (!Number.isFinite(estimate) || !Number.isFinite(z0) || acceleration === null) {
    return {
      ...none,
      estimate: finiteOrNull(estimate),
      replicatesBelow,
      acceleration,
      reason: 'no-spread',
    }
  }
  const adjusted = (z: number): number => standardNormalCdf(z0 + (z0 + z) / (1 - acceleration * (z0 + z)))
  const alphaLower = adjusted(standardNormalQuantile((1 - confidence) / 2))
  const alphaUpper = adjusted(standardNormalQuantile((1 + confidence) / 2))
  return {
    estimate,
    replicatesBelow,
    z0,
    acceleration,
    alphaLower,
    alphaUpper,
    lower: quantileOnNormalScale(sorted, alphaLower),
    upper: quantileOnNormalScale(sorted, alphaUpper),
    reason: null,
  }
}

/** Jackknife influence values lᵢⱼ = (nᵢ − 1)(θ̄ᵢ − θᵢ₍₋ⱼ₎)/nᵢ; the division matters when sizes differ. */
function influenceValues<Row extends number | readonly number[]>(
  blocks: readonly (readonly Row[])[],
  statistic: (blocks: readonly (readonly Row[])[]) => number,
): number[] {
  return blocks.flatMap((block, i) => {
    if (block.length === 1) return [0]
    const without = block.map((_, j) =>
      statistic(blocks.map((other, k) => (k === i ? block.filter((_, place) => place !== j) : other))),
    )
    const centre = mean(without)
    return without.map((value) => ((block.length - 1) * (centre - value)) / block.length)
  })
}

/** Quantile at rank (B + 1)·alpha, between ranks interpolated on the normal scale (Davison & Hinkley 1997, 5.2). */
function quantileOnNormalScale(sorted: Float64Array, alpha: number): number {
  const count = sorted.length
  const rank = (count + 1) * alpha
  const k = Math.trunc(rank)
  if (k <= 0) return sorted[0]!
  if (k >= count) return sorted[count - 1]!
  const low = sorted[k - 1]!
  if (k === rank) return low
  const from = standardNormalQuantile(k / (count + 1))
  const to = standardNormalQuantile((k + 1) / (count + 1))
  return low + ((standardNormalQuantile(alpha) - from) / (to - from)) * (sorted[k]! - low)
}
