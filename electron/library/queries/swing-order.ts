import { randomUUID } from 'node:crypto'
import { asc, eq } from 'drizzle-orm'
import type { Db } from '../database/open.ts'
import * as t from '../database/schema.ts'

/**
 * Inserts a swing. Positions are whole numbers; one between two swings may be asked for as n + 0.5:
 * the later ones move up.
 */
export const insertSwing = (
  db: Db,
  swing: { lessonId: string; blockId: string; position: number; shotId: string | null },
): string => {
  const id = randomUUID()
  const place = Math.ceil(swing.position)
  const later = db
    .select()
    .from(t.swing)
    .where(eq(t.swing.lessonId, swing.lessonId))
    .all()
    .filter((s) => s.position >= place)
  for (const other of later) {
    db.update(t.swing)
      .set({ position: other.position + 1 })
      .where(eq(t.swing.id, other.id))
      .run()
  }
  db.insert(t.swing)
    .values({ ...swing, id, position: place })
    .run()
  return id
}

/** Positions 1, 2, 3… in the order the swings already have. */
export const renumber = (db: Db, lessonId: string, order?: readonly string[]) => {
  const swings = db
    .select({ id: t.swing.id, position: t.swing.position })
    .from(t.swing)
    .where(eq(t.swing.lessonId, lessonId))
    .orderBy(asc(t.swing.position))
    .all()
  const positions = new Map(swings.map((s) => [s.id, s.position]))
  const placed = new Set(order)
  // What the order does not speak of, the still pictures, comes behind.
  const ids = [...(order ?? []), ...swings.map((s) => s.id).filter((id) => !placed.has(id))]
  ids.forEach((id, index) => {
    if (positions.get(id) !== index + 1) {
      db.update(t.swing)
        .set({ position: index + 1 })
        .where(eq(t.swing.id, id))
        .run()
    }
  })
}

/** The lesson's first block, made when it has none. */
export const firstBlock = (db: Db, lessonId: string): string => {
  const there = db
    .select()
    .from(t.block)
    .where(eq(t.block.lessonId, lessonId))
    .orderBy(asc(t.block.position))
    .get()
  if (there) return there.id
  const id = randomUUID()
  db.insert(t.block).values({ id, lessonId, position: 1, name: 'Baseline', isBaseline: true }).run()
  return id
}
