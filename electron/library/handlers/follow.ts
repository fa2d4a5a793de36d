import { randomUUID } from 'node:crypto'
import { and, eq, max } from 'drizzle-orm'
import type { HandlersNamed } from '../../../shared-core/contract/index.ts'
import { defaultStyle } from '../../../shared-core/drawing/shape-base.ts'
import { shapes } from '../../../shared-core/drawing/shapes.ts'
import { Problem } from '../../../shared-core/problem.ts'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'
import { beginFollowing, followEdit, followedRow } from '../jobs/begin-following.ts'
import { followedPoints } from '../queries/followed-points.ts'
import { checkFrame } from '../queries/frames-of-view.ts'
import { lessonOf } from '../queries/lesson-of.ts'
import { phrase } from '../../../shared-core/wording/phrase.ts'

export const followHandlers = (context: LibraryContext): HandlersNamed<'follow'> => {
  const { db, sqlite, journal } = context
  const pointOf = (id: string) => followedRow(context, id)
  const lessonOfPoint = (id: string) => lessonOf(sqlite, 'clip', pointOf(id).clipId)
  const markOn = (followedId: string, frame: number) =>
    and(eq(t.followMark.followedId, followedId), eq(t.followMark.frame, frame))

  return {
    'follow.list': ({ clipId }) =>
      followedPoints(db, clipId).map(({ trackId: _trackId, track, marks, ...point }) => ({
        ...point,
        marks: marks.map(({ frame, x, y }) => ({ frame, x, y })),
        frames: Array.from(track.frames),
        points: Array.from(track.points),
      })),
    'follow.begin': ({ viewId, name, frame, x, y, tone, widthPx }) => {
      const lessonId = lessonOf(sqlite, 'view', viewId)
      checkFrame(db, viewId, frame)
      const view = db.select().from(t.view).where(eq(t.view.id, viewId)).get()!
      const id = randomUUID()
      const drawingId = randomUUID()
      journal.run(
        { lessonId, label: phrase('edit.follow', { point: name }), mergeKey: followEdit(id, 'begin') },
        () => {
          const range = {
            fromFrame: Math.min(frame, view.fromFrame),
            toFrame: Math.max(frame, view.toFrame),
          }
          db.insert(t.followedPoint)
            .values({ id, clipId: view.clipId, name, ...range, trackId: null, lost: [] })
            .run()
          db.insert(t.followMark).values({ id: randomUUID(), followedId: id, frame, x, y }).run()
          const top = db
            .select({ top: max(t.drawing.position) })
            .from(t.drawing)
            .where(eq(t.drawing.viewId, viewId))
            .get()
          db.insert(t.drawing)
            .values({
              id: drawingId,
              viewId,
              momentId: null,
              ...range,
              shape: shapes.freehand.create([{ x, y }], { ...defaultStyle, tone, widthPx }),
              position: (top?.top ?? 0) + 1,
              tie: { frame, to: { kind: 'way', id } },
            })
            .run()
        },
      )
      return { id, drawingId, jobId: beginFollowing(context, id, followEdit(id, 'begin')) }
    },
    'follow.mark': ({ id, frame, x, y }) => {
      const point = pointOf(id)
      if (frame < point.fromFrame || frame > point.toFrame) {
        throw new Problem('no-frame.followed', {
          point: point.name,
          first: point.fromFrame,
          last: point.toFrame,
          frame,
        })
      }
      journal.run(
        {
          lessonId: lessonOfPoint(id),
          label: phrase('edit.putPointRight', { point: point.name }),
          mergeKey: followEdit(id, `mark ${frame}`),
        },
        () => {
          const there = db.select().from(t.followMark).where(markOn(id, frame)).get()
          if (there) db.update(t.followMark).set({ x, y }).where(eq(t.followMark.id, there.id)).run()
          else db.insert(t.followMark).values({ id: randomUUID(), followedId: id, frame, x, y }).run()
        },
      )
      return { jobId: beginFollowing(context, id, followEdit(id, `mark ${frame}`)) }
    },
    'follow.takeBack': ({ id, frame }) => {
      const point = pointOf(id)
      const marks = db.select().from(t.followMark).where(eq(t.followMark.followedId, id)).all()
      if (marks.length === 1 && marks[0]!.frame === frame) {
        throw new Problem('last-mark', { point: point.name })
      }
      journal.run(
        {
          lessonId: lessonOfPoint(id),
          label: phrase('edit.takeMarkBack', { point: point.name }),
          mergeKey: followEdit(id, `mark ${frame}`),
        },
        () => db.delete(t.followMark).where(markOn(id, frame)).run(),
      )
      return { jobId: beginFollowing(context, id, followEdit(id, `mark ${frame}`)) }
    },
    'follow.again': ({ id }) => ({ jobId: beginFollowing(context, id, followEdit(id, 'again')) }),
    'follow.remove': ({ id }) => {
      const point = pointOf(id)
      journal.run(
        { lessonId: lessonOfPoint(id), label: phrase('edit.stopFollowing', { point: point.name }) },
        () => {
          const views = db.select().from(t.view).where(eq(t.view.clipId, point.clipId)).all()
          for (const { id: viewId } of views) {
            for (const drawing of db.select().from(t.drawing).where(eq(t.drawing.viewId, viewId)).all()) {
              const to = drawing.tie?.to
              if (!to || to.kind === 'body' || to.id !== id) continue
              if (to.kind === 'way') db.delete(t.drawing).where(eq(t.drawing.id, drawing.id)).run()
              // A drawing that moved with it stays where it was drawn.
              else db.update(t.drawing).set({ tie: null }).where(eq(t.drawing.id, drawing.id)).run()
            }
          }
          db.delete(t.followedPoint).where(eq(t.followedPoint.id, id)).run()
        },
      )
      return {}
    },
  }
}
