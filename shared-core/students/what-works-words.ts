import {
  capital,
  count,
  cueWords,
  list,
  moreOrLess,
  name,
  quoted,
  range,
  sdOfInterval,
  signed,
} from '../change/said-words.ts'
import type { Wording } from '../change/said-words.ts'
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

const subject = (row: WorksRow, wording: Wording): string =>
  row.kind === 'focus' ? quoted(row.label) : `the cue ${cueWords(row.key, wording)}`

/** What is said of one metric of a focus or cue. */
export const worksText = (
  row: WorksRow,
  { metric, students, sameWay, summary, others, verdict }: WorksMetric,
  wording: Wording,
  lookedAt: number,
): WorksText => {
  const what = name(metric)
  const with_ = subject(row, wording)
  if (summary === null) {
    const short =
      students.length === 0 ? 'not recorded' : `${count(students.length, 'student')}, too few to say`
    return {
      short,
      sentence:
        students.length === 0
          ? `${capital(what)} was not recorded at the baseline and with ${with_}, at least three shots each.`
          : `${capital(what)} with ${with_}: ${count(students.length, 'student')} so far; from ${minStudents} on something can be said.`,
      howSure: "Can't tell yet.",
      isSure: false,
    }
  }
  const { estimate, ci, prediction } = summary
  const by = signed(metric, estimate, wording, sdOfInterval(ci))
  const span = range(metric, ci, wording, { signed: true })
  const short = `${sameWay} of ${students.length} students, ${by} (${span})`
  const next =
    prediction === null
      ? ''
      : ` One more student like these may find ${range(metric, prediction, wording, { signed: true })}.`
  const allowed = `${count(lookedAt, 'number')} looked at in this list, and this allows for it.`
  switch (verdict) {
    case 'came-with':
      return {
        short,
        sentence:
          `With ${with_} ${what} was ${moreOrLess(metric, estimate)} than at the baseline in ${sameWay} of ` +
          `${students.length} students: ${by} (95 % interval ${span}).${next}`,
        howSure: `Clear that it came with it, not that it came from it: ${allowed}`,
        isSure: true,
      }
    case 'as-other-blocks':
      return {
        short,
        sentence:
          `With ${with_} ${what} was ${moreOrLess(metric, estimate)} than at the baseline, ${by} (95 % interval ${span}), ` +
          `but so it was in the same lessons without it (${signed(metric, others!.estimate, wording, sdOfInterval(others!.ci))}).`,
        howSure: "Can't be told from what any block after the baseline brings.",
        isSure: false,
      }
    default:
      return {
        short,
        sentence: `Can't tell yet whether ${what} differs with ${with_}: ${by} (95 % interval ${span}), up or down the same way in ${sameWay} of ${students.length} students.${next}`,
        howSure: `Can't tell yet: ${allowed}`,
        isSure: false,
      }
  }
}

const fewStudents = 10

/** What goes with every summary across students. */
export const worksWarnings = (works: WhatWorks): string[] => {
  const most = Math.max(0, ...works.rows.map((row) => row.students))
  return [
    'A focus is given to those who seem to need it. Others may not answer like that.',
    'A slow start by chance gets better by itself (regression to the mean), and later swings differ from the first whatever the focus: the change is what came with it, not what it did.',
    ...(most < fewStudents
      ? [`Few students (${most} at most): intervals are wide, and one student more can move them.`]
      : []),
    ...(works.withoutConsent > 0
      ? [
          `${capital(count(works.withoutConsent, 'student'))} left out: the consent on the card does not allow keeping, or has run out.`,
        ]
      : []),
  ]
}

/** How the summary is made, for "How do we know". */
export const worksMethod = (works: WhatWorks): string =>
  'Per student: mean of the shots with the focus or cue less the mean of the baseline’s, inside the same lessons and with the ' +
  'same club, lessons weighed by their shots. Together: random effects, variance between students by REML, Hartung–Knapp ' +
  `interval. One budget of 5 % for the ${count(works.lookedAt, 'number')} in this list (Holm); no lesson's budget has a part in it. ` +
  `Looked at: ${list(['club speed', 'efficiency', 'ball speed', 'carry'])}.`

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
          return { ...student, studentId: String(n), name: `Student ${n}` }
        }),
      })),
    })),
  }
}
