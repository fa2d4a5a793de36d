import { ascending } from './ascending.ts'
import { median } from './median.ts'
import { pairwiseDifferences, winsOfAfter } from './pairwise-differences.ts'
import { pairCountProbabilities, tieGroupSizes, twoSidedTail } from './rank-sum-distribution.ts'
import { isPresent } from './reading.ts'
import type { Readings, Reason } from './reading.ts'

/** Tagged against untagged readings, compared inside blocks only, in their own unit. */
export interface ShiftWithinBlocks {
  /** Median of all differences tagged − untagged, taken only inside blocks. */
  shift: number | null
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
  if (used.length === 0) return { shift: null, pairs: 0, blocksUsed: 0, p: null, reason: 'too-few' }

  const differences: number[] = []
  let probabilities: Float64Array = Float64Array.of(1)
  let observed = 0
  let expected = 0
  for (const parts of used) {
    differences.push(...pairwiseDifferences(parts.untagged, parts.tagged))
    // Doubled wins and doubled midrank sums differ by a constant of the block, so either gives the same p.
    observed += 2 * winsOfAfter(parts.untagged, parts.tagged)
    expected += parts.tagged.length * parts.untagged.length
    const groups = tieGroupSizes(ascending([...parts.tagged, ...parts.untagged]))
    probabilities = convolve(probabilities, pairCountProbabilities(groups, parts.tagged.length))
  }
  return {
    shift: median(differences),
    pairs: differences.length,
    blocksUsed: used.length,
    p: twoSidedTail(probabilities, observed, expected),
    reason: null,
  }
}

function convolve(first: Float64Array, second: Float64Array): Float64Array {
  const out = new Float64Array(first.length + second.length - 1)
  for (let j = 0; j < second.length; j++) {
    const weight = second[j]!
    if (weight !== 0) for (let i = 0; i < first.length; i++) out[i + j]! += first[i]! * weight
  }
  return out
}
