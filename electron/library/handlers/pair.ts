import type { HandlersNamed } from '../../../shared-core/contract/index.ts'
import { Problem } from '../../../shared-core/problem.ts'
import type { LibraryContext } from '../context.ts'
import { lessonOf } from '../queries/lesson-of.ts'
import { lessonRow } from '../queries/lesson-row.ts'
import { pairLesson } from '../queries/pair-lesson.ts'
import { phrase } from '../../../shared-core/wording/phrase.ts'

export const pairHandlers = (context: LibraryContext): HandlersNamed<'pair'> => {
  const { db, sqlite, journal } = context

  return {
    'pair.run': ({ lessonId }) => {
      lessonRow(db, lessonId)
      return journal.run({ lessonId, label: phrase('edit.pair') }, () => pairLesson(db, lessonId))
    },
    'pair.set': ({ swingId, shotId, refit }) => {
      const lessonId = lessonOf(sqlite, 'swing', swingId)
      if (shotId !== null && lessonOf(sqlite, 'shot', shotId) !== lessonId) {
        throw new Problem('bad-input.shotElsewhere')
      }
      journal.run({ lessonId, label: phrase('edit.pairByHand') }, () =>
        pairLesson(db, lessonId, { byHand: { swingId, shotId, refit } }),
      )
      return {}
    },
  }
}
