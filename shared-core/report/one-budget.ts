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
import { judgeBias, judgeLoss } from '../change/strike-map-report.ts'
import type { StrikeMapReport } from '../change/strike-map-report.ts'
import { gatekeep } from '../statistics/gatekeeping.ts'
import type { GatekeptFamily } from '../statistics/gatekeeping.ts'
import { shotsBySimulation } from '../statistics/shots-by-simulation.ts'
import { varianceInflation } from '../statistics/resemblance.ts'
import type { ShownMetric } from '../units.ts'
import type { MeasuresReport } from './measures-report.ts'

/** All that a lesson may call sure. */
export interface Claims {
  comparisons: BlockComparison[]
  spreads: SpreadReport[]
  session: SessionReport
  cues: CueReport
  playSpeed: PlaySpeedReport
  strikeMap: StrikeMapReport
  /** What the pictures give; null where nothing is marked. */
  measures: MeasuresReport | null
}

/** At most one lesson in twenty is told something that is not there. */
const budget = 0.05
/** Share of the budget that the first questions of a lesson get; the rest is for everything that is asked last (our choice). */
const firstShare = 0.95
/**
 * Club speed is the noisier reading, so it gets more of the budget than efficiency: 3 mph of the one and 0.04 of the other are then
 * found about equally often (our choice, by simulation).
 */
const firstWeights: Partial<Record<ShownMetric, number>> = { clubSpeedMps: 0.74, efficiency: 0.26 }
/** Share left to a run without steps: consecutive shots that resemble each other are not allowed for there (our choice). */
const runShare = 0.8
/** Part of a first question's share that what follows from a step gets once that step alone is shown (our choice). */
const freeShare = 0.2

/** Club speed and efficiency say what the player did; ball speed and carry follow from them. */
const firstMetrics: readonly ShownMetric[] = ['clubSpeedMps', 'efficiency']
const followers: readonly ShownMetric[] = ['ballSpeedMps', 'carryM', 'totalM']

const isTested = (p: number | null): p is number => p !== null

/** What is asked first: club speed and efficiency; where neither was recorded, the first of what follows; else all. */
function primaryOf(rows: readonly { metric: ShownMetric; p: number | null }[]): ShownMetric[] {
  const tested = new Set(rows.filter((row) => isTested(row.p)).map((row) => row.metric))
  const first = firstMetrics.filter((metric) => tested.has(metric))
  if (first.length > 0) return first
  const follower = followers.filter((metric) => tested.has(metric))
  return follower.length > 0 ? follower.slice(0, 1) : [...tested]
}

interface Question {
  p: (number | null)[]
  rank: 'first' | 'follower' | 'last'
  /** Share among those of its rank; followers have none of their own. */
  weight: number
  /** The steps its members belong to; a follower inherits from the first questions of its own step. */
  steps: string[]
}

const isOpen = (question: Question): boolean => question.p.some(isTested)

/** A step's p allowing for the other steps, with a part of the share kept free for what follows from a step shown alone. */
const amongSteps = ({ closed }: MetricComparison, free: number): number | null =>
  closed.all === null ? null : Math.min(1, Math.max(closed.all, (closed.some ?? 0) / (1 - free)))

type Place = [question: number, member: number]

/** Questions of the lesson as they are gathered, and where each p-value of the report went. */
class Questions {
  readonly all: Question[] = []

  /** One question of several steps, or of one. */
  add(question: Question): Place[] {
    const at = this.all.push(question) - 1
    return question.p.map((_, member) => [at, member])
  }

  last(p: number | null, weight = 1): Place {
    return this.add({ p: [p], rank: 'last', weight, steps: ['last'] })[0]!
  }

  /** Comparisons of one club and baseline: first questions over all of their steps, followers step by step. */
  addComparisons(comparisons: readonly BlockComparison[], rank: 'first' | 'last', weight: number): Place[][] {
    const places: Place[][] = comparisons.map((comparison) => comparison.metrics.map(() => [-1, 0]))
    const groups = groupsOf(comparisons)
    for (const group of groups) {
      const rows = group.flatMap((i) => comparisons[i]!.metrics.map((row, k) => ({ i, k, row })))
      const primary =
        rank === 'first'
          ? primaryOf(rows.map(({ row }) => row))
          : [...new Set(rows.map(({ row }) => row.metric))]
      const whole = primary.reduce((sum, metric) => sum + (firstWeights[metric] ?? 1), 0)
      for (const metric of primary) {
        const own = rows.filter(({ row }) => row.metric === metric)
        const added = this.add({
          p: own.map(({ row }) => amongSteps(row, rank === 'first' ? freeShare : 0)),
          rank,
          weight: (weight * (firstWeights[metric] ?? 1)) / whole / groups.length,
          steps: own.map(({ i }) => `step ${i}`),
        })
        own.forEach(({ i, k }, member) => (places[i]![k] = added[member]!))
      }
      for (const { i, k, row } of rows) {
        if (primary.includes(row.metric)) continue
        places[i]![k] = this.add({ p: [row.p], rank: 'follower', weight: 0, steps: [`step ${i}`] })[0]!
      }
    }
    return places
  }

