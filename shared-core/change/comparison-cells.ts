import type { ShownMetric } from '../units.ts'
import type { BlockComparison, MetricComparison } from './compare-blocks.ts'

/** One metric of a comparison as a cell of a table: the difference from the block before, in the metric's own unit. */
export interface ComparisonCell {
  metric: ShownMetric
  difference: number | null
  /** 95 % where the blocks reach it. */
  interval: [number, number] | null
  isSure: boolean
  /** What came out, as `MetricComparison.verdict`; `not-recorded` where a block has no reading. */
  verdict: MetricComparison['verdict'] | 'not-recorded'
}

/** Below this many shots a block is a first impression, not a level (statistics 2.1). */
export const minForALevel = 5

/** True where a block is too small to be a level: what it shows is said, and never as sure. */
export const isFirstImpression = (row: MetricComparison): boolean =>
  Math.min(row.before.n, row.after.n) < minForALevel

/** True if the change holds under the lesson's budget and both blocks are large enough to count on. */
export const isSureChange = (row: MetricComparison): boolean =>
  row.verdict === 'changed' && !isFirstImpression(row)

const playerDoes: readonly ShownMetric[] = ['clubSpeedMps', 'efficiency']

/** The sure changes that say what the player did; where there are none, all: ball speed and carry go by club speed and efficiency. */
function leadingChanges(report: BlockComparison): MetricComparison[] {
  const sure = report.metrics.filter(isSureChange)
  const leading = sure.filter((row) => playerDoes.includes(row.metric))
  return leading.length > 0 ? leading : sure
}

/**
 * Sure changes of which it is open whether they came with the step: a steady drift over the lesson could make them, or going back
 * did not settle it. Empty where the step may be named.
 */
export const openToDrift = (report: BlockComparison): MetricComparison[] =>
  leadingChanges(report).filter((row) =>
    report.returnBlock !== null ? row.goingBack?.verdict !== 'went' : (row.drift?.couldExplain ?? true),
  )

/** The cells of the lesson's table for one comparison, one a metric, in the metric's SI unit. */
export const comparisonCells = (report: BlockComparison): ComparisonCell[] =>
  report.metrics.map((row) => ({
    metric: row.metric,
    difference: row.difference,
    interval: row.interval,
    isSure: isSureChange(row),
    verdict: row.reason === 'no-data' ? 'not-recorded' : row.verdict,
  }))

/**
 * More club speed that did not arrive at the ball: club speed rose for sure, efficiency fell for sure, and the ball gained less
 * than the speed alone would have given it. The thing a coach must not miss.
 */
export interface TradeOff {
  clubSpeedMps: number
  efficiency: number
  /** What today's strike would have made of the added speed. */
  ballIfStruckAlikeMps: number
  /** What the ball really gained, with its interval; null where it was not recorded. */
  ballMps: number | null
  ballInterval: [number, number] | null
  /** The ball can't be shown to have gained anything. */
  gainedNothing: boolean
}

/**
 * The trade that a faster but worse struck block made; null if it made none, or if the ball gained what the speed
 * alone would give.
 */
export function tradeOffOf(report: BlockComparison): TradeOff | null {
  const row = (metric: ShownMetric) => report.metrics.find((each) => each.metric === metric)
  const [speed, efficiency, ball] = [row('clubSpeedMps'), row('efficiency'), row('ballSpeedMps')]
  if (!speed || !efficiency || !isSureChange(speed) || !isSureChange(efficiency)) return null
  if (!(speed.difference! > 0 && efficiency.difference! < 0)) return null
  const ballIfStruckAlikeMps = speed.difference! * (efficiency.before.median ?? 0)
  const interval = ball?.interval ?? null
  if (interval !== null && interval[0] > ballIfStruckAlikeMps) return null
  return {
    clubSpeedMps: speed.difference!,
    efficiency: efficiency.difference!,
    ballIfStruckAlikeMps,
    ballMps: ball?.difference ?? null,
    ballInterval: interval,
    gainedNothing: interval === null || interval[0] <= 0,
  }
}
