import { sayFinding, type Finding, type FindingInWords } from './finding.ts'
import { lessonFindings } from './lesson-findings.ts'
import { minLessons } from './season-report.ts'
import type { SeasonMetric, SeasonReport } from './season-report.ts'
import { capital, dayWord, phrase, type Word } from '../wording/phrase.ts'
import {
  adjustedP,
  clubPhrase,
  count,
  level,
  moreOrLess,
  name,
  notRecorded,
  nothingDone,
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
  const data = phrase('season.data', {
    club: capital(clubPhrase(report.club)),
    lessons: count(row.trend.lessons, 'lesson'),
    shots: count(shots, 'shot'),
  })
  const base = { topic: 'season' as const, metric: row.metric, caution: null }
  if (row.reason === 'no-data') {
    return [
      sayFinding({
        ...base,
        verdict: 'not-recorded',
        sentence: notRecorded(row.metric),
        howSure: phrase('sure.notRecorded'),
        isSure: false,
        howWeKnow: { data: phrase('text.stop', { text: data }), ...nothingDone },
      }),
    ]
  }
  const trendFinding = sayFinding({
    ...base,
    verdict: row.trend.state,
    ...trendWords(row, report, wording),
    isSure: row.trend.state === 'rising' || row.trend.state === 'falling',
    howWeKnow: {
      data: phrase('season.dataP', { data, p: adjustedP(row.trend.p, row.trend.pAdjusted) }),
      method: phrase('season.method', { numbers: count(report.lookedAt, 'number') }),
      source: 'Sen 1968; Mann 1945; Kendall 1975; Holm 1979',
    },
  })
  const best = bestFinding(row, data, wording)
  return best === null ? [trendFinding] : [trendFinding, best]
}

function trendWords(
  row: SeasonMetric,
  report: SeasonReport,
  wording: Wording,
): Pick<FindingInWords, 'sentence' | 'howSure'> {
  const what = name(row.metric)
  const { state, perThirtyDays, ci95, lessons } = row.trend
  if (state === 'too-early') {
    return {
      sentence: phrase('season.tooEarly', { what: capital(what), lessons: count(lessons, 'lesson') }),
      howSure: phrase('season.lessonsNeeded', { least: minLessons }),
    }
  }
  const interval = ci95 === null ? '' : range(row.metric, ci95, wording, { signed: true })
  if (state === 'cannot-tell') {
    return {
      sentence: phrase('season.cannotTell', { what }),
      howSure: phrase('season.fits', { interval }),
    }
  }
  return {
    sentence: phrase('season.trend', {
      what,
      by: size(row.metric, perThirtyDays!, wording, sdOfInterval(ci95)),
      way: moreOrLess(row.metric, perThirtyDays!),
      interval,
    }),
    howSure: phrase('sure.clearAmong', { numbers: count(report.lookedAt, 'number') }),
  }
}

function bestFinding(row: SeasonMetric, data: Word, wording: Wording): Finding | null {
  const what = name(row.metric)
  const base = {
    topic: 'season' as const,
    metric: row.metric,
    caution: null,
    howWeKnow: {
      data: phrase('text.stop', { text: data }),
      method: phrase('season.bestMethod'),
      source: 'Efron & Morris 1977; Barnett, van der Pols & Dobson 2005',
    },
  }
  if (row.lessonsDiffer === false) {
    return sayFinding({
      ...base,
      verdict: 'lessons-alike',
      sentence: phrase('season.alike', { what }),
      howSure: phrase('season.noneStandsOut'),
      isSure: false,
    })
  }
  if (row.best === null) return null
  const { label, date, isClear } = row.best
  const day =
    label === date ? dayWord(date) : phrase('season.dayLabel', { day: dayWord(date), label: quoted(label) })
  const best = { what, level: level(row.metric, row.best.level, wording), day }
  return sayFinding({
    ...base,
    verdict: isClear ? 'personal-best' : 'best-not-clear',
    sentence: phrase(isClear ? 'season.best' : 'season.bestNotClear', best),
    howSure: phrase(isClear ? 'season.bestClear' : 'season.luck'),
    isSure: isClear,
  })
}
