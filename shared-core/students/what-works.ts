import { metricValues } from '../change/metric-value.ts'
import type { DeviceError } from '../impact/device-error.ts'
import type { ReportBlock, ReportLesson, ReportShot } from '../report/report-input.ts'
import { withCarry } from '../report/with-carry.ts'
import { twoSidedT } from '../statistics/distributions.ts'
import { holm } from '../statistics/holm.ts'
import { mean } from '../statistics/mean.ts'
import { randomEffects, type RandomEffects } from '../statistics/random-effects.ts'
import { presentValues } from '../statistics/reading.ts'
import type { ShownMetric, UnitSystem } from '../units.ts'

/** Something can be said from this many students on. */
export const minStudents = 4
/** Shots that a block must have on either side to be compared. */
export const minShots = 3

/** The metrics that are summed up over students. */
export const worksMetrics = ['clubSpeedMps', 'efficiency', 'ballSpeedMps', 'carryM'] as const
export type WorksMetricName = (typeof worksMetrics)[number]

/** A student's lessons; the name never leaves the window. */
export interface WorksStudent {
  id: string
  name: string
  lessons: readonly ReportLesson[]
}

/** What the summary over students is made from. */
export interface WhatWorksInput {
  students: readonly WorksStudent[]
  /** Students left out because their consent does not allow their data to be kept and used. */
  withoutConsent: number
  units: UnitSystem
  deviceError: DeviceError
  cueLabels: Readonly<Record<string, string>>
  /** The club looked at; the one hit most, if not given. */
  club?: string | null
}

/** One student's change against the baseline of the same lessons. */
export interface StudentChange {
  studentId: string
  name: string
  lessons: number
  /** Shots at the baseline and after it. */
  n: [number, number]
  change: number
  /** From this student's own scatter; null where it can't be known. */
  ci95: [number, number] | null
}

/** `as-other-blocks`: it changed, but not clearly otherwise than the later blocks without this focus or cue. */
export type WorksVerdict = 'came-with' | 'as-other-blocks' | 'cannot-tell' | 'too-few'

/** One metric of one cue or focus: every student's change, and all together, in the metric's SI unit. */
export interface WorksMetric {
  metric: WorksMetricName
  /** Smallest change first. */
  students: StudentChange[]
  /** Students whose change points the way of the summary. */
  sameWay: number
  summary: RandomEffects | null
  /** The same for the later shots without this focus or cue: what any block after the baseline brings. */
  others: RandomEffects | null
  /** With this focus or cue less the later shots without it, in the same lessons; null with fewer than four students who have both. */
  againstOthers: RandomEffects | null
  /** Against the baseline, adjusted over everything that is listed. */
  pAdjusted: number | null
  verdict: WorksVerdict
}

/** A focus of blocks or a cue, with what came with it. */
export interface WorksRow {
  kind: 'focus' | 'cue'
  key: string
  label: string
  /** Students who have it and a baseline to hold it against. */
  students: number
  metrics: WorksMetric[]
}

/** Every cue and focus with what came with it, over all students. */
export interface WhatWorks {
  units: UnitSystem
  club: string | null
  clubs: { club: string | null; shots: number }[]
  students: number
  withoutConsent: number
  /** Tests that share the 5 %. */
  lookedAt: number
  /** Most students first. */
  rows: WorksRow[]
}

/** Shots of one lesson, for one focus or cue: at the baseline, with it, and after the baseline without it. */
interface Pair {
  before: readonly ReportShot[]
  after: readonly ReportShot[]
  others: readonly ReportShot[]
}
interface Gathered {
  kind: WorksRow['kind']
  key: string
  label: string
  byStudent: Map<WorksStudent, Pair[]>
}

/** Names that a block has when nobody named it say nothing of a focus. */
const isUnnamed = (label: string): boolean => /^(block|part)?\s*\d*$/i.test(label.trim())

const focusKey = (label: string): string => label.trim().toLowerCase().replace(/\s+/g, ' ')

/**
 * For each focus of blocks and each cue: what came with it across students. Per student the change against the baseline
 * of the same lessons, with the same club; together a random-effects summary. Where the lessons had other blocks after
 * the baseline, what differs from the baseline must differ from those as well, so that what every later block brings is not
 * said of one. One budget for all that is listed: Holm over the focuses, cues and metrics with four students or more, and
 * again over those that differ from the baseline. Part of no lesson's budget.
 * Sources: statistics/random-effects.ts; Holm 1979. How often it is right: tests/worlds/what-works.md.
 */
