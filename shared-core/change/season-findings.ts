import type { Finding } from './finding.ts'
import { lessonFindings } from './lesson-findings.ts'
import { fewestLessons } from './season-report.ts'
import type { SeasonMetric, SeasonReport } from './season-report.ts'
import {
  capital,
  clubPhrase,
  count,
  dayWords,
  level,
  moreOrLess,
  name,
  notRecorded,
  pWords,
  quoted,
  range,
  sdOfInterval,
  size,
} from './words.ts'
import type { Wording } from './words.ts'

/** Sentences about a season: trend and personal best of each metric, and what is left of the last lesson's gain. */
export function seasonFindings(report: SeasonReport, wording: Wording): Finding[] {
  const latest = report.kept[report.kept.length - 1]
  return [
    ...report.metrics.flatMap((row) => metricFindings(row, report, wording)),
    ...(latest === undefined ? [] : lessonFindings(latest, wording)),
  ]
}

function metricFindings(row: SeasonMetric, report: SeasonReport, wording: Wording): Finding[] {
  const shots = row.levels.reduce((sum, lesson) => sum + lesson.n, 0)
  const data = `${capital(clubPhrase(report.club))}: ${count(row.trend.lessons, 'lesson')}, ${count(shots, 'shot')}`
  const base = { topic: 'season' as const, metric: row.metric, caution: null }
  if (row.reason === 'no-data') {
    return [
      {
        ...base,
        verdict: 'not-recorded',
        sentence: notRecorded(row.metric),
        howSure: 'Not recorded.',
        isSure: false,
        howWeKnow: { data: `${data}.`, method: 'None.', source: 'none' },
      },
    ]
  }
  const trendFinding: Finding = {
    ...base,
    verdict: row.trend.state,
    ...trendWords(row, report, wording),
    isSure: row.trend.state === 'rising' || row.trend.state === 'falling',
    howWeKnow: {
      data: `${data}; ${pWords(row.trend.p)}, adjusted ${pWords(row.trend.pAdjusted)}.`,
      method:
        'Centre of each lesson over days: median of all pairwise slopes with its interval, Mann-Kendall p, adjusted ' +
        `over the ${count(report.lookedAt, 'number')} shown (Holm).`,
      source: 'Sen 1968; Mann 1945; Kendall 1975; Holm 1979',
    },
  }
  const best = bestFinding(row, data, wording)
  return best === null ? [trendFinding] : [trendFinding, best]
}

function trendWords(
  row: SeasonMetric,
  report: SeasonReport,
  wording: Wording,
): { sentence: string; howSure: string } {
  const what = name(row.metric)
  const { state, perThirtyDays, ci95, lessons } = row.trend
  if (state === 'too-early') {
    return {
      sentence: `${capital(what)}: ${count(lessons, 'lesson')}, too early for a trend.`,
      howSure: `Can't tell yet: at least ${fewestLessons} lessons are needed.`,
    }
  }
  const interval = ci95 === null ? '' : range(row.metric, ci95, wording, { signed: true })
  if (state === 'cannot-tell') {
    return {
      sentence: `Can't tell yet whether ${what} is rising or falling over the season.`,
      howSure: `Can't tell: a change of ${interval} a month fits the lessons (95 % interval).`,
    }
  }
  return {
    sentence:
      `Over the season ${what} got ${size(row.metric, perThirtyDays!, wording, sdOfInterval(ci95))} a month ` +
      `${moreOrLess(row.metric, perThirtyDays!)} (95 % interval ${interval}).`,
    howSure: `Clear: ${count(report.lookedAt, 'number')} looked at, and this allows for it.`,
  }
}

function bestFinding(row: SeasonMetric, data: string, wording: Wording): Finding | null {
  const what = name(row.metric)
  const base = {
    topic: 'season' as const,
    metric: row.metric,
    caution: null,
    howWeKnow: {
      data: `${data}.`,
      method:
        'Each lesson’s mean pulled towards the mean of all lessons by the share that is scatter; a best counts if it ' +
        'stands out from every other lesson, placing the device anew included.',
      source: 'Efron & Morris 1977; Barnett, van der Pols & Dobson 2005',
    },
  }
  if (row.lessonsDiffer === false) {
    return {
      ...base,
      verdict: 'lessons-alike',
      sentence: `The lessons do not differ in ${what} beyond the scatter of the shots.`,
      howSure: 'No lesson stands out.',
      isSure: false,
    }
  }
  if (row.best === null) return null
  const { label, date, isClear } = row.best
  const day = dayWords(date) + (label === date ? '' : ` (${quoted(label)})`)
  const shown = level(row.metric, row.best.level, wording)
  return {
    ...base,
    verdict: isClear ? 'personal-best' : 'best-not-clear',
    sentence: isClear
      ? `Personal best in ${what}: ${shown} on ${day}, with luck taken out.`
      : `The highest level of ${what} was ${shown} on ${day}, with luck taken out, but it does not stand out from the next best by more than chance.`,
    howSure: isClear ? 'Clear: more than scatter and set-up error.' : "Can't be told from luck.",
    isSure: isClear,
  }
}
