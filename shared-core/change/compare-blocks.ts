import { ascending } from '../statistics/ascending.ts'
import { normalScoresP } from '../statistics/normal-scores.ts'
import { closedSteps } from '../statistics/closed-testing.ts'
import type { ClosedStep } from '../statistics/closed-testing.ts'
import { blockSummary } from '../statistics/block-summary.ts'
import type { BlockSummary } from '../statistics/block-summary.ts'
import { hedgesG } from '../statistics/hedges-g.ts'
import { holm } from '../statistics/holm.ts'
import { pooledLag1, varianceInflation } from '../statistics/resemblance.ts'
import { presentValues } from '../statistics/reading.ts'
import type { Reason } from '../statistics/reading.ts'
import { smallestVisible } from '../statistics/smallest-visible.ts'
import { judge, verdictEvidence } from '../statistics/verdict.ts'
import type { ChangeVerdict, VerdictEvidence } from '../statistics/verdict.ts'
import { welch } from '../statistics/welch.ts'
import type { ShownMetric } from '../units.ts'
import type { ChangeBlock } from './change-shot.ts'
import { driftCheck, goingBack, pairsWithBaseline, sessionAround } from './drift-check.ts'
import type { DriftCheck, GoingBack, SessionAround } from './drift-check.ts'
import { metricNoise } from './metric-noise.ts'
import type { NoiseOptions } from './metric-noise.ts'
import { defaultMetrics, metricValues } from './metric-value.ts'
import { onlyClub, sameClub } from './same-club.ts'
import type { LeftOut } from './same-club.ts'
import { phrase, said } from '../wording/phrase.ts'

/** One block's numbers of one metric, SI units. */
export interface MetricSummary {
  label: string
  n: number
  missing: number
  median: number | null
  /** Median absolute deviation times 1.4826. */
  mad: number | null
  mean: number | null
  sd: number | null
  /** Places (0-based, among the shots compared) of readings to look at: misread or mishit? */
  flagged: number[] | null
}

/** One metric of a block against the baseline's, in the metric's SI unit. */
export interface MetricComparison {
  metric: ShownMetric
  before: MetricSummary
  after: MetricSummary
  /** Hodges-Lehmann shift, after − before. */
  difference: number | null
  /** Null where blocks this small cannot give 95 %; `interval` then holds the widest there is. */
  ci95: [number, number] | null
  interval: [number, number] | null
  achievedConfidence: number | null
  method: string
  /** Hedges' g; null below five shots a block. */
  effectSize: number | null
  p: number | null
  /** p allowing for the other steps of the lesson with the same club (statistics/closed-testing.ts). */
  closed: ClosedStep
  /** Allows for everything shown together. */
  pAdjusted: number | null
  /** The difference that would just show in blocks of this size and scatter. */
  smallestVisible: number | null
  /** What the device alone can make of no change at all. */
  deviceFloor: number | null
  /** The device's error of one reading, one standard deviation. */
  deviceErrorSd: number
  isDeviceErrorKnown: boolean
  /** The smallest change taken to be worth having. */
  margin: number
  verdict: ChangeVerdict
  /** Shots a block that would show a change of `margin` 8 times in 10, by simulation; only where it can't be told yet. */
  shotsNeeded: number | null
  /** Share of pairs in which the shot after is higher. */
  probabilityOfSuperiority: number | null
  reason: Reason | null
  welch: { difference: number | null; ci95: [number, number] | null; p: number | null }
  /** How much consecutive shots resemble each other, pooled over the blocks; interval and p are widened for it. */
  lag1: number
  /** What a steady drift, as it shows inside the blocks, would make of the distance between them. */
  drift: DriftCheck | null
  /** What a later block hit as before says of the change; null without such a block. */
  goingBack: GoingBack | null
  /** What the verdict rests on, for `withAdjusted`. */
  evidence: VerdictEvidence
}

