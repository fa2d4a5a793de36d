import {
  count,
  cueWords,
  moreOrLess,
  name,
  names,
  quoted,
  range,
  sdOfInterval,
  signed,
} from '../change/words.ts'
import type { Wording } from '../change/words.ts'
import { capital, phrase, said, sayWord, sentences, type Word } from '../wording/phrase.ts'
import { minStudents } from './what-works.ts'
import type { WhatWorks, WorksMetric, WorksRow } from './what-works.ts'

/** What is said of one cue or focus over all students. */
export interface WorksText {
  /** "9 of 12 students, +1.8 mph (+0.4 to +3.2 mph)". */
  short: string
  sentence: string
  howSure: string
  isSure: boolean
}

const subject = (row: WorksRow, wording: Wording): Word =>
  row.kind === 'focus' ? quoted(row.label) : phrase('works.cue', { cue: cueWords(row.key, wording) })

/** What is said of one metric of a focus or cue. */
export const worksText = (
  row: WorksRow,
  { metric, students, sameWay, summary, againstOthers, verdict }: WorksMetric,
  wording: Wording,
  lookedAt: number,
): WorksText => {
  const what = name(metric)
  const focus = subject(row, wording)
  const all = students.length
  if (summary === null) {
    const few = { what: capital(what), focus, students: count(all, 'student'), least: minStudents }
    return {
      short: said(all === 0 ? 'works.notRecordedShort' : 'works.tooFewShort', few),
      sentence: said(all === 0 ? 'works.notRecorded' : 'works.tooFew', few),
      howSure: said('sure.cannotTellYet'),
      isSure: false,
    }
  }
  const { estimate, ci, prediction } = summary
  const found = {
    focus,
    what,
    way: moreOrLess(metric, estimate),
    sameWay,
    all,
    by: signed(metric, estimate, wording, sdOfInterval(ci)),
    span: range(metric, ci, wording, { signed: true }),
  }
  const short = said('works.short', found)
  const next =
    prediction === null
      ? null
      : phrase('works.next', { range: range(metric, prediction, wording, { signed: true }) })
  const allowed = phrase('works.allowed', { numbers: count(lookedAt, 'number') })
  switch (verdict) {
    case 'came-with':
      return {
        short,
        sentence: sayWord(sentences(phrase('works.cameWith', found), next)),
        howSure: sayWord(
          sentences(
            phrase('works.clear', { allowed }),
            againstOthers === null ? phrase('works.noOtherBlocks', { least: minStudents }) : null,
          ),
        ),
        isSure: true,
      }
    case 'as-other-blocks':
      return {
        short,
        sentence: said('works.asOthers', {
          ...found,
          apart: signed(metric, againstOthers!.estimate, wording, sdOfInterval(againstOthers!.ci)),
        }),
        howSure: said('works.asAnyBlock'),
        isSure: false,
      }
    default:
      return {
        short,
        sentence: sayWord(sentences(phrase('works.cannotTell', found), next)),
        howSure: said('works.cannotTellYet', { allowed }),
        isSure: false,
      }
  }
}

const fewStudents = 10

/** What goes with every summary across students. */
export const worksWarnings = (works: WhatWorks): string[] => {
  const most = Math.max(0, ...works.rows.map((row) => row.students))
  return [
    said('works.chosen'),
    said('works.slowStart'),
    ...(most < fewStudents ? [said('works.fewStudents', { most })] : []),
    ...(works.withoutConsent > 0
      ? [said('works.leftOut', { students: count(works.withoutConsent, 'student') })]
      : []),
  ]
}

/** How the summary is made, for "How do we know". */
export const worksMethod = (works: WhatWorks): string =>
  said('works.method', {
    numbers: count(works.lookedAt, 'number'),
    metrics: names(['clubSpeedMps', 'efficiency', 'ballSpeedMps', 'carryM']),
  })

/** The published sources of the summary, for "How do we know?". */
export const worksSource =
  'Hartung & Knapp 2001; IntHout, Ioannidis & Borm 2014; Röver, Knapp & Friede 2015; Viechtbauer 2005; Higgins, Thompson & Spiegelhalter 2009; Holm 1979'

/** The same without anybody's name or id: students become "student 1", "student 2" in the order they come in. */
export const withoutNames = (works: WhatWorks): WhatWorks => {
  const numbers = new Map<string, number>()
  const numberOf = (id: string): number => {
    if (!numbers.has(id)) numbers.set(id, numbers.size + 1)
    return numbers.get(id)!
  }
  return {
    ...works,
    rows: works.rows.map((row) => ({
      ...row,
      metrics: row.metrics.map((metric) => ({
        ...metric,
        students: metric.students.map((student) => {
          const n = numberOf(student.studentId)
          return { ...student, studentId: String(n), name: said('works.student', { n }) }
        }),
      })),
    })),
  }
}
