import { eq } from 'drizzle-orm'
import type { SeasonInput } from '../../../shared-core/report/season-view.ts'
import type { ShownMetric, UnitSystem } from '../../../shared-core/units.ts'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'
import { studentRow } from './open-lesson.ts'
import { reportLessonsOf } from './report-lesson.ts'

/** Everything a student's season rests on, taken from the library; in the student's units if none are given. */
export const seasonInputOf = (
  context: LibraryContext,
  studentId: string,
  units?: UnitSystem,
): SeasonInput => {
  const student = studentRow(context.db, studentId)
  const settings = context.settings()
  const planOf = (lessonId: string) => {
    const plan = context.db.select().from(t.plan).where(eq(t.plan.lessonId, lessonId)).get()
    return plan && (plan.items.length > 0 || plan.note)
      ? { items: plan.items.map((i) => i.name), note: plan.note, outcome: plan.outcome }
      : null
  }
  return {
    student: { id: student.id, name: student.name, language: student.language },
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
  }
}
