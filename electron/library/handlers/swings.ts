import { randomUUID } from 'node:crypto'
import { and, asc, eq, inArray } from 'drizzle-orm'
import type { Handlers } from '../../../shared-core/contract/index.ts'
import { isCover } from '../../../shared-core/drawing/drawing.ts'
import { Problem } from '../../../shared-core/problem.ts'
import * as t from '../database/schema.ts'
import type { LibraryContext } from '../context.ts'
import { lessonOf } from '../queries/lesson-of.ts'
import { withNote } from '../queries/with-note.ts'
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

  /** Moves swings to a new block right after another one; its id. */
  const addBlockAfter = (
    lessonId: string,
    blockId: string,
    swings: readonly { id: string }[],
    name?: string,
  ) => {
    const blocks = blocksOf(lessonId)
    const index = blocks.findIndex((b) => b.id === blockId)
    for (const block of blocks.slice(index + 1)) {
      db.update(t.block)
        .set({ position: block.position + 1 })
        .where(eq(t.block.id, block.id))
        .run()
    }
    const id = randomUUID()
    const position = blocks[index]!.position + 1
    db.insert(t.block)
      .values({ id, lessonId, position, name: name ?? `Block ${blocks.length + 1}` })
      .run()
    const ids = swings.map((s) => s.id)
    db.update(t.swing).set({ blockId: id }).where(inArray(t.swing.id, ids)).run()
    return id
  }

  /** A block without swings goes, unless it is the last; the first of those that stay takes over as the baseline. */
  const dropEmptyBlocks = (lessonId: string) => {
    const used = new Set(swingsOf(db, lessonId).map((s) => s.blockId))
    const blocks = blocksOf(lessonId)
    const kept = blocks.filter((b) => used.has(b.id))
    if (kept.length === 0 || kept.length === blocks.length) return
    const gone = blocks.filter((b) => !used.has(b.id))
    const goneIds = gone.map((b) => b.id)
    db.delete(t.block).where(inArray(t.block.id, goneIds)).run()
    if (gone.some((b) => b.isBaseline)) {
      db.update(t.block).set({ isBaseline: true }).where(eq(t.block.id, kept[0]!.id)).run()
    }
    kept.forEach((block, i) => {
      if (block.position !== i + 1) {
        db.update(t.block)
          .set({ position: i + 1 })
          .where(eq(t.block.id, block.id))
          .run()
      }
    })
  }

  return {
    'swing.update': ({ ids, patch, noteBefore }) => {
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
      const ofLesson = and(inArray(t.swing.id, ids), eq(t.swing.lessonId, lessonId))
      journal.run(
        { lessonId, label, mergeKey: keys.join() === 'note' ? `swing:${ids.join()}` : null },
        () => {
          for (const swing of db.select().from(t.swing).where(ofLesson).all()) {
            db.update(t.swing)
              .set(withNote(patch, noteBefore, swing.note))
              .where(eq(t.swing.id, swing.id))
              .run()
          }
          if (patch.blockId !== undefined) dropEmptyBlocks(lessonId)
        },
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
    'swing.remove': ({ ids }) => {
      const lessonId = lessonOf(sqlite, 'swing', ids[0]!)
      const label = ids.length > 1 ? `remove ${ids.length} swings` : 'remove swing'
      journal.run({ lessonId, label }, () => {
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
        dropEmptyBlocks(lessonId)
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
          } else if (drawing.toFrame >= atFrame && isCover(drawing.shape)) {
            // What is hidden stays hidden on both sides of the cut.
            db.insert(t.drawing)
              .values({ ...drawing, id: randomUUID(), viewId: newViewId, momentId: null })
              .run()
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

    'block.cut': ({ lessonId, beforeSwingId, lastSwingId, name }) => {
      if (lessonOf(sqlite, 'swing', beforeSwingId) !== lessonId) {
        throw new Problem('bad-input', 'this swing is of another lesson')
      }
      return journal.run({ lessonId, label: 'cut block' }, () => {
        const swings = swingsOf(db, lessonId)
        const first = swings.find((s) => s.id === beforeSwingId)!
        const ofBlock = swings.filter((s) => s.blockId === first.blockId)
        const at = ofBlock.indexOf(first)
        const last = lastSwingId === undefined ? -1 : ofBlock.findIndex((s) => s.id === lastSwingId)
        if (lastSwingId !== undefined && last < at) {
          throw new Problem('bad-input', 'a block is a run of swings of one block', {
            toDo: 'Choose swings that follow each other in one block',
          })
        }
        const end = lastSwingId === undefined ? ofBlock.length : last + 1
        const rest = ofBlock.slice(end)
        if (at === 0 && rest.length === 0) {
          throw new Problem('empty-block', 'the block already begins here', { toDo: 'Choose a later swing' })
        }
        // At the begin of a block the rest is what is cut off: the block keeps its name and what was said of it.
        if (at === 0) return { id: addBlockAfter(lessonId, first.blockId, rest, name) }
        const id = addBlockAfter(lessonId, first.blockId, ofBlock.slice(at, end), name)
        if (rest.length > 0) addBlockAfter(lessonId, id, rest)
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
    'block.update': ({ id, patch, noteBefore }) => {
      const lessonId = lessonOf(sqlite, 'block', id)
      const keys = Object.keys(patch)
      if (keys.length === 0) return {}
      journal.run({ lessonId, label: 'edit block', mergeKey: `block:${id}:${keys.join()}` }, () => {
        // One baseline at a time.
        if (patch.isBaseline) {
          db.update(t.block).set({ isBaseline: false }).where(eq(t.block.lessonId, lessonId)).run()
        }
        const { note } = db.select().from(t.block).where(eq(t.block.id, id)).get()!
        db.update(t.block)
          .set(withNote(patch, noteBefore, note))
          .where(eq(t.block.id, id))
          .run()
      })
      return {}
    },

    'edits.undo': ({ lessonId, confirmedRevision }) => ({ label: journal.undo(lessonId, confirmedRevision) }),
    'edits.redo': ({ lessonId, confirmedRevision }) => ({ label: journal.redo(lessonId, confirmedRevision) }),
  }
}
