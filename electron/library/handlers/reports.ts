import { eq } from 'drizzle-orm'
import type { Handlers } from '../../../shared-core/contract/index.ts'
import { seasonView, type SeasonView } from '../../../shared-core/report/season-view.ts'
import type { ShownMetric, UnitSystem } from '../../../shared-core/units.ts'
import * as t from '../database/schema.ts'
import type { LibraryContext } from '../context.ts'
import { studentRow } from '../queries/lesson-view.ts'
import { reportInputOf, reportLessonsOf } from '../queries/report-lesson.ts'

const reportOfSeason = (context: LibraryContext, studentId: string, units?: UnitSystem): SeasonView => {
  const student = studentRow(context.db, studentId)
  const settings = context.settings()
  const planOf = (lessonId: string) => {
    const plan = context.db.select().from(t.plan).where(eq(t.plan.lessonId, lessonId)).get()
    return plan && (plan.items.length > 0 || plan.note)
      ? { items: plan.items.map((i) => i.name), note: plan.note, outcome: plan.outcome }
      : null
  }
  return seasonView({
    student: { id: student.id, name: student.name },
    lessons: reportLessonsOf(context, studentId).map(({ lesson, report }) => ({
      lesson: {
        id: lesson.id,
        date: lesson.date,
        title: lesson.title,
        nextFocus: lesson.nextFocus,
        plan: planOf(lesson.id),
      },
      report,
    })),
    units: units ?? student.units,
    deviceError: settings.device,
    setupError: settings.setup,
    margins: settings.margins as Partial<Record<ShownMetric, number>>,
  })
}

export const reportHandlers = (
  context: LibraryContext,
): Pick<Handlers, 'lesson.report' | 'season.report'> => {
  // A report takes a while to compute and is asked for often; it only changes with the library.
  const cache = new Map<string, { stamp: string; report: Promise<unknown> }>()
  const stamp = () =>
    JSON.stringify([
      context.sqlite.prepare('SELECT sum(revision) AS r, count(*) AS n FROM lesson_revision').get(),
      context.settings().device,
      context.settings().setup,
      context.settings().margins,
    ])
  const cached = (key: string, compute: () => Promise<unknown>) => {
    const now = stamp()
    const there = cache.get(key)
    if (there?.stamp === now) return there.report
    const report = compute()
    if (cache.size > 50) cache.clear()
    const entry = { stamp: now, report }
    cache.set(key, entry)
    report.catch(() => cache.get(key) === entry && cache.delete(key))
    return report
  }
  return {
    'lesson.report': ({ lessonId, units }) =>
      cached(`lesson ${lessonId} ${units ?? ''}`, () =>
        context.reporter.report(reportInputOf(context, lessonId, { units })),
      ),
    // A plan's outcome is part of the season but not of any lesson's revision: not cached.
    'season.report': ({ studentId, units }) => reportOfSeason(context, studentId, units),
  }
}