/** A block against the baseline: every metric, what was left out, and how many tests share the budget. */
export interface BlockComparison {
  metrics: MetricComparison[]
  before: string
  after: string
  /** True if the block was hit before the one it is held against. */
  isEarlier: boolean
  /** Name of the later block hit as before that the change is checked by; null without one. */
  returnBlock: string | null
  club: string | null
  /** False if no club was hit in both blocks, so that nothing was compared. */
  isComparable: boolean
  leftOut: LeftOut[]
  /** How many p-values the adjustment allows for. */
  lookedAt: number
  sameSetup: boolean
}

/** What a comparison may be told; every part has its default. */
export interface CompareOptions extends NoiseOptions {
  /** Compare this club only; without it, the one with the most shots in the smaller block. */
  club?: string | null
  /** False if the device was placed anew between the blocks (another day or place). */
  sameSetup?: boolean
  /** Smallest change worth having, in the metric's unit; else the device floor or 1 % of the baseline. */
  margins?: Partial<Record<ShownMetric, number>>
  alpha?: number
  /** The lesson's blocks in the order they were hit, for drift and for going back; without it, the pair's own. */
  session?: readonly ChangeBlock[]
}

/**
 * Block against block: robust shift with exact interval and p, effect size, what device and player let one see,
 * Holm over the metrics shown, and a verdict that may be "cannot-tell", with the shots that would do. Only shots
 * of the same club are compared. Sources: those of the functions in statistics/.
 */
export function compareBlocks(input: {
  before: ChangeBlock
  after: ChangeBlock
  metrics?: readonly ShownMetric[]
  options?: CompareOptions
}): BlockComparison {
  return comparePairs([[input.before, input.after]], input.metrics, input.options)[0]!
}

/** Every block against the baseline, adjusted for all of them being shown together; blocks hit as before only check the others. */
export function compareToBaseline(input: {
  blocks: readonly ChangeBlock[]
  metrics?: readonly ShownMetric[]
  options?: CompareOptions
}): BlockComparison[] {
  return comparePairs(pairsWithBaseline(input.blocks), input.metrics, {
    ...input.options,
    session: input.blocks,
  })
}

/** Several comparisons shown together: one adjustment over all of their p-values. */
export function comparePairs(
  pairs: readonly (readonly [ChangeBlock, ChangeBlock])[],
  metrics: readonly ShownMetric[] = defaultMetrics,
  options: CompareOptions = {},
): BlockComparison[] {
  const session = options.session ?? [...new Set(pairs.flat())]
  const gathered = pairs.map((pair) => {
    const chosen = sameClub(pair, options.club)
    const [before, after] = chosen.blocks as [ChangeBlock, ChangeBlock]
    const around = chosen.isShared
      ? sessionAround(
          onlyClub(session, chosen.club).blocks,
          session.indexOf(pair[0]),
          session.indexOf(pair[1]),
        )
      : null
    return { chosen, around, rows: metrics.map((metric) => gather(metric, before, after, around, options)) }
  })
  const closed = closedOver(
    gathered.map(({ chosen, rows }, i) => ({ baseline: pairs[i]![0], club: chosen.club, rows })),
  )
  const pValues = gathered.flatMap(({ rows }) => rows.map((row) => row.evidence.p))
  const adjusted = holm(pValues)
  const lookedAt = pValues.filter((p) => p !== null).length
  let next = 0
  return gathered.map(({ chosen, rows, around }, i) => ({
    metrics: rows.map((row) => finish(row, closed.get(row)!, adjusted[next++]!, options)),
    before: pairs[i]![0].label,
    after: pairs[i]![1].label,
    isEarlier: session.indexOf(pairs[i]![1]) < session.indexOf(pairs[i]![0]),
    returnBlock: around?.back?.label ?? null,
    club: chosen.club,
    isComparable: chosen.isShared,
    leftOut: chosen.leftOut,
    lookedAt,
    sameSetup: options.sameSetup ?? true,
  }))
}

