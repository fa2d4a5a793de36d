import { desc, eq } from 'drizzle-orm'
import type { HandlersNamed } from '../../../shared-core/contract/index.ts'
import type { Plan, PlanItem } from '../../../shared-core/model/hand-over.ts'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'
import { lessonRow } from '../queries/lesson-row.ts'

/** Items of older plans know nothing of pictures. */
const planItems = (items: readonly PlanItem[]): PlanItem[] =>
  items.map((item) => ({ ...item, pictureId: item.pictureId ?? null, despite: item.despite ?? null }))

export const planHandlers = (context: LibraryContext): HandlersNamed<'plan'> => {
  const { db } = context
  const planOf = (lessonId: string): Plan => {
    const row = db.select().from(t.plan).where(eq(t.plan.lessonId, lessonId)).get()
    return row ? { ...row, items: planItems(row.items) } : { lessonId, items: [], note: '', outcome: '' }
  }

  return {
    'plan.get': ({ lessonId }) => {
      const lesson = lessonRow(db, lessonId)
      const before = db
        .select()
        .from(t.lesson)
        .where(eq(t.lesson.studentId, lesson.studentId))
        .orderBy(desc(t.lesson.date))
        .all()
        .filter((l) => l.date < lesson.date)
        .map((l) => ({ plan: planOf(l.id), date: l.date }))
        .find((p) => p.plan.items.length > 0 || p.plan.note !== '')
      return { plan: planOf(lessonId), previous: before ?? null }
    },
    'plan.save': (plan) => {
      lessonRow(db, plan.lessonId)
      const { lessonId, ...rest } = plan
      db.insert(t.plan)
        .values({ lessonId, ...rest })
        .onConflictDoUpdate({ target: t.plan.lessonId, set: rest })
        .run()
      return {}
    },
  }
}
