import { randomUUID } from 'node:crypto'
import { and, asc, eq, inArray } from 'drizzle-orm'
import type { Handlers } from '../../../shared-core/contract/index.ts'
import { Problem } from '../../../shared-core/problem.ts'
import * as t from '../database/schema.ts'
import type { LibraryContext } from '../library.ts'
import { lessonOf } from '../queries/lesson-of.ts'
import { insertSwing, renumber } from '../queries/swing-order.ts'
import { swingsOf } from '../queries/swings-of.ts'

type Names =
  | 'swing.update'
  | 'swing.join'
  | 'swing.remove'
  | 'view.cut'
  | 'view.update'
  | 'block.cut'
  | 'block.join'
  | 'block.update'
  | 'edits.undo'
  | 'edits.redo'

export const swingHandlers = (context: LibraryContext): Pick<Handlers, Names> => {
  const { db, sqlite, journal } = context
  const blocksOf = (lessonId: string) =>
    db.select().from(t.block).where(eq(t.block.lessonId, lessonId)).orderBy(asc(t.block.position)).all()

  return {
    'swing.update': ({ ids, patch }) => {
      const lessonId = lessonOf(sqlite, 'swing', ids[0]!)
      const keys = Object.keys(patch)
      if (keys.length === 0) return {}
      const label =
        patch.isStarred === undefined
          ? patch.note === undefined
            ? 'move swing'
            : 'edit swing notes'
          : patch.isStarred
            ? 'star swing'
            : 'unstar swing'
      journal.run({ lessonId, label, mergeKey: keys.join() === 'note' ? `swing:${ids.join()}` : null }, () =>
        db
          .update(t.swing)
          .set(patch)
          .where(and(inArray(t.swing.id, ids), eq(t.swing.lessonId, lessonId)))
          .run(),
      )
      return {}
    },
    'swing.join': ({ swingId, fromSwingId }) => {
      const lessonId = lessonOf(sqlite, 'swing', swingId)
      if (lessonOf(sqlite, 'swing', fromSwingId) !== lessonId || swingId === fromSwingId) {
        throw new Problem('bad-input', 'only two swings of one lesson can be joined')
      }
      journal.run({ lessonId, label: 'join swings' }, () => {
        const into = db.select().from(t.swing).where(eq(t.swing.id, swingId)).get()!
        const from = db.select().from(t.swing).where(eq(t.swing.id, fromSwingId)).get()!
        if (into.shotId && from.shotId) {
          throw new Problem('two-shots', 'both swings have a shot of their own', {
            toDo: 'Take the shot off one of them first',
          })
        }
        db.update(t.view).set({ swingId }).where(eq(t.view.swingId, fromSwingId)).run()
        db.delete(t.swing).where(eq(t.swing.id, fromSwingId)).run()
        db.update(t.swing)
          .set({
            shotId: into.shotId ?? from.shotId,
            pairConfidence: into.shotId ? into.pairConfidence : from.pairConfidence,
            pairHow: into.shotId ? into.pairHow : from.pairHow,
            isStarred: into.isStarred || from.isStarred,
            note: [into.note, from.note].filter(Boolean).join('\n'),
          })
          .where(eq(t.swing.id, swingId))
          .run()
        renumber(db, lessonId)
      })
      return {}
    },
    'swing.remove': ({ id }) => {
      const lessonId = lessonOf(sqlite, 'swing', id)
      journal.run({ lessonId, label: 'remove swing' }, () => {
        const swing = db.select().from(t.swing).where(eq(t.swing.id, id)).get()!
        const hasPicture = db.select().from(t.view).where(eq(t.view.swingId, id)).get() !== undefined
        db.delete(t.swing).where(eq(t.swing.id, id)).run()
        // With a clip, the shot was hit all the same: it stays as a swing of its own. Without, the shot goes.
        if (swing.shotId && hasPicture) {
          insertSwing(db, {
            lessonId,
            blockId: swing.blockId,
            position: swing.position,
            shotId: swing.shotId,
          })
        } else if (swing.shotId) db.delete(t.shot).where(eq(t.shot.id, swing.shotId)).run()
        renumber(db, lessonId)
      })
      return {}
    },
    'view.cut': ({ viewId, atFrame }) => {
      const lessonId = lessonOf(sqlite, 'view', viewId)
      return journal.run({ lessonId, label: 'cut clip' }, () => {
        const view = db.select().from(t.view).where(eq(t.view.id, viewId)).get()!
        if (atFrame <= view.fromFrame || atFrame > view.toFrame) {
          throw new Problem(
            'no-frame',
            `the cut must lie inside the swing (frames ${view.fromFrame + 1} to ${view.toFrame})`,
          )
        }
        const swing = db.select().from(t.swing).where(eq(t.swing.id, view.swingId)).get()!
        const swingId = insertSwing(db, {
          lessonId,
          blockId: swing.blockId,
          position: swing.position + 0.5,
          shotId: null,
        })
        const newViewId = randomUUID()
        db.insert(t.view)
          .values({ id: newViewId, swingId, clipId: view.clipId, fromFrame: atFrame, toFrame: view.toFrame })
          .run()
        db.update(t.view)
          .set({ toFrame: atFrame - 1 })
          .where(eq(t.view.id, viewId))
          .run()
        for (const moment of db.select().from(t.moment).where(eq(t.moment.viewId, viewId)).all()) {
          if (moment.frame >= atFrame) {
            db.update(t.moment).set({ viewId: newViewId }).where(eq(t.moment.id, moment.id)).run()
          }
        }
        for (const drawing of db.select().from(t.drawing).where(eq(t.drawing.viewId, viewId)).all()) {
          if (drawing.fromFrame >= atFrame) {
            db.update(t.drawing).set({ viewId: newViewId }).where(eq(t.drawing.id, drawing.id)).run()
          }
        }
        renumber(db, lessonId)
        return { swingId }
      })
    },
    'view.update': ({ id, patch }) => {
      const lessonId = lessonOf(sqlite, 'view', id)
      if (Object.keys(patch).length) {
        journal.run({ lessonId, label: 'trim swing' }, () =>
          db.update(t.view).set(patch).where(eq(t.view.id, id)).run(),
        )
      }
      return {}
    },

    'block.cut': ({ lessonId, beforeSwingId, name }) => {
      if (lessonOf(sqlite, 'swing', beforeSwingId) !== lessonId) {
        throw new Problem('bad-input', 'this swing is of another lesson')
      }
      return journal.run({ lessonId, label: 'cut block' }, () => {
        const swings = swingsOf(db, lessonId)
        const at = swings.findIndex((s) => s.id === beforeSwingId)
        const old = swings[at]!.blockId
        const from = swings.slice(at).filter((s) => s.blockId === old)
        if (swings.slice(0, at).every((s) => s.blockId !== old)) {
          throw new Problem('empty-block', 'the block already begins here', { toDo: 'Choose a later swing' })
        }
        const blocks = blocksOf(lessonId)
        const oldIndex = blocks.findIndex((b) => b.id === old)
        const id = randomUUID()
        for (const block of blocks.slice(oldIndex + 1)) {
          db.update(t.block)
            .set({ position: block.position + 1 })
            .where(eq(t.block.id, block.id))
            .run()
        }
        db.insert(t.block)
          .values({
            id,
            lessonId,
            position: blocks[oldIndex]!.position + 1,
            name: name ?? `Block ${blocks.length + 1}`,
          })
          .run()
        db.update(t.swing)
          .set({ blockId: id })
          .where(
            inArray(
              t.swing.id,
              from.map((s) => s.id),
            ),
          )
          .run()
        return { id }
      })
    },
    'block.join': ({ id }) => {
      const lessonId = lessonOf(sqlite, 'block', id)
      journal.run({ lessonId, label: 'join blocks' }, () => {
        const blocks = blocksOf(lessonId)
        const index = blocks.findIndex((b) => b.id === id)
        const before = blocks[index - 1]
        if (!before) throw new Problem('first-block', 'the first block has none before it to join')
        const gone = blocks[index]!
        db.update(t.swing).set({ blockId: before.id }).where(eq(t.swing.blockId, id)).run()
        db.delete(t.block).where(eq(t.block.id, id)).run()
        if (gone.note) {
          db.update(t.block)
            .set({ note: [before.note, gone.note].filter(Boolean).join('\n') })
            .where(eq(t.block.id, before.id))
            .run()
        }
        if (gone.isBaseline) {
          db.update(t.block).set({ isBaseline: true }).where(eq(t.block.id, before.id)).run()
        }
        for (const block of blocks.slice(index + 1)) {
          db.update(t.block)
            .set({ position: block.position - 1 })
            .where(eq(t.block.id, block.id))
            .run()
        }
      })
      return {}
    },
    'block.update': ({ id, patch }) => {
      const lessonId = lessonOf(sqlite, 'block', id)
      const keys = Object.keys(patch)
      if (keys.length === 0) return {}
      journal.run({ lessonId, label: 'edit block', mergeKey: `block:${id}:${keys.join()}` }, () => {
        // One baseline at a time.
        if (patch.isBaseline) {
          db.update(t.block).set({ isBaseline: false }).where(eq(t.block.lessonId, lessonId)).run()
        }
        db.update(t.block).set(patch).where(eq(t.block.id, id)).run()
      })
      return {}
    },

    'edits.undo': ({ lessonId }) => ({ label: journal.undo(lessonId) }),
    'edits.redo': ({ lessonId }) => ({ label: journal.redo(lessonId) }),
  }
}
