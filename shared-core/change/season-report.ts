import { hodgesLehmann } from '../statistics/hodges-lehmann.ts'
import { holm } from '../statistics/holm.ts'

import { presentValues } from '../statistics/reading.ts'
import type { Reason } from '../statistics/reading.ts'
import { shrinkage } from '../statistics/shrinkage.ts'
import { twoSidedNormal } from '../statistics/distributions.ts'
import { trend } from '../statistics/trend.ts'

import type { ShownMetric } from '../units.ts'
import type { ChangeBlock, ChangeLesson } from './change-shot.ts'
import { lessonAgainstLesson } from './lesson-against-lesson.ts'
import type { LessonAgainstLesson, RetentionOptions } from './lesson-against-lesson.ts'
import { metricNoise } from './metric-noise.ts'
import { defaultMetrics, metricValues } from './metric-value.ts'
import { mostHitClub, onlyClub } from './same-club.ts'
import type { LeftOut } from './same-club.ts'

/** One lesson's level of one metric, in the metric's SI unit. */
export interface SeasonLessonLevel {
  label: string
  date: string
  /** Days since the first lesson. */
  day: number
  n: number
  /** Hodges-Lehmann centre of the lesson's shots. */
  centre: number | null
  /** The lesson's mean with luck taken out; null below five lessons. */
  shrunken: number | null
  /** How much of the lesson's level is the player, not scatter, 0 to 1. */
  reliability: number | null
}

/** What can be said of a trend over lessons. */
export type SeasonTrendState = 'rising' | 'falling' | 'cannot-tell' | 'too-early'

/** One metric over the lessons of a season, in the metric's SI unit. */
export interface SeasonMetric {
  metric: ShownMetric
  levels: SeasonLessonLevel[]
  trend: {
    state: SeasonTrendState
    lessons: number
    perThirtyDays: number | null
    ci95: [number, number] | null
    p: number | null
    pAdjusted: number | null
  }
  /** False where the lessons do not differ beyond the scatter inside them; null below five lessons. */
  lessonsDiffer: boolean | null
  /** The lesson with the highest level once luck is taken out; only for metrics where more is better. */
  best: {
    label: string
    date: string
    level: number
    /** The second highest level. */
    next: number
    /** It stands out from every other lesson by more than scatter and set-up error. */
    isClear: boolean
  } | null
  reason: Reason | null
}

/** A student's lessons with one club, oldest first. */
export interface SeasonReport {
  club: string | null
  lessons: number
  leftOut: LeftOut[]
  lookedAt: number
  metrics: SeasonMetric[]
  /** Each lesson that followed another: what was kept of the gain before (`isSameAsLast` only for the latest). */
  kept: LessonAgainstLesson[]
}

/** What a season may be told beside what its lessons may. */
export interface SeasonOptions extends RetentionOptions {
  /** Confidence of trend intervals. */
  confidence?: number
}

/** A trend or a personal best is spoken of from this many lessons on (statistics 6.1, 6.2). */
export const minLessons = 5

const moreIsBetter: readonly ShownMetric[] = [
  'clubSpeedMps',
  'ballSpeedMps',
  'efficiency',
  'carryM',
  'totalM',
]

/**
 * One student's lessons over time: trend over days (Theil-Sen, Mann-Kendall), levels and personal bests with luck
 * taken out (shrinkage), and whether each lesson's gain was kept. One club, the one hit most.
 * Sources: Sen 1968; Efron & Morris 1977; Fieller 1954.
 */
