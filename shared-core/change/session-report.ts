import { blockSummary } from '../statistics/block-summary.ts'
import { changeLocation } from '../statistics/change-location.ts'
import { mersenneGenerator } from '../statistics/generator.ts'
import type { Generator } from '../statistics/generator.ts'
import { holm } from '../statistics/holm.ts'
import { median } from '../statistics/median.ts'
import { pettittPermutation } from '../statistics/pettitt-permutation.ts'
import { isPresent, presentValues } from '../statistics/reading.ts'
import type { Reason } from '../statistics/reading.ts'
import { trend } from '../statistics/trend.ts'
import type { Trend } from '../statistics/trend.ts'
import type { ShownMetric } from '../units.ts'
import type { ChangeBlock, ChangeShot } from './change-shot.ts'
import { metricNoise } from './metric-noise.ts'
import type { NoiseOptions } from './metric-noise.ts'
import { defaultMetrics, metricValue, metricValues } from './metric-value.ts'
import { mostHitClub, onlyClub } from './same-club.ts'
import type { LeftOut } from './same-club.ts'

/** What can be said of a drift. */
export type DriftState = 'settled' | 'still-moving' | 'cannot-tell' | 'too-few'

/** How far a run of shots drifted from its first to its last shot. */
export interface Drift {
  n: number
  /** Slope × (n − 1), in the metric's unit. */
  drift: number | null
  ci95: [number, number] | null
  p: number | null
  pAdjusted: number | null
  state: DriftState
}

/**
 * Whether and where in the lesson a metric's level changed (Pettitt 1979 by permutation), in the metric's SI unit.
 */
export interface LevelChange {
  /** `steady` means only: no change can be shown. */
  state: 'changed' | 'steady' | 'too-few' | 'no-spread'
  p: number | null
  pAdjusted: number | null
  n: number
  /** Shots of the session before the change, its likeliest place and the range that holds 90 %. */
  shotsBefore: number | null
  from: number | null
  to: number | null
  /** Median after the place − median before it. */
  step: number | null
  /** True if the range covers half of the session or more: "somewhere in the middle". */
  isPlaceVague: boolean
  /** Blocks that the range touches. */
  blocks: string[]
  /** The block that starts inside the range, if one does: the step that the change came with. */
  startingBlock: string | null
  /** Cues that are first tagged inside the range. */
  startingCues: string[]
  /** The readings rise (or fall) through the whole session, so that the change may be a slope, not a step. */
  isAlsoTrend: boolean
}

/** One metric over the whole lesson, whatever its blocks. */
export interface SessionMetric {
  metric: ShownMetric
  /** The level change as it would be placed if it is shown, for `judgeLevelChange`. */
  placed: LevelChange
  margin: number
  /** Warm-up: drift inside the baseline. */
  baseline: Drift
  levelChange: LevelChange
  /** Drift in the later half of the session; tiredness shows here, and so do later focuses. */
  laterHalf: Drift
  reason: Reason | null
}

/** The lesson as one row of shots: warm-up, change of level, later half. */
export interface SessionReport {
  club: string | null
  baselineLabel: string | null
  shots: number
  leftOut: LeftOut[]
  lookedAt: number
  metrics: SessionMetric[]
}

/** What the report may be told; every part has its default. */
export interface SessionOptions extends NoiseOptions {
  club?: string | null
  margins?: Partial<Record<ShownMetric, number>>
  alpha?: number
  permutations?: number
  /** Start of the generator: same data, same answer. */
  start?: number
}

/** A change can be placed from this many shots on. */
export const minToPlace = 15
/** The later half is looked at from this many shots on. */
const minLater = 10
/** A trend can reach 95 % from this many shots on. */
const minTrend = 5

/**
 * Inside one session: was the baseline settled, did the level change and on which block or cue does that fall, does
 * the later half sink. p-values of the session are adjusted together (Holm).
 * Sources: Mann 1945; Sen 1968; Pettitt 1979; Smith 1975.
 */