  count(): number {
    return this.all.reduce((sum, { p }) => sum + p.filter(isTested).length, 0)
  }
}

/** Places of comparisons that share club and baseline. */
function groupsOf(comparisons: readonly BlockComparison[]): number[][] {
  const groups = new Map<string, number[]>()
  comparisons.forEach(({ club, before }, i) => {
    const key = `${club ?? ''} ${before}`
    groups.set(key, [...(groups.get(key) ?? []), i])
  })
  return [...groups.values()].filter((group) =>
    group.some((i) => comparisons[i]!.metrics.some((row) => isTested(row.p))),
  )
}

/**
 * One budget for everything that a lesson calls sure (gatekeeping): club speed and efficiency first, each over all steps
 * together; ball speed and carry only after one of those holds; scatter, cues, direction, face and what the pictures give last,
 * with what is left. "Settled" and "still moving" are no claims and take nothing.
 * Source: Bretz et al. 2009; Dmitrienko, Tamhane & Wiens 2008; shares and order are Leadside's own.
 */
export function underOneBudget(claims: Claims): Claims {
  const questions = new Questions()
  const comparisonPlaces = questions.addComparisons(claims.comparisons, 'first', 1)
  // Where there is no step to ask about, the first question is whether the level changed inside the run.
  const hasSteps = questions.all.some((question) => question.rank === 'first' && isOpen(question))
  const levels = claims.session.metrics.map((row) => ({ metric: row.metric, p: row.levelChange.p }))
  const firstLevels = primaryOf(levels)
  const levelPlaces = levels.map(({ metric, p }) =>
    firstLevels.includes(metric)
      ? questions.add({
          // With steps the change is asked about block by block; where the level moved is drawn, no claim of its own.
          p: [hasSteps ? null : p],
          rank: 'first',
          weight: firstWeights[metric] ?? 1,
          steps: ['run'],
        })[0]!
      : questions.add({ p: [hasSteps ? null : p], rank: 'follower', weight: 0, steps: ['run'] })[0]!,
  )
  const spreadPlaces = claims.spreads.map((spread, i) => {
    const primary = primaryOf(spread.metrics)
    return spread.metrics.map((row) =>
      primary.includes(row.metric)
        ? questions.add({ p: [row.p], rank: 'last', weight: 1, steps: [`scatter ${i}`] })[0]!
        : questions.add({ p: [row.p], rank: 'follower', weight: 0, steps: [`scatter ${i}`] })[0]!,
    )
  })
  const cuePlaces = claims.cues.rows.map((row) => questions.last(row.p))
  const controlPlace = questions.last(claims.playSpeed.control.p)
  const biasPlace = questions.last(claims.strikeMap.bias.p)
  const lossPlace = questions.last(claims.strikeMap.loss.p)
  // The pictures get as much of what is left as all the numbers asked last.
  const { measures } = claims
  const others = questions.all.filter((question) => question.rank === 'last' && isOpen(question)).length
  const pictureTests = measures
    ? measures.cues.rows.filter((row) => isTested(row.p)).length +
      new Set(
        measures.comparisons.flatMap((c) =>
          c.metrics.filter((row) => isTested(row.p)).map((row) => row.metric),
        ),
      ).size
    : 0
  const pictureWeight = Math.max(1, others) / Math.max(1, pictureTests)
  const measurePlaces = measures
    ? questions.addComparisons(measures.comparisons, 'last', pictureWeight * pictureTests)
    : []
  const measureCuePlaces = measures
    ? measures.cues.rows.map((row) => questions.last(row.p, pictureWeight))
    : []

  const adjusted = gatekeep(asFamilies(questions.all))
  const lookedAt = questions.count()
  const pick = ([question, member]: Place): number | null => adjusted[question]?.[member] ?? null
  const pickAll = (places: readonly Place[]) => places.map(pick)
  const comparisons = claims.comparisons.map((comparison, i) =>
    withShotsNeeded(withAdjusted(comparison, pickAll(comparisonPlaces[i]!), lookedAt, budget), (k) =>
      alphaOf(questions.all, comparisonPlaces[i]![k]!),
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
      metrics: spread.metrics.map((row, k) => judgeSpread(row, pick(spreadPlaces[i]![k]!), budget)),
    })),
    session: {
      ...claims.session,
      lookedAt,
      metrics: claims.session.metrics.map((row, i) =>
        judgeLevelChange(
          row,
          hasSteps ? (changed.has(row.metric) ? row.levelChange.p : null) : pick(levelPlaces[i]!),
          budget,
        ),
      ),
    },
    cues: { lookedAt, rows: claims.cues.rows.map((row, i) => judgeCue(row, pick(cuePlaces[i]!), budget)) },
    playSpeed: {
      ...claims.playSpeed,
      control: judgeControl(claims.playSpeed.control, pick(controlPlace), budget),
    },
    strikeMap: {
      ...claims.strikeMap,
      bias: judgeBias(claims.strikeMap.bias, pick(biasPlace), budget),
      loss: judgeLoss(claims.strikeMap.loss, pick(lossPlace), budget),
    },
    measures: measures && {
      ...measures,
      comparisons: measures.comparisons.map((comparison, i) =>
        withAdjusted(comparison, pickAll(measurePlaces[i]!), lookedAt, budget),
      ),
      cues: {
        lookedAt,
        rows: measures.cues.rows.map((row, i) => judgeCue(row, pick(measureCuePlaces[i]!), budget)),
      },
    },
  }
}

