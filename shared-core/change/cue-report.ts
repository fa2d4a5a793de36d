import { blockSummary } from '../statistics/block-summary.ts'
import { holm } from '../statistics/holm.ts'
import type { Reason } from '../statistics/reading.ts'
import { shiftWithinBlocks } from '../statistics/shift-within-blocks.ts'
import { deviceFloor } from '../statistics/smallest-visible.ts'
import type { ShownMetric } from '../units.ts'
import type { ChangeBlock } from './change-shot.ts'
import { metricNoise } from './metric-noise.ts'
import type { NoiseOptions } from './metric-noise.ts'
import { defaultMetrics, metricValue } from './metric-value.ts'

/** What can be said of tagged against untagged shots. */
export type CueVerdict = 'differs' | 'within-device-error' | 'cannot-tell' | 'too-few'

/** One metric of the shots tagged with a cue against the others of the same blocks, in the metric's SI unit. */
export interface CueMetric {
  cue: string
  metric: ShownMetric
  tagged: number
  untagged: number
  /** Tagged − untagged, median of all differences inside a block. */
  difference: number | null
  /** 95 %, before the adjustment for what is looked at together; null where so few can't reach it. */
  interval: [number, number] | null
  pairs: number
  blocksUsed: number
  p: number | null
  pAdjusted: number | null
  deviceFloor: number | null
  verdict: CueVerdict
  /** The cue is on all shots of its blocks or on none, so that cue and block are the same thing. */
  isBlockItself: boolean
  reason: Reason | null
}

/** Every cue with every metric, under one budget. */
export interface CueReport {
  rows: CueMetric[]
  lookedAt: number
}

/**
 * Swings tagged with a cue against those without, inside the same block and the same club only, so that warm-up and
 * the blocks' focuses do not pass for the cue. Adjusted over all cues and metrics shown (Holm).
 * Source: statistics/shift-within-blocks.ts.
 */
export function cueReport(input: {
  blocks: readonly ChangeBlock[]
  /** Cues to look at; without it, all that are tagged. */
  cues?: readonly string[]
  metrics?: readonly ShownMetric[]
  options?: NoiseOptions & { alpha?: number }
}): CueReport {
  const { blocks, metrics = defaultMetrics, options = {} } = input
  const alpha = options.alpha ?? 0.05
  const places = blocks.flatMap((block, i) =>
    block.shots.filter((shot) => !shot.isLeftOut).map((shot) => ({ shot, group: `${i} ${shot.club ?? ''}` })),
  )
  const cues = input.cues ?? [...new Set(places.flatMap(({ shot }) => shot.cues ?? []))]
  const rows = cues.flatMap((cue) =>
    metrics.map((metric) => {
      const values = places.map(({ shot }) => metricValue(shot, metric))
      const tags = places.map(({ shot }) => shot.cues?.includes(cue) ?? false)
      const found = shiftWithinBlocks(
        values,
        tags,
        places.map(({ group }) => group),
      )
      const tagged = blockSummary(values.filter((_, i) => tags[i])).n
      const summary = blockSummary(values)
      const untagged = summary.n - tagged
      const noise = metricNoise(metric, summary.median ?? 0, options)
      return { cue, metric, tagged, untagged, found, floor: deviceFloor(tagged, untagged, noise) }
    }),
  )
  const adjusted = holm(rows.map(({ found }) => found.p))
  return {
    lookedAt: rows.filter(({ found }) => found.p !== null).length,
    rows: rows.map(({ cue, metric, tagged, untagged, found, floor }, i) => {
      const row: CueMetric = {
        cue,
        metric,
        tagged,
        untagged,
        difference: found.shift,
        interval: found.interval,
        pairs: found.pairs,
        blocksUsed: found.blocksUsed,
        p: found.p,
        pAdjusted: null,
        deviceFloor: floor,
        verdict: 'too-few',
        isBlockItself: found.blocksUsed === 0 && tagged > 0 && untagged > 0,
        reason: tagged + untagged === 0 ? 'no-data' : found.reason,
      }
      return judgeCue(row, adjusted[i]!, alpha)
    }),
  }
}

/** The verdict of a row whose p-value has been adjusted for everything looked at with it. */
export function judgeCue(row: CueMetric, pAdjusted: number | null, alpha: number): CueMetric {
  const isShown = pAdjusted !== null && pAdjusted <= alpha
  const verdict: CueVerdict =
    row.p === null
      ? 'too-few'
      : !isShown
        ? 'cannot-tell'
        : Math.abs(row.difference!) < (row.deviceFloor ?? 0)
          ? 'within-device-error'
          : 'differs'
  return { ...row, pAdjusted, verdict }
}
