import { holm } from '../statistics/holm.ts'
import { presentValues } from '../statistics/reading.ts'
import type { Reason } from '../statistics/reading.ts'
import { spreadChange } from '../statistics/spread-change.ts'
import type { ShownMetric } from '../units.ts'
import type { ChangeBlock } from './change-shot.ts'
import { defaultMetrics, metricValues } from './metric-value.ts'
import { sameClub } from './same-club.ts'

/** The scatter of one metric in two blocks (spread-change.ts). */
export interface SpreadComparison {
  metric: ShownMetric
  n: [number, number]
  /** Standard deviation after over before. */
  sdRatio: number | null
  madRatio: number | null
  p: number | null
  pAdjusted: number | null
  verdict: 'steadier' | 'wilder' | 'cannot-tell' | 'too-few' | 'no-spread'
  reason: Reason | null
}

/** The scatter of two blocks, every metric, under a budget of its own. */
export interface SpreadReport {
  before: string
  after: string
  club: string | null
  lookedAt: number
  metrics: SpreadComparison[]
}

/** Scatter is compared from this many shots a block on; even then it is slow to see (statistics 3.4). */
export const minForSpread = 8

/**
 * Did the scatter change, block against block: a finding of its own beside the level, with its own adjustment over
 * all metrics and pairs shown together. Source: Brown & Forsythe 1974; Holm 1979.
 */
export function compareSpreads(
  pairs: readonly (readonly [ChangeBlock, ChangeBlock])[],
  metrics: readonly ShownMetric[] = defaultMetrics,
  options: { club?: string | null; alpha?: number } = {},
): SpreadReport[] {
  const alpha = options.alpha ?? 0.05
  const gathered = pairs.map((pair) => {
    const chosen = sameClub(pair, options.club)
    const [before, after] = chosen.blocks as [ChangeBlock, ChangeBlock]
    const rows = metrics.map((metric) => {
      const a = presentValues(metricValues(before.shots, metric))
      const b = presentValues(metricValues(after.shots, metric))
      const isEnough = Math.min(a.length, b.length) >= minForSpread
      const found = spreadChange(a, b)
      return {
        metric,
        n: [a.length, b.length] as [number, number],
        isEnough,
        found,
        p: isEnough ? found.p : null,
      }
    })
    return { pair, club: chosen.club, rows }
  })
  const pValues = gathered.flatMap(({ rows }) => rows.map((row) => row.p))
  const adjusted = holm(pValues)
  let next = 0
  return gathered.map(({ pair, club, rows }) => ({
    before: pair[0].label,
    after: pair[1].label,
    club,
    lookedAt: pValues.filter((p) => p !== null).length,
    metrics: rows.map(({ metric, n, isEnough, found, p }) =>
      judgeSpread(
        {
          metric,
          n,
          sdRatio: isEnough ? found.sdRatio : null,
          madRatio: isEnough ? found.madRatio : null,
          p,
          pAdjusted: null,
          verdict: isEnough ? 'no-spread' : 'too-few',
          reason: Math.min(...n) === 0 ? 'no-data' : isEnough ? found.reason : 'too-few',
        },
        adjusted[next++]!,
        alpha,
      ),
    ),
  }))
}

/** The verdict of a row whose p-value has been adjusted for everything looked at with it. */
export const judgeSpread = (
  row: SpreadComparison,
  pAdjusted: number | null,
  alpha: number,
): SpreadComparison => ({
  ...row,
  pAdjusted,
  verdict:
    row.p === null
      ? row.verdict
      : pAdjusted === null || pAdjusted > alpha || row.sdRatio === null
        ? 'cannot-tell'
        : row.sdRatio < 1
          ? 'steadier'
          : 'wilder',
})