export const whatWorks = (input: WhatWorksInput): WhatWorks => {
  const students = input.students.map((student) => ({
    ...student,
    lessons: student.lessons.map(
      (lesson) => withCarry(lesson, { deviceError: input.deviceError, inStandardAir: true }).lesson,
    ),
  }))
  const clubs = clubsOf(students)
  const club = input.club === undefined ? (clubs[0]?.club ?? null) : input.club
  const rows = gather(students, club, input.cueLabels)
    .map(({ byStudent, ...row }): WorksRow => ({
      ...row,
      students: byStudent.size,
      metrics: worksMetrics.map((metric) => summarise(metric, byStudent)),
    }))
    .sort((a, b) => b.students - a.students || a.label.localeCompare(b.label))
  const all = rows.flatMap((row) => row.metrics)
  const adjusted = holm(all.map((row) => row.summary?.p ?? null))
  const passed = adjusted.map((p) => p !== null && p <= 0.05)
  const second = holm(all.map((row, i) => (passed[i]! ? (row.againstOthers?.p ?? null) : null)))
  all.forEach((row, i) => {
    row.pAdjusted = adjusted[i]!
    if (row.pAdjusted !== null) row.verdict = judged(row, passed[i]!, second[i]!)
  })
  return {
    units: input.units,
    club,
    clubs,
    students: students.length,
    withoutConsent: input.withoutConsent,
    lookedAt: adjusted.filter((p) => p !== null).length,
    rows,
  }
}

const clubsOf = (students: readonly WorksStudent[]): WhatWorks['clubs'] => {
  const counts = new Map<string | null, number>()
  for (const shot of students.flatMap((s) => s.lessons.flatMap((l) => l.blocks.flatMap((b) => b.shots)))) {
    if (!shot.isLeftOut) counts.set(shot.club, (counts.get(shot.club) ?? 0) + 1)
  }
  return [...counts].map(([club, shots]) => ({ club, shots })).sort((a, b) => b.shots - a.shots)
}

const gather = (
  students: readonly WorksStudent[],
  club: string | null,
  cueLabels: Readonly<Record<string, string>>,
): Gathered[] => {
  const found = new Map<string, Gathered>()
  const add = (row: Omit<Gathered, 'byStudent'>, student: WorksStudent, pair: Pair) => {
    if (pair.before.length < minShots || pair.after.length < minShots) return
    const id = `${row.kind} ${row.key}`
    const there = found.get(id) ?? { ...row, byStudent: new Map<WorksStudent, Pair[]>() }
    found.set(id, there)
    there.byStudent.set(student, [...(there.byStudent.get(student) ?? []), pair])
  }
  for (const student of students) {
    for (const { blocks } of student.lessons) {
      const [baseline, later] = splitBlocks(blocks, club)
      if (baseline === null) continue
      const shots = later.flatMap((block) => block.shots)
      const focuses = new Map<string, { label: string; shots: ReportShot[] }>()
      for (const { label, shots } of later.filter((block) => !isUnnamed(block.label))) {
        const key = focusKey(label)
        const there = focuses.get(key) ?? { label: label.trim(), shots: [] }
        focuses.set(key, { ...there, shots: [...there.shots, ...shots] })
      }
      for (const [key, { label, shots: after }] of focuses) {
        const own = new Set(after)
        const others = shots.filter((shot) => !own.has(shot))
        add({ kind: 'focus', key, label }, student, { before: baseline, after, others })
      }
      for (const key of new Set(shots.flatMap((shot) => shot.cues))) {
        add({ kind: 'cue', key, label: cueLabels[key] ?? key }, student, {
          before: baseline.filter((shot) => !shot.cues.includes(key)),
          after: shots.filter((shot) => shot.cues.includes(key)),
          others: shots.filter((shot) => !shot.cues.includes(key)),
        })
      }
    }
  }
  return [...found.values()]
}

/** The baseline's shots with the club, and the blocks after it, with the club's shots only. */
const splitBlocks = (
  blocks: readonly ReportBlock[],
  club: string | null,
): [readonly ReportShot[] | null, readonly ReportBlock[]] => {
  const own = blocks.map((block) => ({
    ...block,
    shots: block.shots.filter((shot) => !shot.isLeftOut && shot.club === club),
  }))
  const at = own.findIndex((block) => block.isBaseline)
  const baseline = own[Math.max(0, at)]
  return baseline === undefined ? [null, []] : [baseline.shots, own.slice(Math.max(0, at) + 1)]
}

