import { withAdjusted } from '../change/compare-blocks.ts'
import type { BlockComparison, MetricComparison } from '../change/compare-blocks.ts'
import { judgeSpread } from '../change/compare-spread.ts'
import type { SpreadReport } from '../change/compare-spread.ts'
import { judgeCue } from '../change/cue-report.ts'
import type { CueReport } from '../change/cue-report.ts'
import { judgeControl } from '../change/play-speed-report.ts'
import type { PlaySpeedReport } from '../change/play-speed-report.ts'
import { judgeLevelChange } from '../change/session-report.ts'
import type { SessionReport } from '../change/session-report.ts'
import { judgeBias, judgeLoss } from '../change/strike-report.ts'
import type { StrikeReport as StrikeMapReport } from '../change/strike-report.ts'
import { gatekeep } from '../statistics/gatekeeping.ts'
import type { GatekeptTest } from '../statistics/gatekeeping.ts'
import { shotsBySimulation } from '../statistics/shots-by-simulation.ts'
import { varianceInflation } from '../statistics/resemblance.ts'
import type { ShownMetric } from '../units.ts'

/** All that a lesson may call sure. */
export interface Claims {
  comparisons: BlockComparison[]
  spreads: SpreadReport[]
  session: SessionReport
  cues: CueReport
  playSpeed: PlaySpeedReport
  strikeMap: StrikeMapReport
}

/** At most one lesson in twenty is told something that is not there. */
const budget = 0.05
/** Share of the budget that the first question of a lesson gets; the rest is for everything that is asked last (our choice). */
const firstShare = 0.9

/** Club speed and efficiency say what the player did; ball speed and carry follow from them. */
const firstMetrics: readonly ShownMetric[] = ['clubSpeedMps', 'efficiency']
const followers: readonly ShownMetric[] = ['ballSpeedMps', 'carryM', 'totalM']

const isTested = (p: number | null): p is number => p !== null

/** What a block is first asked about: club speed and efficiency; where neither was recorded, the first of what follows; else all. */
function primaryOf<Row extends { metric: ShownMetric; p: number | null }>(rows: readonly Row[]): Row[] {
  const tested = rows.filter((row) => isTested(row.p))
  const first = tested.filter((row) => firstMetrics.includes(row.metric))
  if (first.length > 0) return first
  const follower = followers.flatMap((metric) => tested.filter((row) => row.metric === metric))
  return follower.length > 0 ? follower.slice(0, 1) : tested
}

interface Node {
  p: number | null
  rank: 'first' | 'follower' | 'last'
  /** Which step of the lesson it belongs to; a follower inherits from the first ones of its own step. */
  step: string
}

/**
 * One budget for everything that a lesson calls sure (gatekeeping): club speed and efficiency of every step first; ball speed and
 * carry only after one of those holds; scatter, cues, direction and face last, with what is left. "Settled" and "still
 * moving" are no claims and take nothing.
 * Source: Bretz et al. 2009; Dmitrienko & Tamhane 2007; shares and order are Leadside's own.
 */
