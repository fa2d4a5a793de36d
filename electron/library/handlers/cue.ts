import { randomUUID } from 'node:crypto'
import { eq } from 'drizzle-orm'
import type { HandlersNamed } from '../../../shared-core/contract/index.ts'
import { Problem } from '../../../shared-core/problem.ts'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'
import { lessonOf } from '../queries/lesson-of.ts'
import { withNote } from '../queries/with-note.ts'
import { phrase } from '../../../shared-core/wording/phrase.ts'

export const cueHandlers = (context: LibraryContext): HandlersNamed<'cue'> => {
  const { db, sqlite, journal } = context

  return {
    'cue.add': (cue) => {
      const lessonId = lessonOf(sqlite, 'moment', cue.momentId)
      if (!db.select().from(t.cueKind).where(eq(t.cueKind.key, cue.kind)).get()) {
        throw new Problem('no-cue-kind', { kind: cue.kind })
      }
      const id = randomUUID()
      journal.run({ lessonId, label: phrase('edit.tagCue') }, () =>
        db
          .insert(t.cue)
          .values({ id, ...cue })
          .run(),
      )
      return { id }
    },
    'cue.update': ({ id, patch, noteBefore }) => {
      const lessonId = lessonOf(sqlite, 'cue', id)
      if (Object.keys(patch).length === 0) return {}
      journal.run(
        { lessonId, label: phrase('edit.changeCue'), mergeKey: `cue:${id}:${Object.keys(patch).join()}` },
        () => {
          const { note } = db.select().from(t.cue).where(eq(t.cue.id, id)).get()!
          db.update(t.cue)
            .set(withNote(patch, noteBefore, note))
            .where(eq(t.cue.id, id))
            .run()
        },
      )
      return {}
    },
    'cue.remove': ({ id }) => {
      const lessonId = lessonOf(sqlite, 'cue', id)
      journal.run({ lessonId, label: phrase('edit.removeCue') }, () =>
        db.delete(t.cue).where(eq(t.cue.id, id)).run(),
      )
      return {}
    },
  }
}