/** Steps with the same baseline, club and metric are tested as one question (closed testing). */
function closedOver(
  steps: readonly { baseline: ChangeBlock; club: string | null; rows: readonly Gathered[] }[],
): Map<Gathered, ClosedStep> {
  const closed = new Map<Gathered, ClosedStep>()
  for (const step of steps) {
    step.rows.forEach((row, at) => {
      if (closed.has(row)) return
      const alike = steps
        .filter(({ baseline, club }) => baseline === step.baseline && club === step.club)
        .map(({ rows }) => rows[at]!)
      const inflation = varianceInflation(Math.max(...alike.map(({ lag1 }) => lag1)))
      const found = closedSteps(
        row.sorted[0],
        alike.map(({ sorted, evidence }) => ({ values: sorted[1], own: evidence.p })),
        inflation,
      )
      alike.forEach((each, k) => closed.set(each, found[k]!))
    })
  }
  return closed
}

/** The comparison with its p-values adjusted for a larger family than its own, judged anew. */
export const withAdjusted = (
  comparison: BlockComparison,
  adjusted: readonly (number | null)[],
  lookedAt: number,
  alpha = 0.05,
): BlockComparison => ({
  ...comparison,
  lookedAt,
  metrics: comparison.metrics.map((row, i) => ({
    ...row,
    pAdjusted: adjusted[i]!,
    verdict: judge(row.evidence, adjusted[i]!, alpha),
  })),
})

interface Gathered {
  metric: ShownMetric
  labels: [string, string]
  sorted: [number[], number[]]
  summaries: [BlockSummary, BlockSummary]
  evidence: VerdictEvidence
  margin: number
  noise: { deviceErrorSd: number; setupErrorSd: number; sameSetup: boolean; isKnown: boolean }
  lag1: number
  drift: DriftCheck | null
  goingBack: GoingBack | null
}

/** How consecutive shots resemble each other is told from all three readings of a strike; carry goes by them. */
const strikeMetrics: readonly ShownMetric[] = ['clubSpeedMps', 'efficiency', 'ballSpeedMps']
const followsFrom: readonly ShownMetric[] = [...strikeMetrics, 'carryM', 'totalM']
/** Three readings of one shot count as 2.3: efficiency is made of the other two (seen by simulation). */
const readingsPerReading = 1.3

function gather(
  metric: ShownMetric,
  before: ChangeBlock,
  after: ChangeBlock,
  around: SessionAround | null,
  options: CompareOptions,
): Gathered {
  const values = [metricValues(before.shots, metric), metricValues(after.shots, metric)] as const
  const summaries: Gathered['summaries'] = [blockSummary(values[0]), blockSummary(values[1])]
  const level = summaries[0].median ?? summaries[1].median ?? 0
  const noise = { ...metricNoise(metric, level, options), sameSetup: options.sameSetup ?? true }
  const floor =
    smallestVisible({ nBefore: summaries[0].n, sdBefore: null, nAfter: summaries[1].n, sdAfter: null }, noise)
      .deviceFloor ?? 0
  const margin = options.margins?.[metric] ?? Math.max(floor, 0.01 * Math.abs(level))
  // Shots of a player resemble each other or not: told over all blocks of the lesson.
  const runsOf = (told: readonly ShownMetric[]) =>
    (around?.blocks ?? [before, after]).flatMap(({ shots }) => told.map((each) => metricValues(shots, each)))
  const told = strikeMetrics.filter((each) => runsOf([each]).some((run) => presentValues(run).length > 0))
  const lag1 =
    followsFrom.includes(metric) && told.length > 0
      ? pooledLag1(runsOf(told), told.length === 3 ? readingsPerReading : 1)
      : pooledLag1(runsOf([metric]))
  // In ascending order, so that not even the rounding depends on the order of the shots.
  const sorted: Gathered['sorted'] = [sortedOf(values[0]), sortedOf(values[1])]
  const inflation = varianceInflation(lag1)
  const found = verdictEvidence(...sorted, { margin, ...noise, alpha: options.alpha, inflation })
  const byScores = normalScoresP(sorted, inflation)
  const evidence = {
    ...found,
    // Where spread and size are unlike, the larger of the two stays.
    p:
      found.p === null || byScores === null
        ? found.p
        : found.largerOfTwo
          ? Math.max(found.p, byScores)
          : byScores,
  }
  return {
    metric,
    labels: [before.label, after.label],
    sorted,
    summaries,
    evidence,
    margin,
    noise,
    lag1,
    drift: around === null ? null : driftCheck(around, metric, evidence.shift),
    goingBack:
      around?.back == null ? null : goingBack(...values, metricValues(around.back.shots, metric), inflation),
  }
}

