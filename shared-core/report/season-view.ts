import type { Language } from '../wording/language.ts'
import { lessonFindings, planFindings, seasonFindings, type Finding } from '../change/findings.ts'
import type { SetupError } from '../change/metric-noise.ts'
import { plansAgainstResults } from '../change/plan-against-result.ts'
import { seasonReport, type SeasonReport } from '../change/season-report.ts'
import type { DeviceError } from '../impact/device-error.ts'
import type { ShownMetric, UnitSystem } from '../units.ts'
import type { ReportLesson } from './report-input.ts'
import { withCarry } from './with-carry.ts'

/** One club's season. */
export interface SeasonClub {
  club: string | null
  shots: number
  report: SeasonReport
  findings: Finding[]
  /** What came after each practice plan, where this club was hit before and after it; latest first. */
  plans: { plannedOn: string; shownOn: string; findings: Finding[] }[]
  /** What each lesson kept of the gain of the lesson before it; latest first. */
  kept: { gainedOn: string; shownOn: string; findings: Finding[] }[]
}

/** A student's season as the window shows it. */
export interface SeasonView {
  units: UnitSystem
  student: { id: string; name: string; language: Language }
  lessons: SeasonLesson[]
  /** Most shots first. */
  clubs: SeasonClub[]
}

/** A lesson as Season lists it. */
export interface SeasonLesson {
  id: string
  date: string
  title: string
  nextFocus: string
  /** What was to be practised until the next lesson, and how it went. */
  plan: { items: string[]; note: string; outcome: string } | null
}

/** What a season is computed from; lessons oldest first. */
export interface SeasonInput {
  student: { id: string; name: string; language: Language }
  lessons: readonly { lesson: SeasonLesson; report: ReportLesson }[]
  units: UnitSystem
  deviceError: DeviceError
  setupError: SetupError
  margins: Partial<Record<ShownMetric, number>>
}

/**
 * One report for each club that was hit, with its findings in words. A lesson in which the club was not hit is not
 * part of that club's season.
 */
export const seasonView = (input: SeasonInput): SeasonView => {
  const { student, lessons, units, deviceError, setupError, margins } = input
  const counts = new Map<string | null, number>()
  for (const { report } of lessons) {
    for (const shot of report.blocks.flatMap((b) => b.shots)) {
      if (!shot.isLeftOut) counts.set(shot.club, (counts.get(shot.club) ?? 0) + 1)
    }
  }
  const plannedOn = new Set(lessons.flatMap(({ lesson }) => (lesson.plan ? [lesson.date] : [])))
  const clubs = [...counts.entries()].toSorted((a, b) => b[1] - a[1])
  return {
    units,
    student,
    lessons: lessons.map((l) => l.lesson),
    clubs: clubs.map(([club, shots]) => {
      const hit = lessons
        .filter((l) => l.report.blocks.some((b) => b.shots.some((s) => s.club === club && !s.isLeftOut)))
        .map(({ report: lesson }) => withCarry(lesson, { deviceError, inStandardAir: true }).lesson)
      const options = { deviceError, setupError, margins, club }
      const report = seasonReport({ lessons: hit, options })
      const plans = plansAgainstResults({ lessons: hit, plannedOn, club, options })
      return {
        club,
        shots,
        report,
        findings: seasonFindings(report, { units }),
        plans: plans
          .map((plan) => ({
            plannedOn: plan.plannedOn,
            shownOn: plan.shownOn,
            findings: planFindings(plan, { units }),
          }))
          .toReversed(),
        kept: report.kept
          .filter((kept) => kept.isComparable)
          .map((kept) => ({
            gainedOn: kept.previous.date,
            shownOn: kept.current.date,
            findings: lessonFindings(kept, { units }),
          }))
          .toReversed(),
      }
    }),
  }
}
