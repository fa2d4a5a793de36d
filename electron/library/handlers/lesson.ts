import { randomUUID } from 'node:crypto'
import { eq } from 'drizzle-orm'
import type { HandlersNamed } from '../../../shared-core/contract/index.ts'
import { cameraViews } from '../../../shared-core/model/entities.ts'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'
import { deleteForGood } from '../deletion/delete-for-good.ts'
import { definedOnly } from '../queries/defined-only.ts'
import { lessonRow } from '../queries/lesson-row.ts'
import { openLesson, studentRow } from '../queries/open-lesson.ts'
import { placeBySoundDelay, soundDelaysOfLesson } from '../queries/sound-delay.ts'
import { withNote } from '../queries/with-note.ts'
import { phrase } from '../../../shared-core/wording/phrase.ts'

export const lessonHandlers = (context: LibraryContext): HandlersNamed<'lesson'> => {
  const { db, journal, reports } = context

  return {
    'lesson.create': ({ studentId, date, title }) => {
      studentRow(db, studentId)
      const id = randomUUID()
      db.insert(t.lesson)
        .values({ id, studentId, date, title, micDistanceM: context.settings().micDistanceM })
        .run()
      journal.bump(id)
      return { id }
    },
    'lesson.update': ({ id, patch, noteBefore }) => {
      const { note } = lessonRow(db, id)
      const { air, ...rest } = patch
      // A distance that is typed is the coach's own.
      const told = rest.micDistanceM === undefined ? {} : { isMicTold: true }
      const set = withNote(definedOnly({ ...told, ...rest, ...air }), noteBefore, note)
      if (Object.keys(set).length === 0) return {}
      journal.run(
        {
          lessonId: id,
          label: phrase(Object.keys(set).includes('note') ? 'edit.editNotes' : 'edit.editLesson'),
          mergeKey: `lesson:${Object.keys(set).join()}`,
        },
        () => {
          db.update(t.lesson).set(set).where(eq(t.lesson.id, id)).run()
          // Impacts go by it, but for those that the coach has looked at.
          if ('isMicTold' in set) for (const camera of cameraViews) placeBySoundDelay(db, id, camera)
        },
      )
      return {}
    },
    'lesson.deleteForGood': async ({ id, withPackages }) => {
      lessonRow(db, id)
      return deleteForGood(context, { studentId: null, lessonIds: [id], withPackages })
    },
    'lesson.soundDelays': ({ lessonId }) => ({
      delays: soundDelaysOfLesson(db, lessonId).map(({ camera, delay, distanceM }) => ({
        ...{ camera, distanceM, delayMs: 1000 * delay.delaySeconds },
        ...{ sdMs: 1000 * delay.sdSeconds, strikes: delay.strikes },
      })),
    }),
    'lesson.open': ({ lessonId }) => openLesson(context, lessonId),
    'lesson.report': ({ lessonId, units }) => reports.lesson(lessonId, units),
  }
}
