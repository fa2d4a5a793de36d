import ranks from '@stdlib/stats-ranks'
import { lowerQuantileCount } from './lower-quantile-count.ts'
import { medianOfSorted } from './median.ts'
import { presentValues } from './reading.ts'
import type { Readings, Reason } from './reading.ts'
import { signedRankCumulative, signFlipProbabilities } from './signed-rank-distribution.ts'
import { walshAverages } from './walsh-averages.ts'

/** Hodges-Lehmann centre of one sample with the interval of the signed ranks (Hollander & Wolfe 1999). */
export interface CentreInterval {
  n: number
  /** Hodges-Lehmann centre. */
  centre: number | null
  lower: number | null
  upper: number | null
  /** The interval's real confidence; below what was asked when there are too few readings to reach it. */
  achievedConfidence: number | null
  /** Sum of the midranks of the readings above `nullValue`. */
  v: number | null
  p: number | null
  reason: Reason | null
}

/**
 * Centre of one block (or of paired differences) with its exact signed-rank interval: the k-th smallest and
 * largest Walsh averages, k the (1 − confidence)/2 quantile of the signed-rank distribution, at least 1.
 * p: zeros dropped, midranks of |d|, all 2ⁿ sign flips counted. Assumes symmetry and independence; 95 % needs
 * six readings. Sources: Wilcoxon 1945; Hollander, Wolfe & Chicken 2014.
 */
export function centreInterval(
  values: Readings,
  options: { confidence?: number; nullValue?: number } = {},
): CentreInterval {
  const { confidence = 0.95, nullValue = 0 } = options
  const present = presentValues(values)
  const n = present.length
  if (n === 0) {
    return {
      n,
      centre: null,
      lower: null,
      upper: null,
      achievedConfidence: null,
      v: null,
      p: null,
      reason: 'no-data',
    }
  }
  const averages = walshAverages(present)
  const cumulative = signedRankCumulative(n)
  const k = Math.max(1, lowerQuantileCount(cumulative, (1 - confidence) / 2))
  return {
    n,
    centre: medianOfSorted(averages),
    lower: averages[k - 1]!,
    upper: averages[averages.length - k]!,
    achievedConfidence: 1 - 2 * cumulative[k - 1]!,
    ...signFlipTest(present.map((value) => value - nullValue).filter((difference) => difference !== 0)),
    reason: null,
  }
}

function signFlipTest(differences: readonly number[]): { v: number; p: number } {
  if (differences.length === 0) return { v: 0, p: 1 }
  // Doubled midranks are whole numbers, so that sums can be counted and compared exactly.
  const doubled = ranks(differences.map(Math.abs)).map((rank) => Math.round(2 * rank))
  const total = doubled.reduce((sum, rank) => sum + rank, 0)
  const observed = doubled.reduce((sum, rank, i) => sum + (differences[i]! > 0 ? rank : 0), 0)
  const distance = Math.abs(2 * observed - total)
  let p = 0
  signFlipProbabilities(doubled).forEach((probability, sum) => {
    if (Math.abs(2 * sum - total) >= distance) p += probability
  })
  return { v: observed / 2, p: Math.min(1, p) }
}
