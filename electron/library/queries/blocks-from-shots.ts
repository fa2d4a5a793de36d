import { randomUUID } from 'node:crypto'
import { eq } from 'drizzle-orm'
import type { Db } from '../database/open.ts'
import * as t from '../database/schema.ts'
import { swingsOf } from './swings-of.ts'

/**
 * Cuts a lesson into the blocks that its shot records name, if the coach has not cut any yet: a new block begins
 * where the name changes. Swings without a shot stay in the block around them.
 */
export const blocksFromShots = (db: Db, lessonId: string) => {
  const blocks = db.select().from(t.block).where(eq(t.block.lessonId, lessonId)).all()
  const only = blocks[0]
  if (blocks.length !== 1 || !only) return
  const names = new Map(
    db
      .select({ id: t.shot.id, blockName: t.shot.blockName })
      .from(t.shot)
      .where(eq(t.shot.lessonId, lessonId))
      .all()
      .map((s) => [s.id, s.blockName]),
  )
  if (new Set([...names.values()].filter((name) => name !== null)).size < 2) return
  const swings = swingsOf(db, lessonId)
  let current: { id: string; name: string } | null = null
  let position = only.position
  for (const swing of swings) {
    const name = swing.shotId === null ? null : (names.get(swing.shotId) ?? null)
    if (name !== null && current === null) {
      db.update(t.block).set({ name }).where(eq(t.block.id, only.id)).run()
      current = { id: only.id, name }
    } else if (name !== null && current !== null && name !== current.name) {
      position += 1
      current = { id: randomUUID(), name }
      db.insert(t.block).values({ id: current.id, lessonId, position, name }).run()
    }
    if (current !== null && current.id !== swing.blockId) {
      db.update(t.swing).set({ blockId: current.id }).where(eq(t.swing.id, swing.id)).run()
    }
  }
}
