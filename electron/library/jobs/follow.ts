import { randomUUID } from 'node:crypto'
import { eq, sql } from 'drizzle-orm'
import { z } from 'zod'
import { isHelpedByBody } from '../../../shared-core/body/carrier.ts'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'
import { followInThread } from '../following/follow-in-thread.ts'
import { Cancelled } from '../media/run-ffmpeg.ts'
import { bodyOfClip } from '../queries/body-of-clip.ts'
import { clipWithMedia } from '../queries/clip-with-media.ts'
import { followedRow } from './begin-following.ts'
import type { JobRun } from './queue.ts'
import { phrase, type Word } from '../../../shared-core/wording/phrase.ts'
import { picturesFile } from '../queries/pictures-file.ts'

const taskSchema = z.object({ followedId: z.string(), edit: z.string().optional() })

const bytesOf = (array: Int32Array | Float32Array): Buffer =>
  Buffer.from(array.buffer, array.byteOffset, array.byteLength)

/** Follows one point through its clip from the coach's marks, and keeps the way as one edit. */
export const follow = async (context: LibraryContext, run: JobRun): Promise<Word> => {
  const { db } = context
  const { followedId, edit } = taskSchema.parse(run.task)
  const pointRow = () => followedRow(context, followedId)
  const point = pointRow()
  const { clip, media } = clipWithMedia(db, point.clipId)
  const marks = db.select().from(t.followMark).where(eq(t.followMark.followedId, followedId)).all()
  const { ffmpeg } = await context.mediaPrograms()
  run.say(phrase('step.following', { point: point.name }), 0)
  const { track, lost } = await followInThread(
    {
      ffmpegPath: ffmpeg.file,
      file: picturesFile(context.paths, media),
      width: media.width,
      height: media.height,
      captureRate: clip.captureRate,
      name: point.name,
      marks: marks.map(({ frame, x, y }) => ({ frame, x, y })),
      first: point.fromFrame,
      last: point.toFrame,
      ...(isHelpedByBody(point.name) ? { body: bodyOfClip(db, { ...clip, hash: media.hash }) } : {}),
    },
    {
      signal: run.signal,
      onProgress: (share) => run.say(phrase('step.following', { point: point.name }), share),
    },
  )
  if (run.signal.aborted) throw new Cancelled()
  context.journal.run(
    {
      lessonId: clip.lessonId,
      label: phrase('edit.follow', { point: point.name }),
      mergeKey: edit ?? null,
      mergesLate: true,
    },
    () => {
      // It may have been taken away while it was followed.
      pointRow()
      const trackId = randomUUID()
      db.insert(t.followedTrack)
        .values({
          id: trackId,
          mediaHash: media.hash,
          frames: bytesOf(track.frames),
          points: bytesOf(track.points),
        })
        .run()
      db.update(t.followedPoint)
        .set({ trackId, lost: [...lost] })
        .where(eq(t.followedPoint.id, followedId))
        .run()
      forgetOld(context, media.hash)
    },
  )
  return phrase('result.followed', { n: track.frames.length, all: point.toFrame - point.fromFrame + 1 })
}

/** Ways that no point has and no undo can bring back. */
const forgetOld = ({ db }: LibraryContext, mediaHash: string) => {
  db.run(sql`
    DELETE FROM followed_track WHERE media_hash = ${mediaHash}
      AND id NOT IN (SELECT track_id FROM followed_point WHERE track_id IS NOT NULL)
      AND id NOT IN (
        SELECT json_extract(e.value, '$.track_id') FROM edit_row r, json_each(json_array(json(r.before), json(r.after))) e
        WHERE r.table_name = 'followed_point' AND json_extract(e.value, '$.track_id') IS NOT NULL)`)
}
