import { asc, eq } from 'drizzle-orm'
import type { Db } from '../database/open.ts'
import * as t from '../database/schema.ts'

/** A lesson's swings in order. */
export const swingsOf = (db: Db, lessonId: string): (typeof t.swing.$inferSelect)[] =>
  db.select().from(t.swing).where(eq(t.swing.lessonId, lessonId)).orderBy(asc(t.swing.position)).all()

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
