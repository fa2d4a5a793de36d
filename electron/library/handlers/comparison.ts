import { randomUUID } from 'node:crypto'
import { eq } from 'drizzle-orm'
import type { HandlersNamed } from '../../../shared-core/contract/index.ts'
import { Problem } from '../../../shared-core/problem.ts'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'
import { lessonOf } from '../queries/lesson-of.ts'
import { lessonRow } from '../queries/lesson-row.ts'
import { phrase } from '../../../shared-core/wording/phrase.ts'

export const comparisonHandlers = (context: LibraryContext): HandlersNamed<'comparison'> => {
  const { db, sqlite, journal } = context

  return {
    'comparison.save': ({ id, ...comparison }) => {
      const lessons = [comparison.firstViewId, comparison.secondViewId].map((viewId) =>
        lessonRow(db, lessonOf(sqlite, 'view', viewId)),
      )
      const { studentId } = lessonRow(db, comparison.lessonId)
      if (lessons.some((lesson) => lesson.studentId !== studentId)) {
        throw new Problem('other-student.comparison')
      }
      if (lessons.every((lesson) => lesson.id !== comparison.lessonId)) {
        throw new Problem('bad-input.comparisonElsewhere')
      }
      const kept = id ?? randomUUID()
      journal.run(
        {
          lessonId: comparison.lessonId,
          label: phrase('edit.keepComparison'),
          mergeKey: `comparison:${kept}`,
        },
        () => {
          db.insert(t.comparison)
            .values({ id: kept, ...comparison })
            .onConflictDoUpdate({ target: t.comparison.id, set: comparison })
            .run()
        },
      )
      return { id: kept }
    },
    'comparison.remove': ({ id }) => {
      const lessonId = lessonOf(sqlite, 'comparison', id)
      journal.run({ lessonId, label: phrase('edit.removeComparison') }, () =>
        db.delete(t.comparison).where(eq(t.comparison.id, id)).run(),
      )
      return {}
    },
  }
}
