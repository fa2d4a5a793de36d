import { and, eq, inArray } from 'drizzle-orm'
import type { HandlersNamed } from '../../../shared-core/contract/index.ts'
import { Problem } from '../../../shared-core/problem.ts'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'
import { begunBlock, dropEmptyBlocks } from '../queries/block-order.ts'
import { lessonOf } from '../queries/lesson-of.ts'
import { insertSwing, renumber } from '../queries/swing-order.ts'
import { withNote } from '../queries/with-note.ts'
import { phrase, type Phrase } from '../../../shared-core/wording/phrase.ts'

const updateLabel = (patch: { isStarred?: boolean; note?: string; didAsked?: boolean | null }): Phrase => {
  if (patch.isStarred !== undefined) return phrase(patch.isStarred ? 'edit.starSwing' : 'edit.unstarSwing')
  if (patch.didAsked !== undefined) return phrase('edit.sayWhetherAsAsked')
  return phrase(patch.note === undefined ? 'edit.moveSwing' : 'edit.editSwingNotes')
}

export const swingHandlers = (context: LibraryContext): HandlersNamed<'swing'> => {
  const { db, sqlite, journal } = context

  return {
    'swing.update': ({ ids, patch, noteBefore }) => {
      const lessonId = lessonOf(sqlite, 'swing', ids[0]!)
      const keys = Object.keys(patch)
      if (keys.length === 0) return {}
      const label = updateLabel(patch)
      const ofLesson = and(inArray(t.swing.id, ids), eq(t.swing.lessonId, lessonId))
      journal.run(
        { lessonId, label, mergeKey: keys.join() === 'note' ? `swing:${ids.join()}` : null },
        () => {
          const begun = begunBlock(db, lessonId)
          for (const swing of db.select().from(t.swing).where(ofLesson).all()) {
            db.update(t.swing)
              .set(withNote(patch, noteBefore, swing.note))
              .where(eq(t.swing.id, swing.id))
              .run()
          }
          if (patch.blockId !== undefined) dropEmptyBlocks(db, lessonId, begun)
        },
      )
      return {}
    },
    'swing.join': ({ swingId, fromSwingId }) => {
      const lessonId = lessonOf(sqlite, 'swing', swingId)
      if (lessonOf(sqlite, 'swing', fromSwingId) !== lessonId || swingId === fromSwingId) {
        throw new Problem('bad-input.twoLessons')
      }
      journal.run({ lessonId, label: phrase('edit.joinSwings') }, () => {
        const into = db.select().from(t.swing).where(eq(t.swing.id, swingId)).get()!
        const from = db.select().from(t.swing).where(eq(t.swing.id, fromSwingId)).get()!
        if (into.shotId && from.shotId) {
          throw new Problem('two-shots')
        }
        db.update(t.view).set({ swingId }).where(eq(t.view.swingId, fromSwingId)).run()
        db.delete(t.swing).where(eq(t.swing.id, fromSwingId)).run()
        db.update(t.swing)
          .set({
            shotId: into.shotId ?? from.shotId,
            pairConfidence: into.shotId ? into.pairConfidence : from.pairConfidence,
            pairHow: into.shotId ? into.pairHow : from.pairHow,
            isStarred: into.isStarred || from.isStarred,
            didAsked: into.didAsked ?? from.didAsked,
            note: [into.note, from.note].filter(Boolean).join('\n'),
          })
          .where(eq(t.swing.id, swingId))
          .run()
        renumber(db, lessonId)
      })
      return {}
    },
    'swing.remove': ({ ids }) => {
      const lessonId = lessonOf(sqlite, 'swing', ids[0]!)
      const label = phrase('edit.removeSwings', { count: ids.length })
      journal.run({ lessonId, label }, () => {
        const begun = begunBlock(db, lessonId)
        for (const id of new Set(ids)) {
          // Read one by one: a shot that stays moves the places of those behind it.
          const swing = db.select().from(t.swing).where(eq(t.swing.id, id)).get()
          if (swing?.lessonId !== lessonId) continue
          const hasPicture = db.select().from(t.view).where(eq(t.view.swingId, swing.id)).get() !== undefined
          db.delete(t.swing).where(eq(t.swing.id, swing.id)).run()
          // With a clip, the shot was hit all the same: it stays as a swing of its own. Without, the shot goes.
          if (swing.shotId && hasPicture) {
            insertSwing(db, {
              lessonId,
              blockId: swing.blockId,
              position: swing.position,
              shotId: swing.shotId,
            })
          } else if (swing.shotId) db.delete(t.shot).where(eq(t.shot.id, swing.shotId)).run()
        }
        dropEmptyBlocks(db, lessonId, begun)
        renumber(db, lessonId)
      })
      return {}
    },
  }
}