/** Places of the questions of a rank that can be tested, of one step or of all. */
const ofRank = (
  questions: readonly Question[],
  rank: Question['rank'],
  steps?: readonly string[],
): number[] =>
  questions.flatMap((question, i) =>
    question.rank === rank &&
    isOpen(question) &&
    (!steps || question.steps.some((step) => steps.includes(step)))
      ? [i]
      : [],
  )

/** What all questions of a rank have of the budget. */
function shareOfRank(questions: readonly Question[], rank: 'first' | 'last'): number {
  const [first, last] = [ofRank(questions, 'first').length > 0, ofRank(questions, 'last').length > 0]
  if (rank === 'first') return last ? firstShare : 1
  return first ? 1 - firstShare : 1
}

function weightOf(questions: readonly Question[], question: Question): number {
  if (question.rank === 'follower' || !isOpen(question)) return 0
  const all = ofRank(questions, question.rank).reduce((sum, i) => sum + questions[i]!.weight, 0)
  const kept = question.steps.includes('run') ? runShare : 1
  return (kept * shareOfRank(questions, question.rank) * question.weight) / all
}

/** The questions as a graph: shares of the budget, and who inherits them. */
function asFamilies(questions: readonly Question[]): GatekeptFamily[] {
  const [first, last] = [ofRank(questions, 'first'), ofRank(questions, 'last')]
  return questions.map((question, i) => {
    const others = (indices: readonly number[]) => indices.filter((index) => index !== i)
    const own = others(ofRank(questions, 'follower', question.steps))
    const heirs = {
      first: [
        { to: others(first), part: 0.5 },
        { to: own, part: 0.4 },
        { to: last, part: 0.1 },
      ],
      follower: [
        { to: own, part: 0.3 },
        { to: first, part: 0.5 },
        { to: last, part: 0.2 },
      ],
      last: [
        { to: others(last), part: 0.5 },
        { to: own, part: 0.5 },
      ],
    }[question.rank]
    const open = heirs.filter(({ to }) => to.length > 0)
    const all = open.reduce((sum, { part }) => sum + part, 0)
    return {
      p: question.p,
      weight: weightOf(questions, question),
      passesTo: open.flatMap(({ to, part }) =>
        to.map((each) => ({ to: each, part: part / all / to.length })),
      ),
      ...(question.rank === 'first' && {
        gives: question.steps.map((step) => {
          const following = ofRank(questions, 'follower', [step])
          return following.map((to) => ({ to, part: freeShare / question.steps.length / following.length }))
        }),
      }),
    }
  })
}

/** What the p-value of one step of a first question must reach, taken by itself; null for other questions. */
function alphaOf(questions: readonly Question[], [at]: Place): number | null {
  const question = questions[at]
  if (question?.rank !== 'first') return null
  const isAlone = question.p.filter(isTested).length === 1
  return budget * weightOf(questions, question) * (isAlone ? 1 : 1 - freeShare)
}

/** Shots a block that would show a change worth having under this budget, for the first questions that are open. */
export function withShotsNeeded(
  comparison: BlockComparison,
  /** What the p-value at a place among the metrics must reach; null where it is not a first question. */
  alphaFor: (place: number) => number | null,
): BlockComparison {
  return {
    ...comparison,
    metrics: comparison.metrics.map((row, i) => {
      const { before, after, verdict } = row
      const alpha = alphaFor(i)
      if (verdict !== 'cannot-tell' || alpha === null) return row
      if (before.sd === null || after.sd === null) return row
      const shotsNeeded = shotsBySimulation({
        sd: Math.sqrt((before.sd ** 2 + after.sd ** 2) / 2),
        df: before.n + after.n - 2,
        difference: row.margin,
        alpha,
        inflation: varianceInflation(row.lag1),
        deviceErrorSd: row.deviceErrorSd,
      })
      return { ...row, shotsNeeded }
    }),
  }
}