export function underOneBudget(claims: Claims): Claims {
  const nodes: Node[] = []
  const place = (node: Node): number => nodes.push(node) - 1
  const comparisonPlaces = claims.comparisons.map((comparison, i) => {
    const primary = new Set<MetricComparison>(primaryOf(comparison.metrics))
    return comparison.metrics.map((row) =>
      place({ p: row.p, rank: primary.has(row) ? 'first' : 'follower', step: `step ${i}` }),
    )
  })
  // Where there is no step to ask about, the first question is whether the level changed inside the run.
  const hasSteps = nodes.some((node) => node.rank === 'first' && isTested(node.p))
  const levels = claims.session.metrics.map((row) => ({ metric: row.metric, p: row.levelChange.p }))
  const firstLevels = new Set(primaryOf(levels).map(({ metric }) => metric))
  const levelPlaces = levels.map(({ metric, p }) =>
    place({
      // With steps the change is asked about block by block; where the level moved is drawn, no claim of its own.
      p: hasSteps ? null : p,
      rank: firstLevels.has(metric) ? 'first' : 'follower',
      step: 'run',
    }),
  )
  const spreadPlaces = claims.spreads.map((spread, i) => {
    const primary = new Set(primaryOf(spread.metrics).map(({ metric }) => metric))
    return spread.metrics.map((row) =>
      place({ p: row.p, rank: primary.has(row.metric) ? 'last' : 'follower', step: `scatter ${i}` }),
    )
  })
  const last = (p: number | null) => place({ p, rank: 'last', step: 'last' })
  const cuePlaces = claims.cues.rows.map((row) => last(row.p))
  const controlPlace = last(claims.playSpeed.control.p)
  const biasPlace = last(claims.strikeMap.bias.p)
  const lossPlace = last(claims.strikeMap.loss.p)

  const adjusted = gatekeep(asTests(nodes))
  const lookedAt = nodes.filter((node) => isTested(node.p)).length
  const pick = (places: readonly number[]) => places.map((at) => adjusted[at]!)
  const alphaOfFirst = alphaFor(nodes)
  const comparisons = claims.comparisons.map((comparison, i) =>
    withShotsNeeded(
      withAdjusted(comparison, pick(comparisonPlaces[i]!), lookedAt, budget),
      comparison.metrics.filter((_, k) => nodes[comparisonPlaces[i]![k]!]!.rank === 'first'),
      alphaOfFirst,
    ),
  )
  const changed = new Set(
    comparisons.flatMap((c) => c.metrics.filter((m) => m.verdict === 'changed').map((m) => m.metric)),
  )
  return {
    comparisons,
    spreads: claims.spreads.map((spread, i) => ({
      ...spread,
      lookedAt,
      metrics: spread.metrics.map((row, k) => judgeSpread(row, adjusted[spreadPlaces[i]![k]!]!, budget)),
    })),
    session: {
      ...claims.session,
      lookedAt,
      metrics: claims.session.metrics.map((row, i) =>
        judgeLevelChange(
          row,
          hasSteps ? (changed.has(row.metric) ? row.levelChange.p : null) : adjusted[levelPlaces[i]!]!,
          budget,
        ),
      ),
    },
    cues: {
      lookedAt,
      rows: claims.cues.rows.map((row, i) => judgeCue(row, adjusted[cuePlaces[i]!]!, budget)),
    },
    playSpeed: {
      ...claims.playSpeed,
      control: judgeControl(claims.playSpeed.control, adjusted[controlPlace]!, budget),
    },
    strikeMap: {
      ...claims.strikeMap,
      bias: judgeBias(claims.strikeMap.bias, adjusted[biasPlace]!, budget),
      loss: judgeLoss(claims.strikeMap.loss, adjusted[lossPlace]!, budget),
    },
  }
}

const ofRank = (nodes: readonly Node[], rank: Node['rank'], step?: string): number[] =>
  nodes.flatMap((node, i) =>
    isTested(node.p) && node.rank === rank && (step === undefined || node.step === step) ? [i] : [],
  )

/** The family as a graph: shares of the budget, and who inherits them. */
function asTests(nodes: readonly Node[]): GatekeptTest[] {
  const first = ofRank(nodes, 'first')
  const last = ofRank(nodes, 'last')
  const weightOf = (rank: Node['rank']): number => {
    if (rank === 'follower') return 0
    if (rank === 'first') return (last.length > 0 ? firstShare : 1) / first.length
    return (first.length > 0 ? 1 - firstShare : 1) / last.length
  }
  return nodes.map((node, i) => {
    const others = (places: readonly number[]) => places.filter((place) => place !== i)
    const own = others(ofRank(nodes, 'follower', node.step))
    const heirs =
      node.rank === 'last'
        ? [
            { to: others(last), part: 0.5 },
            { to: own, part: 0.5 },
          ]
        : node.rank === 'first'
          ? [
              { to: others(first), part: 0.5 },
              { to: own, part: 0.4 },
              { to: last, part: 0.1 },
            ]
          : [
              { to: own, part: 0.3 },
              { to: first, part: 0.5 },
              { to: last, part: 0.2 },
            ]
    const open = heirs.filter(({ to }) => to.length > 0)
    const all = open.reduce((sum, { part }) => sum + part, 0)
    return {
      p: node.p,
      weight: isTested(node.p) ? weightOf(node.rank) : 0,
      passesTo: open.flatMap(({ to, part }) =>
        to.map((each) => ({ to: each, part: part / all / to.length })),
      ),
    }
  })
}

/** What the p-value of a first question must reach, taken by itself. */
const alphaFor = (nodes: readonly Node[]): number => {
  const first = ofRank(nodes, 'first').length
  const hasLast = ofRank(nodes, 'last').length > 0
  return (budget * (hasLast ? firstShare : 1)) / Math.max(1, first)
}

/** Shots a block that would show a change worth having under this budget, for the first questions that are open. */
export function withShotsNeeded(
  comparison: BlockComparison,
  first: readonly MetricComparison[],
  alpha: number,
): BlockComparison {
  const metrics = new Set(first.map((row) => row.metric))
  return {
    ...comparison,
    metrics: comparison.metrics.map((row) => {
      const { before, after, verdict } = row
      if (verdict !== 'cannot-tell' || !metrics.has(row.metric)) return row
      if (before.sd === null || after.sd === null) return row
      const shotsNeeded = shotsBySimulation({
        sd: Math.sqrt((before.sd ** 2 + after.sd ** 2) / 2),
        df: before.n + after.n - 2,
        difference: row.margin,
        alpha,
        inflation: varianceInflation(row.lag1),
        deviceSem: row.deviceSem,
      })
      return { ...row, shotsNeeded }
    }),
  }
}
