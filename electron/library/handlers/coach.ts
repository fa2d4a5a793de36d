import { randomUUID } from 'node:crypto'
import { asc, desc, eq } from 'drizzle-orm'
import type { Handlers } from '../../../shared-core/contract/index.ts'
import type { Plan, PlanItem } from '../../../shared-core/model/hand-over.ts'
import { addCoachPicture, coachPictureOf } from '../coach/coach-pictures.ts'
import * as t from '../database/schema.ts'
import type { LibraryContext } from '../context.ts'
import { lessonRow } from '../queries/lesson-row.ts'

type Names =
  | 'drill.list'
  | 'drill.save'
  | 'drill.remove'
  | 'coachPicture.add'
  | 'coachPicture.get'
  | 'plan.get'
  | 'plan.save'
  | 'settings.get'
  | 'settings.set'
  | 'handOver.templates'
  | 'handOver.saveTemplate'
  | 'handOver.removeTemplate'

/** Items of older plans know nothing of pictures. */
export const planItems = (items: readonly PlanItem[]): PlanItem[] =>
  items.map((item) => ({ ...item, pictureId: item.pictureId ?? null, despite: item.despite ?? null }))

/** The coach's own things: drills, plans, settings, templates. */
export const coachHandlers = (context: LibraryContext): Pick<Handlers, Names> => {
  const { db } = context
  const planOf = (lessonId: string): Plan => {
    const row = db.select().from(t.plan).where(eq(t.plan.lessonId, lessonId)).get()
    return row ? { ...row, items: planItems(row.items) } : { lessonId, items: [], note: '', outcome: '' }
  }

  return {
    'drill.list': () => db.select().from(t.drill).orderBy(asc(t.drill.name)).all(),
    'drill.save': ({ id, ...drill }) => {
      const kept = id ?? randomUUID()
      db.insert(t.drill)
        .values({ id: kept, ...drill })
        .onConflictDoUpdate({ target: t.drill.id, set: drill })
        .run()
      return { id: kept }
    },
    'drill.remove': ({ id }) => {
      db.delete(t.drill).where(eq(t.drill.id, id)).run()
      return {}
    },
    'coachPicture.add': (wanted) => addCoachPicture(context, wanted),
    'coachPicture.get': ({ id }) => {
      const found = coachPictureOf(context, id)
      if (!found) return { picture: null }
      const { file: _file, still: _still, type: _type, ...picture } = found
      return { picture }
    },
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
    'settings.get': () => context.settings(),
    'settings.set': (patch) => {
      for (const [key, value] of Object.entries(patch)) {
        if (value === undefined) continue
        if (value === null) {
          // Without a row the setting is as at first, which is null for all that may be null.
          db.delete(t.setting).where(eq(t.setting.key, key)).run()
          continue
        }
        db.insert(t.setting)
          .values({ key, value })
          .onConflictDoUpdate({ target: t.setting.key, set: { value } })
          .run()
      }
      const settings = context.settings()
      context.emit('settings.changed', settings)
      return {}
    },
    'handOver.templates': () =>
      db
        .select()
        .from(t.handOverTemplate)
        .orderBy(asc(t.handOverTemplate.name))
        .all()
        .map((template) => ({
          ...template,
          maxHeight: template.maxHeight === 720 ? (720 as const) : (1080 as const),
        })),
    'handOver.saveTemplate': ({ id, ...template }) => {
      const kept = id ?? randomUUID()
      db.insert(t.handOverTemplate)
        .values({ id: kept, ...template })
        .onConflictDoUpdate({ target: t.handOverTemplate.id, set: template })
        .run()
      return { id: kept }
    },
    'handOver.removeTemplate': ({ id }) => {
      db.delete(t.handOverTemplate).where(eq(t.handOverTemplate.id, id)).run()
      return {}
    },
  }
}
