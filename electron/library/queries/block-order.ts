import { randomUUID } from 'node:crypto'
import { asc, eq, inArray } from 'drizzle-orm'
import type { Db } from '../database/open.ts'
import * as t from '../database/schema.ts'
import { swingsOf } from './swings-of.ts'

/** The blocks of a lesson in their order. */
export const blocksOf = (db: Db, lessonId: string) =>
  db.select().from(t.block).where(eq(t.block.lessonId, lessonId)).orderBy(asc(t.block.position)).all()

/** Moves swings to a new block right after another one; its id. */
export const addBlockAfter = (
  db: Db,
  lessonId: string,
  blockId: string,
  swings: readonly { id: string }[],
  name?: string,
) => {
  const blocks = blocksOf(db, lessonId)
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
export const dropEmptyBlocks = (db: Db, lessonId: string) => {
  const used = new Set(swingsOf(db, lessonId).map((s) => s.blockId))
  const blocks = blocksOf(db, lessonId)
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
