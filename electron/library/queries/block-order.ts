import { randomUUID } from 'node:crypto'
import { asc, eq, inArray } from 'drizzle-orm'
import type { Db } from '../database/open.ts'
import * as t from '../database/schema.ts'
import { swingsOf } from './swings-of.ts'
import { said } from '../../../shared-core/wording/phrase.ts'

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
    .values({ id, lessonId, position, name: name ?? said('name.block', { n: blocks.length + 1 }) })
    .run()
  const ids = swings.map((s) => s.id)
  db.update(t.swing).set({ blockId: id }).where(inArray(t.swing.id, ids)).run()
  return id
}

/** The last block if it was begun and none but these new swings are in it; what comes behind all others belongs to it. */
export const begunBlock = (
  db: Db,
  lessonId: string,
  newSwings: ReadonlySet<string> = new Set(),
): string | null => {
  const blocks = blocksOf(db, lessonId)
  const last = blocks.at(-1)
  if (!last || blocks.length < 2) return null
  const inIt = swingsOf(db, lessonId).filter((s) => s.blockId === last.id)
  return inIt.every((s) => newSwings.has(s.id)) ? last.id : null
}

/**
 * A block without swings goes, unless it is the last or was begun and waits for its first; the first of those that stay
 * takes over as the baseline.
 */
export const dropEmptyBlocks = (db: Db, lessonId: string, begun: string | null) => {
  const used = new Set(swingsOf(db, lessonId).map((s) => s.blockId))
  const blocks = blocksOf(db, lessonId)
  const kept = blocks.filter((b) => used.has(b.id) || b.id === begun)
  if (kept.length === 0 || kept.length === blocks.length) return
  const gone = blocks.filter((b) => !kept.includes(b))
  const goneIds = gone.map((b) => b.id)
  // Still pictures belong to no block; they only must not go with one.
  db.update(t.swing).set({ blockId: kept[0]!.id }).where(inArray(t.swing.blockId, goneIds)).run()
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