const sortedOf = (values: readonly (number | null)[]): number[] =>
  Array.from(ascending(presentValues(values)))

/** Blocks must reach this size before a change can show once several metrics are looked at (statistics 3.2). */
const minUsefulShots = 5

function finish(
  row: Gathered,
  closed: ClosedStep,
  pAdjusted: number | null,
  options: CompareOptions,
): MetricComparison {
  const { metric, evidence, summaries, sorted, margin, noise } = row
  const { alpha = 0.05 } = options
  const [a, b] = summaries
  const verdict = judge(evidence, pAdjusted, alpha)
  const interval: [number, number] | null =
    evidence.lower === null || evidence.upper === null ? null : [evidence.lower, evidence.upper]
  const visible = smallestVisible({ nBefore: a.n, sdBefore: a.sd, nAfter: b.n, sdAfter: b.sd }, noise)
  const means = welch(...sorted)
  const isShowable = a.n >= minUsefulShots && b.n >= minUsefulShots
  return {
    metric,
    before: blockNumbers(row.labels[0], a),
    after: blockNumbers(row.labels[1], b),
    difference: evidence.shift,
    ci95: evidence.reachesConfidence ? interval : null,
    interval,
    achievedConfidence: evidence.achievedConfidence,
    method: methodWords(evidence, row.lag1),
    effectSize: isShowable ? hedgesG(...sorted).g : null,
    p: evidence.p,
    closed,
    pAdjusted,
    smallestVisible: visible.smallestVisible,
    deviceFloor: evidence.deviceFloor,
    deviceErrorSd: noise.deviceErrorSd,
    isDeviceErrorKnown: noise.isKnown,
    margin,
    verdict,
    shotsNeeded: null,
    probabilityOfSuperiority: evidence.probabilityOfSuperiority,
    reason: reasonOf(verdict, a, b),
    welch: {
      difference: means.difference,
      ci95: means.lower === null || means.upper === null ? null : [means.lower, means.upper],
      p: means.p,
    },
    lag1: row.lag1,
    drift: row.drift,
    goingBack: row.goingBack,
    evidence,
  }
}

const blockNumbers = (label: string, summary: BlockSummary): MetricSummary => ({
  label,
  n: summary.n,
  missing: summary.missing,
  median: summary.median,
  mad: summary.scaledMad,
  mean: summary.mean,
  sd: summary.sd,
  flagged: summary.flagged,
})

function reasonOf(verdict: ChangeVerdict, a: BlockSummary, b: BlockSummary): Reason | null {
  if (a.n === 0 || b.n === 0) return 'no-data'
  if (verdict === 'too-few' || verdict === 'no-spread') return verdict
  return null
}

function methodWords(evidence: VerdictEvidence, lag1: number): string {
  const test = phrase(evidence.largerOfTwo ? 'shift.largestP' : 'shift.normalScores')
  return lag1 >= 0.05
    ? said('shift.methodWidened', { test, lag1: lag1.toFixed(1) })
    : said('shift.method', { test })
}
