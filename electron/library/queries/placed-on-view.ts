import { eq } from 'drizzle-orm'
import type { Db } from '../database/open.ts'
import * as t from '../database/schema.ts'
import { isCover } from '../../../shared-core/drawing/drawing.ts'
import { moveShape, scaleShape } from '../../../shared-core/drawing/copy-shape.ts'
import { readShape } from '../../../shared-core/drawing/read-shape.ts'
import type { Shape } from '../../../shared-core/drawing/shapes.ts'
import { Problem } from '../../../shared-core/problem.ts'

type DrawingRow = typeof t.drawing.$inferSelect

interface Size {
  readonly width: number
  readonly height: number
}

/** A view with the facts of its clip. @throws Problem `gone` */
export const viewAndClip = (db: Db, viewId: string) => {
  const row = db
    .select({ frames: t.media.frameCount, width: t.media.width, height: t.media.height, view: t.view })
    .from(t.view)
    .innerJoin(t.clip, eq(t.clip.id, t.view.clipId))
    .innerJoin(t.media, eq(t.media.hash, t.clip.mediaHash))
    .where(eq(t.view.id, viewId))
    .get()
  if (!row) throw new Problem('gone.swingsClip', { where: viewId })
  return row
}

/**
 * A drawing as it would sit on another view: at the moment of the same name if the other view has it,
 * else at the same distance from the start. Both cameras are assumed to see alike: between pictures of different sizes
 * the shape is scaled with the picture, from middle to middle.
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
  // A point that is followed belongs to its clip; the body is in the other one, too, but not on the same frame.
  const tie = null
  // What hides a face on a whole clip hides it on the whole of the other.
  if (isCover(drawing.shape) && drawing.fromFrame === 0 && drawing.toFrame === source.frames - 1) {
    const shape = scaledWith(drawing.shape, source, target)
    return { ...drawing, tie, viewId, momentId: null, fromFrame: 0, toFrame: target.frames - 1, shape }
  }
  const place = (frame: number) => Math.min(target.frames - 1, Math.max(0, frame + shift))
  return {
    ...drawing,
    tie,
    viewId,
    momentId: same?.id ?? null,
    fromFrame: place(drawing.fromFrame),
    toFrame: place(drawing.toFrame),
    shape: scaledWith(drawing.shape, source, target),
  }
}

const scaledWith = (stored: DrawingRow['shape'], from: Size, to: Size): DrawingRow['shape'] => {
  if (from.width === to.width && from.height === to.height) return stored
  let shape: Shape
  try {
    shape = readShape(stored)
  } catch (problem) {
    // A newer Leadside's: kept as it is.
    if (problem instanceof Problem) return stored
    throw problem
  }
  const factor = Math.min(to.width / from.width, to.height / from.height)
  const middle = { x: from.width / 2, y: from.height / 2 }
  const scaled = scaleShape(shape, middle, factor)
  return moveShape(
    scaled,
    to.width / 2 - middle.x,
    to.height / 2 - middle.y,
  ) as unknown as DrawingRow['shape']
}
