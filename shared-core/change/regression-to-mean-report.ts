import { mean } from '../statistics/mean.ts'
import { presentValues } from '../statistics/reading.ts'
import type { Reason } from '../statistics/reading.ts'
import { regressionToMean } from '../statistics/regression-to-mean.ts'
import { shrinkage } from '../statistics/shrinkage.ts'
import type { ShownMetric } from '../units.ts'
import type { ChangeBlock } from './change-shot.ts'
import { metricValues } from './metric-value.ts'

/** How far an unusual baseline is expected to come back by itself, in the metric's SI unit. */
export interface RegressionToMeanReport {
  metric: ShownMetric
  /** Earlier blocks that the player's usual level and scatter come from. */
  blocks: number
  usualLevel: number | null
  baseline: number | null
  /** Rise (or fall) to expect in the next block with nothing done at all. */
  expectedChange: number | null
  reason: Reason | null
}

/** Earlier blocks needed to know a player's usual level and scatter (statistics 6.2). */
const minBlocks = 5

/**
 * What the next block will show by itself after an unusually bad (or good) baseline, from the player's own earlier
 * blocks of the same club. A cue tried after a bad block is followed by a better one anyway.
 * Source: Barnett, van der Pols & Dobson 2005.
 */
export function regressionToMeanReport(input: {
  /** Earlier blocks of this player, one club. */
  history: readonly ChangeBlock[]
  baseline: ChangeBlock
  metric: ShownMetric
}): RegressionToMeanReport {
  const { history, baseline, metric } = input
  const groups = history
    .map((block) => presentValues(metricValues(block.shots, metric)))
    .filter((group) => group.length > 0)
  const own = presentValues(metricValues(baseline.shots, metric))
  const known = { metric, blocks: groups.length, baseline: own.length > 0 ? mean(own) : null }
  const levels = shrinkage(groups)
  if (own.length === 0) return { ...known, usualLevel: null, expectedChange: null, reason: 'no-data' }
  if (groups.length < minBlocks || levels.reason !== null) {
    return { ...known, usualLevel: null, expectedChange: null, reason: 'too-few' }
  }
  const found = regressionToMean({
    overallMean: levels.overallMean!,
    betweenSd: levels.sdBetween!,
    withinSd: levels.sdWithin!,
    nBaseline: own.length,
    observed: known.baseline!,
  })
  return {
    ...known,
    usualLevel: levels.overallMean,
    expectedChange: found.expectedChange,
    reason: found.reason,
  }
}
