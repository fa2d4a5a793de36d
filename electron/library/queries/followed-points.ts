import { eq, inArray, sql } from 'drizzle-orm'
import { partTrack } from '../../../shared-core/body/body-part.ts'
import type { Motions } from '../../../shared-core/drawing/motion.ts'
import { noTrack, type FollowedTrack } from '../../../shared-core/following/followed-track.ts'
import type { Db } from '../database/open.ts'
import * as t from '../database/schema.ts'
import { bodyOfClip } from './body-of-clip.ts'

const trackRow = (row: typeof t.followedTrack.$inferSelect | undefined): FollowedTrack =>
  row
    ? {
        // Copies: a buffer out of the database need not begin on a multiple of four.
        frames: new Int32Array(new Uint8Array(row.frames).buffer),
        points: new Float32Array(new Uint8Array(row.points).buffer),
      }
    : noTrack()

/** The points that are followed in a clip, with their marks and where they were found. */
export const followedPoints = (db: Db, clipId: string) => {
  const points = db
    .select()
    .from(t.followedPoint)
    .where(eq(t.followedPoint.clipId, clipId))
    .orderBy(sql`rowid`)
    .all()
  const marks = db
    .select()
    .from(t.followMark)
    .where(
      inArray(
        t.followMark.followedId,
        points.map((p) => p.id),
      ),
    )
    .all()
  return points.map((point) => ({
    ...point,
    marks: marks.filter((m) => m.followedId === point.id).sort((a, b) => a.frame - b.frame),
    track: trackRow(
      point.trackId === null
        ? undefined
        : db.select().from(t.followedTrack).where(eq(t.followedTrack.id, point.trackId)).get(),
    ),
  }))
}

/** Everything in a clip that a drawing can move with. */
export const motionsOf = (
  db: Db,
  clip: { id: string; hash: string; captureRate: number },
  side: 'right' | 'left',
): Motions => {
  const points = new Map(followedPoints(db, clip.id).map((point) => [point.id, point.track]))
  const body = bodyOfClip(db, clip)
  return {
    captureRate: clip.captureRate,
    followed: (id) => points.get(id) ?? null,
    part: (part) => (body.frames.length === 0 ? null : partTrack(body, part, side)),
  }
}

/** Everything that drawings of a view can move with. */
export const motionsOfView = (db: Db, viewId: string): Motions => {
  const row = db
    .select({ clip: t.clip, side: t.student.side })
    .from(t.view)
    .innerJoin(t.clip, eq(t.clip.id, t.view.clipId))
    .innerJoin(t.lesson, eq(t.lesson.id, t.clip.lessonId))
    .innerJoin(t.student, eq(t.student.id, t.lesson.studentId))
    .where(eq(t.view.id, viewId))
    .get()!
  return motionsOf(db, { ...row.clip, hash: row.clip.mediaHash }, row.side)
}
