import { ascending } from '../statistics/ascending.ts'
import { blockSummary } from '../statistics/block-summary.ts'
import type { BlockSummary } from '../statistics/block-summary.ts'
import { hedgesG } from '../statistics/hedges-g.ts'
import { holm } from '../statistics/holm.ts'
import { resemblesNeighbours } from '../statistics/lag1.ts'
import { median } from '../statistics/median.ts'
import { presentValues } from '../statistics/reading.ts'
import type { Reason } from '../statistics/reading.ts'
import { shotsNeeded } from '../statistics/shots-needed.ts'
import { smallestVisible } from '../statistics/smallest-visible.ts'
import { judge, verdictEvidence } from '../statistics/verdict.ts'
import type { ChangeVerdict, VerdictEvidence } from '../statistics/verdict.ts'
import { welch } from '../statistics/welch.ts'
import type { ShownMetric } from '../units.ts'
import type { ChangeBlock } from './change-shot.ts'
import { metricNoise } from './metric-noise.ts'
import type { NoiseOptions } from './metric-noise.ts'
import { defaultMetrics, metricValues } from './metric-value.ts'
import { sameClub } from './same-club.ts'
import type { LeftOut } from './same-club.ts'

/** One block's numbers of one metric, SI units. */
export interface BlockNumbers {
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

export interface MetricComparison {
  metric: ShownMetric
  before: BlockNumbers
  after: BlockNumbers
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
  /** Allows for everything shown together (Holm). */
  pAdjusted: number | null
  /** The difference that would just show in blocks of this size and scatter. */
  smallestVisible: number | null
  /** What the device alone can make of no change at all. */
  deviceFloor: number | null
  isDeviceErrorKnown: boolean
  /** The smallest change taken to be worth having. */
  margin: number
  verdict: ChangeVerdict
  /** Shots a block that would show a change of `margin`; only where it can't be told yet. */
  shotsNeeded: number | null
  /** Share of pairs in which the shot after is higher. */
  probabilityOfSuperiority: number | null
  reason: Reason | null
  welch: { difference: number | null; ci95: [number, number] | null; p: number | null }
  /** Median of the first five after − median of the last five before: does the step show at the border? */
  borderDifference: number | null
  /** Consecutive shots resemble each other, so the result is less sure than it looks. */
  isLessSure: boolean
}

export interface BlockComparison {
  metrics: MetricComparison[]
  before: string
  after: string
  club: string | null
  /** False if no club was hit in both blocks, so that nothing was compared. */
  isComparable: boolean
  leftOut: LeftOut[]
  /** How many p-values the adjustment allows for. */
  lookedAt: number
  sameSetup: boolean
}

export interface CompareOptions extends NoiseOptions {
  /** Compare this club only; without it, the one with the most shots in the smaller block. */
  club?: string | null
  /** False if the device was placed anew between the blocks (another day or place). */
  sameSetup?: boolean
  /** Smallest change worth having, in the metric's unit; else the device floor or 1 % of the baseline. */
  margins?: Partial<Record<ShownMetric, number>>
  alpha?: number
  power?: number
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

/** Every block against the baseline, adjusted for all of them being shown together. */
export function compareToBaseline(input: {
  blocks: readonly ChangeBlock[]
  metrics?: readonly ShownMetric[]
  options?: CompareOptions
}): BlockComparison[] {
  const baseline = input.blocks.find((block) => block.isBaseline) ?? input.blocks[0]
  if (baseline === undefined) return []
  const others = input.blocks.filter((block) => block !== baseline)
  return comparePairs(
    others.map((block) => [baseline, block]),
    input.metrics,
    input.options,
  )
}

/** Several comparisons shown together: one adjustment over all of their p-values. */
export function comparePairs(
  pairs: readonly (readonly [ChangeBlock, ChangeBlock])[],
  metrics: readonly ShownMetric[] = defaultMetrics,
  options: CompareOptions = {},
): BlockComparison[] {
  const gathered = pairs.map((pair) => {
    const chosen = sameClub(pair, options.club)
    const [before, after] = chosen.blocks as [ChangeBlock, ChangeBlock]
    return { chosen, rows: metrics.map((metric) => gather(metric, before, after, options)) }
  })
  const pValues = gathered.flatMap(({ rows }) => rows.map((row) => row.evidence.p))
  const adjusted = holm(pValues)
  const lookedAt = pValues.filter((p) => p !== null).length
  let next = 0
  return gathered.map(({ chosen, rows }, i) => ({
    metrics: rows.map((row) => finish(row, adjusted[next++]!, lookedAt, options)),
    before: pairs[i]![0].label,
    after: pairs[i]![1].label,
    club: chosen.club,
    isComparable: chosen.isShared,
    leftOut: chosen.leftOut,
    lookedAt,
    sameSetup: options.sameSetup ?? true,
  }))
}

interface Gathered {
  metric: ShownMetric
  labels: [string, string]
  /** As hit, with gaps. */
  values: [(number | null)[], (number | null)[]]
  sorted: [number[], number[]]
  summaries: [BlockSummary, BlockSummary]
  evidence: VerdictEvidence
  margin: number
  noise: { deviceSem: number; setupSem: number; sameSetup: boolean; isKnown: boolean }
}

function gather(
  metric: ShownMetric,
  before: ChangeBlock,
  after: ChangeBlock,
  options: CompareOptions,
): Gathered {
  const values: Gathered['values'] = [metricValues(before.shots, metric), metricValues(after.shots, metric)]
  const summaries: Gathered['summaries'] = [blockSummary(values[0]), blockSummary(values[1])]
  const level = summaries[0].median ?? summaries[1].median ?? 0
  const noise = { ...metricNoise(metric, level, options), sameSetup: options.sameSetup ?? true }
  const floor =
    smallestVisible({ nBefore: summaries[0].n, sdBefore: null, nAfter: summaries[1].n, sdAfter: null }, noise)
      .deviceFloor ?? 0
  const margin = options.margins?.[metric] ?? Math.max(floor, 0.01 * Math.abs(level))
  // In ascending order, so that not even the rounding depends on the order of the shots.
  const sorted: Gathered['sorted'] = [sortedOf(values[0]), sortedOf(values[1])]
  const evidence = verdictEvidence(...sorted, { margin, ...noise, alpha: options.alpha })
  return { metric, labels: [before.label, after.label], values, sorted, summaries, evidence, margin, noise }
}

const sortedOf = (values: readonly (number | null)[]): number[] =>
  Array.from(ascending(presentValues(values)))

/** Blocks must reach this size before a change can show once several metrics are looked at (statistics 3.2). */
const fewestUsefulShots = 5

function finish(
  row: Gathered,
  pAdjusted: number | null,
  lookedAt: number,
  options: CompareOptions,
): MetricComparison {
  const { metric, evidence, summaries, values, sorted, margin, noise } = row
  const { alpha = 0.05, power = 0.8 } = options
  const [a, b] = summaries
  const verdict = judge(evidence, pAdjusted, alpha)
  const interval: [number, number] | null =
    evidence.lower === null || evidence.upper === null ? null : [evidence.lower, evidence.upper]
  const visible = smallestVisible({ nBefore: a.n, sdBefore: a.sd, nAfter: b.n, sdAfter: b.sd }, noise)
  const means = welch(...sorted)
  const isShowable = a.n >= fewestUsefulShots && b.n >= fewestUsefulShots
  return {
    metric,
    before: blockNumbers(row.labels[0], a),
    after: blockNumbers(row.labels[1], b),
    difference: evidence.shift,
    ci95: evidence.reachesConfidence ? interval : null,
    interval,
    achievedConfidence: evidence.achievedConfidence,
    method: methodWords(evidence, lookedAt),
    effectSize: isShowable ? hedgesG(...sorted).g : null,
    p: evidence.p,
    pAdjusted,
    smallestVisible: visible.smallestVisible,
    deviceFloor: evidence.deviceFloor,
    isDeviceErrorKnown: noise.isKnown,
    margin,
    verdict,
    shotsNeeded: needsMore(verdict) ? shotsThatWouldDo(a, b, margin, { alpha, power }) : null,
    probabilityOfSuperiority: evidence.probabilityOfSuperiority,
    reason: reasonOf(verdict, a, b),
    welch: {
      difference: means.difference,
      ci95: means.lower === null || means.upper === null ? null : [means.lower, means.upper],
      p: means.p,
    },
    borderDifference: borderDifference(...values),
    isLessSure: values.some(resemblesNeighbours),
  }
}

const blockNumbers = (label: string, summary: BlockSummary): BlockNumbers => ({
  label,
  n: summary.n,
  missing: summary.missing,
  median: summary.median,
  mad: summary.madScaled,
  mean: summary.mean,
  sd: summary.sd,
  flagged: summary.flagged,
})

const needsMore = (verdict: ChangeVerdict): boolean => verdict === 'cannot-tell' || verdict === 'too-few'

function shotsThatWouldDo(
  a: BlockSummary,
  b: BlockSummary,
  difference: number,
  options: { alpha: number; power: number },
): number | null {
  if (a.sd === null || b.sd === null) return null
  const { perBlock } = shotsNeeded(Math.sqrt((a.sd ** 2 + b.sd ** 2) / 2), difference, options)
  return perBlock === null ? null : Math.max(perBlock, fewestUsefulShots)
}

function reasonOf(verdict: ChangeVerdict, a: BlockSummary, b: BlockSummary): Reason | null {
  if (a.n === 0 || b.n === 0) return 'no-data'
  if (verdict === 'too-few' || verdict === 'no-spread') return verdict
  return null
}

function methodWords(evidence: VerdictEvidence, lookedAt: number): string {
  const test = evidence.largerOfTwo
    ? 'larger of exact permutation and Welch p (spread and size unlike)'
    : 'exact permutation p'
  return `Hodges-Lehmann shift with exact Wilcoxon interval, ${test}, Holm over ${lookedAt}`
}

function borderDifference(before: (number | null)[], after: (number | null)[]): number | null {
  const last = presentValues(before).slice(-5)
  const first = presentValues(after).slice(0, 5)
  return last.length < 5 || first.length < 5 ? null : median(first) - median(last)
}
