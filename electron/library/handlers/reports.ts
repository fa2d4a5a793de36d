import { seasonFindings } from '../../../shared-core/change/findings.ts'
import { seasonReport } from '../../../shared-core/change/season-report.ts'
import type { Handlers } from '../../../shared-core/contract/index.ts'
import type { ShownMetric, UnitSystem } from '../../../shared-core/units.ts'
import type { LibraryContext } from '../library.ts'
import { studentRow } from '../queries/lesson-view.ts'
import { reportLessonsOf, reportOfLesson } from '../queries/report-lesson.ts'

/** A season as the window draws it: one report for each club that was hit, and the findings in words. */
export const reportOfSeason = (context: LibraryContext, studentId: string, units?: UnitSystem) => {
  const student = studentRow(context.db, studentId)
  const lessons = reportLessonsOf(context, studentId)
  const settings = context.settings()
  const clubs = [
    ...new Set(lessons.flatMap((l) => l.report.blocks.flatMap((b) => b.shots.map((s) => s.club)))),
  ]
  const options = {
    deviceError: settings.device,
    margins: settings.margins as Partial<Record<ShownMetric, number>>,
  }
  const shown = units ?? student.units
  return {
    units: shown,
    student: { id: student.id, name: student.name },
    lessons: lessons.map(({ lesson }) => ({
      id: lesson.id,
      date: lesson.date,
      title: lesson.title,
      nextFocus: lesson.nextFocus,
    })),
    clubs: clubs.map((club) => {
      const report = seasonReport({
        lessons: lessons
          .filter((l) => l.report.blocks.some((b) => b.shots.some((s) => s.club === club && !s.isLeftOut)))
          .map(({ report: { label, date, blocks } }) => ({
            label,
            date,
            blocks: blocks.map((b) => ({ ...b })),
          })),
        options: { ...options, club },
      })
      return { club, report, findings: seasonFindings(report, { units: shown }) }
    }),
  }
}
export type SeasonView = ReturnType<typeof reportOfSeason>

export const reportHandlers = (
  context: LibraryContext,
): Pick<Handlers, 'lesson.report' | 'season.report'> => {
  // A report takes a while to compute and is asked for often; it only changes with the library.
  const cache = new Map<string, { stamp: string; report: unknown }>()
  const stamp = () =>
    JSON.stringify([
      context.sqlite.prepare('SELECT sum(revision) AS r, count(*) AS n FROM lesson_revision').get(),
      context.settings().device,
      context.settings().margins,
    ])
  const cached = (key: string, compute: () => unknown) => {
    const now = stamp()
    const there = cache.get(key)
    if (there?.stamp === now) return there.report
    const report = compute()
    if (cache.size > 50) cache.clear()
    cache.set(key, { stamp: now, report })
    return report
  }
  return {
    'lesson.report': ({ lessonId, units }) =>
      cached(`lesson ${lessonId} ${units ?? ''}`, () => reportOfLesson(context, lessonId, { units })),
    'season.report': ({ studentId, units }) =>
      cached(`season ${studentId} ${units ?? ''}`, () => reportOfSeason(context, studentId, units)),
  }
}
