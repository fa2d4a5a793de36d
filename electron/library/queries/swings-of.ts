import { asc, eq } from 'drizzle-orm'
import type { Db } from '../database/open.ts'
import * as t from '../database/schema.ts'

type SwingRow = typeof t.swing.$inferSelect

/** A lesson's swings in order, behind them the still pictures that stand alone. */
export const swingsAndStillsOf = (db: Db, lessonId: string): SwingRow[] =>
  db.select().from(t.swing).where(eq(t.swing.lessonId, lessonId)).orderBy(asc(t.swing.position)).all()

/** Still pictures that stand alone: no film, no shot. They are in no block's numbers, and nothing is paired with them. */
export const lonelyStills = (db: Db, lessonId: string): Set<string> => {
  const views = db
    .select({ swingId: t.swing.id, stillKind: t.clip.stillKind, shotId: t.swing.shotId })
    .from(t.view)
    .innerJoin(t.swing, eq(t.swing.id, t.view.swingId))
    .innerJoin(t.clip, eq(t.clip.id, t.view.clipId))
    .where(eq(t.swing.lessonId, lessonId))
    .all()
  const stills = new Set(views.flatMap((v) => (v.stillKind !== null && v.shotId === null ? [v.swingId] : [])))
  for (const v of views) if (v.stillKind === null) stills.delete(v.swingId)
  return stills
}

/** A lesson's swings in order, without the still pictures that stand alone. */
export const swingsOf = (db: Db, lessonId: string): SwingRow[] => {
  const stills = lonelyStills(db, lessonId)
  return swingsAndStillsOf(db, lessonId).filter((s) => !stills.has(s.id))
}

/** Ids of the lesson's swings that have a picture; the others only the device saw. */
export const filmedSwingIds = (db: Db, lessonId: string): Set<string> =>
  new Set(
    db
      .select({ swingId: t.view.swingId })
      .from(t.view)
      .innerJoin(t.swing, eq(t.swing.id, t.view.swingId))
      .where(eq(t.swing.lessonId, lessonId))
      .all()
      .map((view) => view.swingId),
  )
