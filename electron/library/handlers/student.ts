import { randomUUID } from 'node:crypto'
import { eq } from 'drizzle-orm'
import type { HandlersNamed } from '../../../shared-core/contract/index.ts'
import { noConsent } from '../../../shared-core/model/entities.ts'
import { Problem } from '../../../shared-core/problem.ts'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'
import { deleteForGood } from '../deletion/delete-for-good.ts'
import { lessonIdsOf } from '../deletion/plan.ts'
import { definedOnly } from '../queries/defined-only.ts'
import { studentRow } from '../queries/open-lesson.ts'

export const studentHandlers = (context: LibraryContext): HandlersNamed<'student'> => {
  const { db, journal } = context

  return {
    'student.create': (input) => {
      const id = randomUUID()
      db.insert(t.student)
        .values({ id, ...input, consent: noConsent, createdAt: context.now().toISOString() })
        .run()
      return { id }
    },
    'student.get': ({ id }) => studentRow(db, id),
    'student.update': ({ id, patch }) => {
      studentRow(db, id)
      const set = definedOnly(patch)
      if (Object.keys(set).length) db.update(t.student).set(set).where(eq(t.student.id, id)).run()
      for (const { lessonId } of db
        .select({ lessonId: t.lesson.id })
        .from(t.lesson)
        .where(eq(t.lesson.studentId, id))
        .all()) {
        journal.bump(lessonId)
      }
      return {}
    },
    'student.consent': ({ id, consent }) => {
      studentRow(db, id)
      db.update(t.student)
        .set({ consent: { ...consent, recordedAt: context.now().toISOString() } })
        .where(eq(t.student.id, id))
        .run()
      return {}
    },
    'student.deleteForGood': async ({ id, typedName, withPackages }) => {
      const student = studentRow(db, id)
      if (typedName.trim() !== student.name) {
        throw new Problem('name-differs', { name: student.name })
      }
      return deleteForGood(context, { studentId: id, lessonIds: lessonIdsOf(context, id), withPackages })
    },
  }
}
