import { eq } from 'drizzle-orm'
import type { Db } from '../database/open.ts'
import * as t from '../database/schema.ts'
import { Problem } from '../../../shared-core/problem.ts'

type DrawingRow = typeof t.drawing.$inferSelect

/** A view with the facts of its clip. @throws Problem `gone` */
export const viewAndClip = (db: Db, viewId: string) => {
  const row = db
    .select({ frames: t.media.frameCount, view: t.view })
    .from(t.view)
    .innerJoin(t.clip, eq(t.clip.id, t.view.clipId))
    .innerJoin(t.media, eq(t.media.hash, t.clip.mediaHash))
    .where(eq(t.view.id, viewId))
    .get()
  if (!row) throw new Problem('gone', 'this swing’s clip is no longer there', { where: viewId })
  return row
}

/**
 * A drawing as it would sit on another view: at the moment of the same name if the other view has it,
 * else at the same distance from the start. The shape keeps its source pixels; both cameras are assumed alike.
 */
export const placedOnView = (db: Db, drawing: DrawingRow, viewId: string): DrawingRow => {
  const target = viewAndClip(db, viewId)
  const moment = drawing.momentId
    ? db.select().from(t.moment).where(eq(t.moment.id, drawing.momentId)).get()
    : undefined
  const same = moment
    ? db
        .select()
        .from(t.moment)
        .where(eq(t.moment.viewId, viewId))
        .all()
        .find((m) => m.name === moment.name)
    : undefined
  const source = viewAndClip(db, drawing.viewId)
  const shift = same && moment ? same.frame - moment.frame : target.view.fromFrame - source.view.fromFrame
  const place = (frame: number) => Math.min(target.frames - 1, Math.max(0, frame + shift))
  return {
    ...drawing,
    viewId,
    momentId: same?.id ?? null,
    fromFrame: place(drawing.fromFrame),
    toFrame: place(drawing.toFrame),
  }
}
