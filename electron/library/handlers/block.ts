import { eq } from 'drizzle-orm'
import type { HandlersNamed } from '../../../shared-core/contract/index.ts'
import { Problem } from '../../../shared-core/problem.ts'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'
import { addBlockAfter, begunBlock, blocksOf } from '../queries/block-order.ts'
import { lessonOf } from '../queries/lesson-of.ts'
import { lessonRow } from '../queries/lesson-row.ts'
import { firstBlock } from '../queries/swing-order.ts'
import { swingsOf } from '../queries/swings-of.ts'
import { withNote } from '../queries/with-note.ts'
import { phrase } from '../../../shared-core/wording/phrase.ts'

export const blockHandlers = (context: LibraryContext): HandlersNamed<'block'> => {
  const { db, sqlite, journal } = context

  return {
    'block.cut': ({ lessonId, beforeSwingId, lastSwingId, name }) => {
      if (lessonOf(sqlite, 'swing', beforeSwingId) !== lessonId) {
        throw new Problem('bad-input.swingElsewhere')
      }
      return journal.run({ lessonId, label: phrase('edit.cutBlock') }, () => {
        const swings = swingsOf(db, lessonId)
        const first = swings.find((s) => s.id === beforeSwingId)!
        const ofBlock = swings.filter((s) => s.blockId === first.blockId)
        const at = ofBlock.indexOf(first)
        const last = lastSwingId === undefined ? -1 : ofBlock.findIndex((s) => s.id === lastSwingId)
        if (lastSwingId !== undefined && last < at) {
          throw new Problem('bad-input.notOneRun')
        }
        const end = lastSwingId === undefined ? ofBlock.length : last + 1
        const rest = ofBlock.slice(end)
        if (at === 0 && rest.length === 0) {
          throw new Problem('empty-block')
        }
        // At the begin of a block the rest is what is cut off: the block keeps its name and what was said of it.
        if (at === 0) return { id: addBlockAfter(db, lessonId, first.blockId, rest, name) }
        const id = addBlockAfter(db, lessonId, first.blockId, ofBlock.slice(at, end), name)
        if (rest.length > 0) addBlockAfter(db, lessonId, id, rest)
        return { id }
      })
    },
    'block.begin': ({ lessonId, focus }) => {
      lessonRow(db, lessonId)
      return journal.run({ lessonId, label: phrase('edit.beginBlock') }, () => {
        // A lesson that has no swings yet begins with its baseline.
        const waiting =
          begunBlock(db, lessonId) ?? (swingsOf(db, lessonId).length === 0 ? firstBlock(db, lessonId) : null)
        const id = waiting ?? addBlockAfter(db, lessonId, blocksOf(db, lessonId).at(-1)!.id, [])
        db.update(t.block).set({ focus }).where(eq(t.block.id, id)).run()
        return { id }
      })
    },
    'block.join': ({ id }) => {
      const lessonId = lessonOf(sqlite, 'block', id)
      journal.run({ lessonId, label: phrase('edit.joinBlocks') }, () => {
        const blocks = blocksOf(db, lessonId)
        const index = blocks.findIndex((b) => b.id === id)
        const before = blocks[index - 1]
        if (!before) throw new Problem('first-block')
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
      journal.run(
        { lessonId, label: phrase('edit.editBlock'), mergeKey: `block:${id}:${keys.join()}` },
        () => {
          // One baseline at a time.
          if (patch.isBaseline) {
            db.update(t.block).set({ isBaseline: false }).where(eq(t.block.lessonId, lessonId)).run()
          }
          const { note } = db.select().from(t.block).where(eq(t.block.id, id)).get()!
          db.update(t.block)
            .set(withNote(patch, noteBefore, note))
            .where(eq(t.block.id, id))
            .run()
        },
      )
      return {}
    },
  }
}