export function sessionReport(input: {
  blocks: readonly ChangeBlock[]
  metrics?: readonly ShownMetric[]
  options?: SessionOptions
}): SessionReport {
  const { blocks, metrics = defaultMetrics, options = {} } = input
  const club = options.club === undefined ? (mostHitClub(blocks) ?? null) : options.club
  const chosen = onlyClub(blocks, club)
  const places = chosen.blocks.flatMap((block) => block.shots.map((shot) => ({ shot, block: block.label })))
  const baseline = chosen.blocks.find((block) => block.isBaseline) ?? chosen.blocks[0]

  const gathered = metrics.map((metric) => {
    const values = places.map(({ shot }) => metricValue(shot, metric))
    const baselineValues = baseline === undefined ? [] : metricValues(baseline.shots, metric)
    const level = blockSummary(baselineValues).median ?? blockSummary(values).median ?? 0
    const noise = metricNoise(metric, level, options)
    const margin = options.margins?.[metric] ?? Math.max(noise.deviceErrorSd, 0.01 * Math.abs(level))
    const generator = mersenneGenerator(options.start ?? 20_170_117)
    return {
      metric,
      margin,
      baseline: trend(baselineValues),
      later: trend(laterHalf(values)),
      whole: trend(values),
      level: levelTest(values, options, generator),
      values,
    }
  })
  const pValues = gathered.flatMap((row) => [trendP(row.later, minLater), row.level.p])
  const adjusted = holm(pValues)
  const alpha = options.alpha ?? 0.05
  return {
    club,
    baselineLabel: baseline?.label ?? null,
    shots: places.length,
    leftOut: chosen.leftOut,
    lookedAt: pValues.filter((p) => p !== null).length,
    metrics: gathered.map((row, i) => {
      const placed = placeChange(row, places, alpha)
      return {
        metric: row.metric,
        margin: row.margin,
        baseline: baselineDrift(row.baseline, row.margin),
        placed,
        levelChange: judged(placed, adjusted[2 * i + 1]!, alpha),
        laterHalf: laterDrift(row.later, row.margin, adjusted[2 * i]!, alpha),
        reason: presentValues(row.values).length === 0 ? 'no-data' : null,
      }
    }),
  }
}

const laterHalf = (values: readonly (number | null)[]): number[] => {
  const present = values.filter(isPresent)
  return present.slice(Math.floor(present.length / 2))
}

/** The p-value of a trend that has enough shots to mean something; exact where it can be. */
const trendP = (found: Trend, smallest: number): number | null =>
  found.n < smallest ? null : (found.pExact ?? found.pNormal)

function driftOf(found: Trend, smallest: number): Omit<Drift, 'state' | 'pAdjusted'> {
  const steps = found.n - 1
  return {
    n: found.n,
    drift: found.slope === null ? null : found.slope * steps,
    ci95:
      found.lower === null || found.upper === null || found.n < minTrend
        ? null
        : [found.lower * steps, found.upper * steps],
    p: trendP(found, smallest),
  }
}

function baselineDrift(found: Trend, margin: number): Drift {
  const drift = driftOf(found, minTrend)
  return { ...drift, pAdjusted: null, state: driftState(drift.ci95, margin) }
}

function driftState(ci95: [number, number] | null, margin: number): DriftState {
  if (ci95 === null) return 'too-few'
  if (ci95[0] > -margin && ci95[1] < margin) return 'settled'
  return ci95[0] > 0 || ci95[1] < 0 ? 'still-moving' : 'cannot-tell'
}

function laterDrift(found: Trend, margin: number, pAdjusted: number | null, alpha: number): Drift {
  const drift = driftOf(found, minLater)
  if (found.n < minLater) return { ...drift, pAdjusted: null, state: 'too-few' }
  const plain = driftState(drift.ci95, margin)
  const isShown = pAdjusted !== null && pAdjusted <= alpha
  return { ...drift, pAdjusted, state: plain === 'still-moving' && !isShown ? 'cannot-tell' : plain }
}

