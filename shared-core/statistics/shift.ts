import { ascending } from './ascending.ts'
import { twoSidedNormal } from './distributions.ts'
import { lowerQuantileCount } from './lower-quantile-count.ts'
import { medianOfSorted } from './median.ts'
import { pairwiseDifferences, winsOfAfter } from './pairwise-differences.ts'
import {
  pairCountProbabilities,
  rankSumCumulative,
  tieGroupSizes,
  twoSidedTail,
} from './rank-sum-distribution.ts'
import { presentValues } from './reading.ts'
import type { Readings, Reason } from './reading.ts'
import { shiftLarge } from './shift-large.ts'

/** Two samples by ranks (Hodges & Lehmann 1963), in their own unit. */
export interface ShiftResult {
  /** Hodges-Lehmann shift: median of all after − before. */
  shift: number | null
  lower: number | null
  upper: number | null
  /** The interval's real confidence; below what was asked when the blocks are too small to reach it. */
  achievedConfidence: number | null
  /** Pairs in which the reading after is higher, ties counting one half. */
  u: number | null
  p: number | null
  /** u/(m·n): "in 8 of 10 pairs the shot after was faster". */
  probabilityOfSuperiority: number | null
  reason: Reason | null
}

/** Above this many pairs p comes from the normal approximation (statistics of `shiftLarge`). */
const exactPairs = 40_000
/** Above this many pairs the interval's ranks come from the normal approximation too. */
const exactIntervalPairs = 250_000

/**
 * The main method for "did it change": how far the block moved. Interval: the k-th smallest and largest of all
 * differences, k the (1 − confidence)/2 quantile of the tie-free Mann-Whitney distribution, at least 1, so that
 * with ties the closed interval keeps at least its confidence (Noether 1967). p: exact permutation distribution
 * of the midrank sum, ties included. p decides, the interval is shown. Assumes one shape, shifted; does not
 * depend on how far a mishit flew.
 * Sources: Hodges & Lehmann 1963; Bauer 1972, JASA 67:687; Streitberg & Röhmel 1986; Vargha & Delaney 2000.
 */
export function shift(before: Readings, after: Readings, options: { confidence?: number } = {}): ShiftResult {
  const { confidence = 0.95 } = options
  const a = presentValues(before)
  const b = presentValues(after)
  if (a.length === 0 || b.length === 0) {
    return {
      shift: null,
      lower: null,
      upper: null,
      achievedConfidence: null,
      u: null,
      p: null,
      probabilityOfSuperiority: null,
      reason: 'no-data',
    }
  }
  const differences = pairwiseDifferences(a, b)
  const u = winsOfAfter(a, b)
  return {
    shift: medianOfSorted(differences),
    ...shiftBounds(differences, a.length, b.length, confidence),
    u,
    p: differences.length > exactPairs ? shiftLarge(a, b).p : permutationPValue(a, b, u),
    probabilityOfSuperiority: u / differences.length,
    reason: null,
  }
}

/** The interval of the shift from the sorted differences of m against n readings. */
export function shiftBounds(
  differences: Float64Array,
  m: number,
  n: number,
  confidence: number,
): { lower: number; upper: number; achievedConfidence: number } {
  const { k, achievedConfidence } = intervalRank(m, n, confidence)
  return { lower: differences[k - 1]!, upper: differences[differences.length - k]!, achievedConfidence }
}

function intervalRank(m: number, n: number, confidence: number): { k: number; achievedConfidence: number } {
  if (m * n > exactIntervalPairs) {
    const spread = Math.sqrt((m * n * (m + n + 1)) / 12)
    return {
      k: Math.max(1, Math.floor((m * n) / 2 - twoSidedNormal(confidence) * spread)),
      achievedConfidence: confidence,
    }
  }
  const cumulative = rankSumCumulative(m, n)
  const k = Math.max(1, lowerQuantileCount(cumulative, (1 - confidence) / 2))
  return { k, achievedConfidence: 1 - 2 * cumulative[k - 1]! }
}

function permutationPValue(before: readonly number[], after: readonly number[], u: number): number {
  const m = before.length
  const n = after.length
  const groups = tieGroupSizes(ascending([...before, ...after]))
  if (groups.length === 1) return 1
  if (groups.length === m + n) {
    const cumulative = rankSumCumulative(m, n)
    const tail = Math.min(u, m * n - u)
    return Math.min(1, 2 * cumulative[tail]!)
  }
  // The two-sided tail is the same whichever block's wins are counted; the smaller one is quicker.
  return n <= m
    ? twoSidedTail(pairCountProbabilities(groups, n), 2 * u, m * n)
    : twoSidedTail(pairCountProbabilities(groups, m), 2 * (m * n - u), m * n)
}