const squares = (values: readonly number[]): number => {
  const middle = mean(values)
  return values.reduce((all, value) => all + (value - middle) ** 2, 0)
}

interface Change {
  student: WorksStudent
  lessons: number
  n: [number, number]
  change: number
  /** Variance of `change` for a scatter of 1. */
  unitVariance: number
  squares: number
  df: number
}

/** From which shots of a pair to which. */
type Sides = readonly [from: keyof Pair, to: keyof Pair]

/** A student's lessons weigh by their shots. */
const changeOf = (
  student: WorksStudent,
  pairs: readonly Pair[],
  [from, to]: Sides,
  metric: ShownMetric,
): Change | null => {
  const usable = pairs
    .map((pair) => [pair[from], pair[to]].map((shots) => presentValues(metricValues(shots, metric))))
    .filter((sides) => sides.every((values) => values.length >= minShots)) as [number[], number[]][]
  if (usable.length === 0) return null
  const weights = usable.map(([before, after]) => 1 / (1 / before.length + 1 / after.length))
  const all = weights.reduce((total, weight) => total + weight, 0)
  const count = (at: 0 | 1) => usable.reduce((total, sides) => total + sides[at].length, 0)
  return {
    student,
    lessons: usable.length,
    n: [count(0), count(1)],
    change: usable.reduce(
      (total, [before, after], i) => total + (weights[i]! / all) * (mean(after) - mean(before)),
      0,
    ),
    unitVariance: 1 / all,
    squares: usable.flat().reduce((total, values) => total + squares(values), 0),
    df: usable.flat().reduce((total, values) => total + values.length - 1, 0),
  }
}

const changesOf = (
  byStudent: ReadonlyMap<WorksStudent, readonly Pair[]>,
  sides: Sides,
  metric: WorksMetricName,
): Change[] =>
  [...byStudent]
    .map(([student, pairs]) => changeOf(student, pairs, sides, metric))
    .filter((change) => change !== null)
    .sort((a, b) => a.change - b.change)

/** One scatter for all gives weights that hang on the numbers of shots alone: a scatter from few shots is badly known. */
const together = (changes: readonly Change[]): RandomEffects | null => {
  const df = changes.reduce((total, change) => total + change.df, 0)
  const scatter = df > 0 ? changes.reduce((total, change) => total + change.squares, 0) / df : 0
  return changes.length < minStudents || scatter === 0
    ? null
    : randomEffects(
        changes.map((change) => change.change),
        changes.map((change) => scatter * change.unitVariance),
      )
}

const summarise = (
  metric: WorksMetricName,
  byStudent: ReadonlyMap<WorksStudent, readonly Pair[]>,
): WorksMetric => {
  const changes = changesOf(byStudent, ['before', 'after'], metric)
  const summary = together(changes)
  return {
    metric,
    students: changes.map((change) => ({
      studentId: change.student.id,
      name: change.student.name,
      lessons: change.lessons,
      n: change.n,
      change: change.change,
      ci95: ownInterval(change),
    })),
    sameWay:
      summary === null
        ? 0
        : changes.filter(({ change }) => Math.sign(change) === Math.sign(summary.estimate)).length,
    summary,
    others: together(changesOf(byStudent, ['before', 'others'], metric)),
    againstOthers: together(changesOf(byStudent, ['others', 'after'], metric)),
    pAdjusted: null,
    verdict: 'too-few',
  }
}

const judged = (
  { summary, againstOthers }: WorksMetric,
  differsFromBaseline: boolean,
  pAgainstOthers: number | null,
): WorksVerdict => {
  if (!differsFromBaseline) return 'cannot-tell'
  if (againstOthers === null) return 'came-with'
  const isApart =
    pAgainstOthers! <= 0.05 && Math.sign(againstOthers.estimate) === Math.sign(summary!.estimate)
  return isApart ? 'came-with' : 'as-other-blocks'
}

const ownInterval = ({ change, unitVariance, squares: own, df }: Change): [number, number] | null => {
  if (own === 0) return null
  const half = twoSidedT(0.95, df) * Math.sqrt((own / df) * unitVariance)
  return [change - half, change + half]
}
