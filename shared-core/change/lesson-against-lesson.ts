import { twoSidedNormal } from '../statistics/distributions.ts'
import { equivalence } from '../statistics/equivalence.ts'
import { median } from '../statistics/median.ts'
import { presentValues } from '../statistics/reading.ts'
import type { Reason } from '../statistics/reading.ts'
import { retention } from '../statistics/retention.ts'
import type { ShownMetric } from '../units.ts'
import type { ChangeBlock, ChangeLesson } from './change-shot.ts'
import { metricNoise } from './metric-noise.ts'
import type { NoiseOptions } from './metric-noise.ts'
import { defaultMetrics, metricValues } from './metric-value.ts'
import { sameClub } from './same-club.ts'
import type { LeftOut } from './same-club.ts'

/** What can be said of a gain one lesson later. */
export type KeptVerdict =
  'kept' | 'lost' | 'cannot-tell' | 'gain-not-clear' | 'within-setup-error' | 'too-few'

/** What of the gain of one metric was still there at the next lesson, in the metric's SI unit. */
export interface RetentionMetric {
  metric: ShownMetric
  /** Shots used of the first and last block of the lesson before and of this lesson's first block. */
  n: [number, number, number]
  medians: [number | null, number | null, number | null]
  /** Last block − first block of the lesson before. */
  gain: number | null
  gainCi95: [number, number] | null
  /** This lesson's first block − last block of the lesson before. */
  change: number | null
  /** Share of the gain still there, 1 = all of it. */
  retained: number | null
  ci95: [number, number] | null
  /** What placing the device anew can make of no change at all. */
  setupFloor: number
  /** This lesson's first block lies within ±margin of the last block before (two one-sided tests); null if not asked. */
  isSameAsLast: boolean | null
  verdict: KeptVerdict
  reason: Reason | null
}

/** A lesson's first block against the first and last of the lesson before. */
export interface LessonAgainstLesson {
  previous: { label: string; date: string; first: string | null; last: string | null }
  current: { label: string; date: string; first: string | null }
  club: string | null
  isComparable: boolean
  leftOut: LeftOut[]
  /** Shots left out at the start of both first blocks, decided beforehand. */
  warmUpShots: number
  metrics: RetentionMetric[]
}

/** What that comparison may be told; every part has its default. */
export interface RetentionOptions extends NoiseOptions {
  club?: string | null
  margins?: Partial<Record<ShownMetric, number>>
  /** Share of the gain that counts as kept. */
  keep?: number
  /** Shots at the start of each first block that are warm-up, skipped where enough others remain. */
  warmUpShots?: number
  /** False skips `isSameAsLast`, the slowest part, where many lessons are read at once. */
  withSameAsLast?: boolean
  alpha?: number
}

/** Shots a block that a statement about retention needs (statistics 6.4). */
const minShots = 8

/**
 * Is last lesson's gain still there: first and last block of the lesson before against the first block of this one,
 * share retained with its Fieller interval. The interval shown is 95 % for each metric; the verdict allows for all
 * metrics shown (Bonferroni), and a gain that placing the device anew could make is not judged.
 * Sources: Fieller 1954; Schuirmann 1987; Kantak & Winstein 2012 (performance against learning).
 */
export function lessonAgainstLesson(input: {
  previous: ChangeLesson
  current: ChangeLesson
  metrics?: readonly ShownMetric[]
  options?: RetentionOptions
}): LessonAgainstLesson {
  const { previous, current, metrics = defaultMetrics, options = {} } = input
  const [first, last] = outerBlocks(previous.blocks)
  const nextFirst = firstBlock(current.blocks)
  const names = {
    previous: {
      label: previous.label,
      date: previous.date,
      first: first?.label ?? null,
      last: last?.label ?? null,
    },
    current: { label: current.label, date: current.date, first: nextFirst?.label ?? null },
  }
  if (first === undefined || last === undefined || nextFirst === undefined) {
    return { ...names, club: null, isComparable: false, leftOut: [], warmUpShots: 0, metrics: [] }
  }
  const chosen = sameClub([first, last, nextFirst], options.club)
  const warmUpShots = warmUpThatFits(chosen.blocks, options.warmUpShots ?? 3)
  const blocks = chosen.blocks.map((block, i) =>
    i === 1 ? block : { ...block, shots: block.shots.slice(warmUpShots) },
  ) as [ChangeBlock, ChangeBlock, ChangeBlock]
  return {
    ...names,
    club: chosen.club,
    isComparable: chosen.isShared,
    leftOut: chosen.leftOut,
    warmUpShots,
    metrics: metrics.map((metric) => retentionOf(metric, blocks, metrics.length, options)),
  }
}

const firstBlock = (blocks: readonly ChangeBlock[]): ChangeBlock | undefined =>
  blocks.find((block) => block.isBaseline) ?? blocks[0]

/** First and last block of a lesson that has at least two. */
function outerBlocks(blocks: readonly ChangeBlock[]): [ChangeBlock?, ChangeBlock?] {
  const first = firstBlock(blocks)
  const last = blocks[blocks.length - 1]
  return first === undefined || last === first ? [] : [first, last]
}

const warmUpThatFits = (blocks: readonly ChangeBlock[], wanted: number): number =>
  [blocks[0]!, blocks[2]!].every((block) => block.shots.length - wanted >= minShots) ? wanted : 0

function retentionOf(
  metric: ShownMetric,
  blocks: readonly [ChangeBlock, ChangeBlock, ChangeBlock],
  metricsShown: number,
  options: RetentionOptions,
): RetentionMetric {
  const { alpha = 0.05, keep = 0.5 } = options
  const values = blocks.map((block) => presentValues(metricValues(block.shots, metric))) as [
    number[],
    number[],
    number[],
  ]
  const shown = retention(...values, { confidence: 1 - alpha, keep })
  const decided = retention(...values, { confidence: 1 - alpha / metricsShown, keep })
  const medians = values.map((each) => (each.length > 0 ? median(each) : null)) as RetentionMetric['medians']
  const level = medians[0] ?? medians[1] ?? medians[2] ?? 0
  const { setupErrorSd } = metricNoise(metric, level, options)
  const setupFloor = twoSidedNormal(1 - alpha) * Math.SQRT2 * setupErrorSd
  const margin = options.margins?.[metric] ?? Math.max(setupFloor, 0.01 * Math.abs(level))
  const n = values.map((each) => each.length) as [number, number, number]
  const isEnough = n.every((count) => count >= minShots)
  const verdict: KeptVerdict = !isEnough
    ? 'too-few'
    : decided.verdict === null || decided.verdict === 'gain-not-clear'
      ? 'gain-not-clear'
      : Math.abs(shown.gain!) <= setupFloor
        ? 'within-setup-error'
        : decided.verdict
  return {
    metric,
    n,
    medians,
    gain: shown.gain,
    gainCi95: asInterval(shown.gainLower, shown.gainUpper),
    change: shown.change,
    retained: verdict === 'too-few' || verdict === 'gain-not-clear' ? null : shown.retained,
    ci95: asInterval(shown.lower, shown.upper),
    setupFloor,
    isSameAsLast:
      isEnough && options.withSameAsLast !== false
        ? equivalence(values[1], values[2], { margin, alpha }).equivalent
        : null,
    verdict,
    reason: n.some((count) => count === 0) ? 'no-data' : isEnough ? null : 'too-few',
  }
}

const asInterval = (lower: number | null, upper: number | null): [number, number] | null =>
  lower === null || upper === null ? null : [lower, upper]