export function seasonReport(input: {
  lessons: readonly ChangeLesson[]
  metrics?: readonly ShownMetric[]
  options?: SeasonOptions
}): SeasonReport {
  const { metrics = defaultMetrics, options = {} } = input
  const lessons = [...input.lessons].sort((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : 0))
  const whole = lessons.map((lesson): ChangeBlock => ({
    label: lesson.label,
    shots: lesson.blocks.flatMap((block) => block.shots),
  }))
  const club = options.club === undefined ? (mostHitClub(whole) ?? null) : options.club
  const chosen = onlyClub(whole, club)
  const days = lessons.map((lesson) => daysBetween(lessons[0]!.date, lesson.date))

  const gathered = metrics.map((metric) => {
    const groups = chosen.blocks.map((block) => presentValues(metricValues(block.shots, metric)))
    const centres = groups.map((group) => (group.length > 0 ? hodgesLehmann(group) : null))
    return { metric, groups, centres, trend: trend(centres, { x: days, confidence: options.confidence }) }
  })
  const pValues = gathered.map((row) =>
    row.trend.n < minLessons ? null : (row.trend.pExact ?? row.trend.pNormal),
  )
  const adjusted = holm(pValues)
  return {
    club,
    lessons: lessons.length,
    leftOut: chosen.leftOut,
    lookedAt: pValues.filter((p) => p !== null).length,
    metrics: gathered.map((row, i) => seasonMetric(row, lessons, days, pValues[i]!, adjusted[i]!, options)),
    kept: lessons.slice(1).map((current, i) =>
      lessonAgainstLesson({
        previous: lessons[i]!,
        current,
        metrics,
        options: { ...options, club, withSameAsLast: i === lessons.length - 2 },
      }),
    ),
  }
}

/** Whole days from one YYYY-MM-DD to another. */
const daysBetween = (from: string, to: string): number =>
  Math.round((Date.parse(`${to}T00:00:00Z`) - Date.parse(`${from}T00:00:00Z`)) / 86_400_000)

interface Gathered {
  metric: ShownMetric
  groups: number[][]
  centres: (number | null)[]
  trend: ReturnType<typeof trend>
}

function seasonMetric(
  row: Gathered,
  lessons: readonly ChangeLesson[],
  days: readonly number[],
  p: number | null,
  pAdjusted: number | null,
  options: SeasonOptions,
): SeasonMetric {
  const filled = row.groups.filter((group) => group.length > 0).length
  const levels = filled >= minLessons ? shrinkage(row.groups) : null
  const alpha = options.alpha ?? 0.05
  const isShown = pAdjusted !== null && pAdjusted <= alpha
  const { slope, lower, upper } = row.trend
  const state: SeasonTrendState =
    row.trend.n < minLessons
      ? 'too-early'
      : isShown && slope! > 0
        ? 'rising'
        : isShown && slope! < 0
          ? 'falling'
          : 'cannot-tell'
  const isEarly = state === 'too-early'
  return {
    metric: row.metric,
    levels: lessons.map((lesson, i) => ({
      label: lesson.label,
      date: lesson.date,
      day: days[i]!,
      n: row.groups[i]!.length,
      centre: row.centres[i]!,
      shrunken: levels?.shrunken[i] ?? null,
      reliability: levels?.reliability[i] ?? null,
    })),
    trend: {
      state,
      lessons: row.trend.n,
      perThirtyDays: isEarly || slope === null ? null : slope * 30,
      ci95: isEarly || lower === null || upper === null ? null : [lower * 30, upper * 30],
      p,
      pAdjusted,
    },
    lessonsDiffer: levels === null || levels.sdBetween === null ? null : levels.sdBetween > 0,
    best: levels === null ? null : bestLesson(row, lessons, levels, options),
    reason: filled === 0 ? 'no-data' : filled < minLessons ? 'too-few' : null,
  }
}

function bestLesson(
  row: Gathered,
  lessons: readonly ChangeLesson[],
  levels: ReturnType<typeof shrinkage>,
  options: SeasonOptions,
): SeasonMetric['best'] {
  if (!moreIsBetter.includes(row.metric) || !levels.sdBetween) return null
  const ranked = levels.shrunken
    .flatMap((level, i) => (level === null ? [] : [{ level, i, reliability: levels.reliability[i]! }]))
    .sort((a, b) => b.level - a.level)
  const [top, ...others] = ranked
  if (top === undefined || others.length === 0) return null
  const { setupErrorSd } = metricNoise(row.metric, top.level, options)
  // Spread of a level given its readings: σ_b²(1 − ρ); plus the device placed anew for each lesson.
  const uncertainty = (reliability: number): number => levels.sdBetween! ** 2 * (1 - reliability)
  const z = twoSidedNormal(1 - (options.alpha ?? 0.05))
  const isClear = others.every(
    (other) =>
      top.level - other.level >
      z * Math.sqrt(uncertainty(top.reliability) + uncertainty(other.reliability) + 2 * setupErrorSd ** 2),
  )
  const lesson = lessons[top.i]!
  return { label: lesson.label, date: lesson.date, level: top.level, next: others[0]!.level, isClear }
}
