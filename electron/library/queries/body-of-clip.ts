import { eq } from 'drizzle-orm'
import { emptyTrack, withCorrections, type BodyTrack } from '../../../shared-core/body/body-track.ts'
import { jointIndex, type JointName } from '../../../shared-core/body/joints.ts'
import type { Db } from '../database/open.ts'
import * as t from '../database/schema.ts'

/** A hand-set point's shift fades out over so many seconds of real time. */
const reachSeconds = 0.05

/** The points as the model found them; empty where none were read. */
export const readTrack = (db: Db, mediaHash: string): BodyTrack => {
  const row = db.select().from(t.bodyPoints).where(eq(t.bodyPoints.mediaHash, mediaHash)).get()
  if (!row) return emptyTrack()
  // Copies: a buffer out of the database need not begin on a multiple of four.
  return {
    frames: new Int32Array(new Uint8Array(row.frames).buffer),
    points: new Float32Array(new Uint8Array(row.points).buffer),
    ...(row.shifts && { shifts: new Float32Array(new Uint8Array(row.shifts).buffer) }),
  }
}

export const correctionsOf = (db: Db, clipId: string) =>
  db.select().from(t.bodyCorrection).where(eq(t.bodyCorrection.clipId, clipId)).all()

/** The points of a clip with what the coach set by hand. */
export const bodyOfClip = (db: Db, clip: { id: string; hash: string; captureRate: number }): BodyTrack =>
  withCorrections(
    readTrack(db, clip.hash),
    correctionsOf(db, clip.id).map(({ frame, joint, x, y }) => ({
      frame,
      joint: jointIndex(joint as JointName),
      x,
      y,
    })),
    Math.max(1, Math.round(reachSeconds * clip.captureRate)),
  )
