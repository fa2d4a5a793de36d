import { ascending } from './ascending.ts'
import { lowerQuantileCount } from './lower-quantile-count.ts'
import { medianOfSorted } from './median.ts'
import { pairwiseDifferences, winsOfAfter } from './pairwise-differences.ts'
import {
  pairCountProbabilities,
  rankSumProbabilities,
  tieGroupSizes,
  twoSidedTail,
} from './rank-sum-distribution.ts'
import { isPresent } from './reading.ts'
import type { Readings, Reason } from './reading.ts'

/** Tagged against untagged readings, compared inside blocks only, in their own unit. */
export interface ShiftWithinBlocks {
  /** Median of all differences tagged − untagged, taken only inside blocks. */
  shift: number | null
  /** Where the shift lies with 95 %; null where so few taggings can't reach that. */
  interval: [number, number] | null
  /** How many such differences there are. */
  pairs: number
  /** Blocks that hold both kinds. */
  blocksUsed: number
  p: number | null
  reason: Reason | null
}

/**
 * Tagged against untagged shots, compared only inside their own block, so that the cue is not mixed up with
 * warm-up or with the block's focus. Statistic: sum of the tagged shots' midranks within their block; p: all
 * re-taggings inside the blocks are equally likely, counted exactly by convolving the blocks' distributions.
 * Blocks are not weighted. Related: van Elteren 1960, Bull Int Stat Inst 37:351 (which weights them).
 * Interval: the k-th smallest and largest difference, k by the tie-free distribution of the same sum, as for two blocks
 * (`shift`): a shift lies in it if the test would not deny it (Bauer 1972, JASA 67:687).
 */
export function shiftWithinBlocks(
  values: Readings,
  tagged: readonly boolean[],
  block: readonly (string | number)[],
): ShiftWithinBlocks {
  const blocks = new Map<string | number, { tagged: number[]; untagged: number[] }>()
  values.forEach((value, i) => {
    if (!isPresent(value)) return
    const key = block[i]!
    const parts = blocks.get(key) ?? { tagged: [], untagged: [] }
    ;(tagged[i] ? parts.tagged : parts.untagged).push(value)
    blocks.set(key, parts)
  })
  const used = [...blocks.values()].filter((parts) => parts.tagged.length > 0 && parts.untagged.length > 0)
  if (used.length === 0) {
    return { shift: null, interval: null, pairs: 0, blocksUsed: 0, p: null, reason: 'too-few' }
  }

  const differences: number[] = []
  let probabilities: Float64Array = Float64Array.of(1)
  let untied: Float64Array = Float64Array.of(1)
  let observed = 0
  let expected = 0
  for (const parts of used) {
    differences.push(...pairwiseDifferences(parts.untagged, parts.tagged))
    // Doubled wins and doubled midrank sums differ by a constant of the block, so either gives the same p.
    observed += 2 * winsOfAfter(parts.untagged, parts.tagged)
    expected += parts.tagged.length * parts.untagged.length
    const groups = tieGroupSizes(ascending([...parts.tagged, ...parts.untagged]))
    probabilities = convolve(probabilities, pairCountProbabilities(groups, parts.tagged.length))
    untied = convolve(untied, rankSumProbabilities(parts.tagged.length, parts.untagged.length))
  }
  const sorted = ascending(differences)
  return {
    shift: medianOfSorted(sorted),
    interval: intervalOf(sorted, untied),
    pairs: differences.length,
    blocksUsed: used.length,
    p: twoSidedTail(probabilities, observed, expected),
    reason: null,
  }
}

function intervalOf(sorted: ArrayLike<number>, probabilities: Float64Array): [number, number] | null {
  let sum = 0
  const cumulative = probabilities.map((p) => (sum += p))
  const k = Math.max(1, lowerQuantileCount(cumulative, 0.025))
  return cumulative[k - 1]! > 0.025 + 1e-12 ? null : [sorted[k - 1]!, sorted[sorted.length - k]!]
}

function convolve(first: Float64Array, second: Float64Array): Float64Array {
  const out = new Float64Array(first.length + second.length - 1)
  for (let j = 0; j < second.length; j++) {
    const weight = second[j]!
    if (weight !== 0) for (let i = 0; i < first.length; i++) out[i + j]! += first[i]! * weight
  }
  return out
}