function levelTest(
  values: readonly (number | null)[],
  options: SessionOptions,
  generator: Generator,
): { p: number | null; n: number; state: 'tested' | 'too-few' | 'no-spread' } {
  const n = presentValues(values).length
  if (n < minToPlace) return { p: null, n, state: 'too-few' }
  const test = pettittPermutation(values, { permutations: options.permutations ?? 9_999, generator })
  return test.reason === null ? { p: test.p, n, state: 'tested' } : { p: null, n, state: 'no-spread' }
}

function placeChange(
  row: { values: (number | null)[]; whole: Trend; level: ReturnType<typeof levelTest> },
  places: readonly { shot: ChangeShot; block: string }[],
  alpha: number,
): LevelChange {
  const { p, n } = row.level
  const none = {
    p,
    pAdjusted: null,
    n,
    shotsBefore: null,
    from: null,
    to: null,
    step: null,
    isPlaceVague: false,
    blocks: [],
    startingBlock: null,
    startingCues: [],
    isAlsoTrend: false,
  }
  if (row.level.state !== 'tested') return { ...none, state: row.level.state }
  // Nothing is placed that no budget could show.
  if (p === null || p > alpha) return { ...none, state: 'steady' }
  const located = changeLocation(row.values)
  const { shotsBefore, lower: from, upper: to } = located
  if (shotsBefore === null || from === null || to === null) return { ...none, state: 'changed' }

  const present = places.filter((_, i) => isPresent(row.values[i]))
  const values = presentValues(row.values)
  // The first shot after the change has one of the places `from` … `to` (0-based, shots with a reading).
  const inRange = present.slice(from, to + 1)
  const blockAt = (i: number): string | undefined => present[i]?.block
  const startingBlock = [...inRange.keys()]
    .map((i) => from + i)
    .filter((i) => blockAt(i) !== blockAt(i - 1))
    .sort((i, j) => Math.abs(i - shotsBefore) - Math.abs(j - shotsBefore))
    .map(blockAt)[0]
  const cuesBefore = new Set(present.slice(0, from).flatMap(({ shot }) => shot.cues ?? []))
  const cuesInRange = new Set(inRange.flatMap(({ shot }) => shot.cues ?? []))
  const trendP = row.whole.pExact ?? row.whole.pNormal
  return {
    ...none,
    state: 'changed',
    shotsBefore,
    from,
    to,
    step: median(values.slice(shotsBefore)) - median(values.slice(0, shotsBefore)),
    isPlaceVague: to - from + 1 >= n / 2,
    blocks: [...new Set(inRange.map(({ block }) => block))],
    startingBlock: startingBlock ?? null,
    startingCues: [...cuesInRange].filter((cue) => !cuesBefore.has(cue)),
    isAlsoTrend: trendP !== null && trendP <= alpha && !isClearStep(values, shotsBefore, alpha),
  }
}

const judged = (placed: LevelChange, pAdjusted: number | null, alpha: number): LevelChange => {
  if (placed.state !== 'changed') return { ...placed, pAdjusted }
  if (pAdjusted !== null && pAdjusted <= alpha) return { ...placed, pAdjusted }
  return {
    ...placed,
    pAdjusted,
    state: 'steady',
    shotsBefore: null,
    from: null,
    to: null,
    step: null,
    blocks: [],
    startingBlock: null,
    startingCues: [],
  }
}

/** The level change of a metric once its p-value has been adjusted for everything looked at with it. */
export const judgeLevelChange = (
  row: SessionMetric,
  pAdjusted: number | null,
  alpha: number,
): SessionMetric => ({ ...row, levelChange: judged(row.placed, pAdjusted, alpha) })

/**
 * A step also looks like a trend over the whole session. It counts as a step if neither side of it drifts by
 * itself in the same direction.
 */
function isClearStep(values: readonly number[], shotsBefore: number, alpha: number): boolean {
  const direction = Math.sign(median(values.slice(shotsBefore)) - median(values.slice(0, shotsBefore)))
  return [values.slice(0, shotsBefore), values.slice(shotsBefore)].every((part) => {
    const found = trend(part)
    const p = found.pExact ?? found.pNormal
    return p === null || p > alpha || Math.sign(found.slope ?? 0) !== direction
  })
}
