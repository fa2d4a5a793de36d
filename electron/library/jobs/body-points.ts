import { randomUUID } from 'node:crypto'
import { eq } from 'drizzle-orm'
import { z } from 'zod'
import { bodyMeasures } from '../../../shared-core/body/body-measures.ts'
import { mergeTracks, type BodyTrack } from '../../../shared-core/body/body-track.ts'
import { framesToRead } from '../../../shared-core/body/frames-to-read.ts'
import { frameNearest } from '../../../shared-core/timing/clip-clock.ts'
import { modelName } from '../body/model-files.ts'
import { readBody } from '../body/read-body.ts'
import type { LibraryContext } from '../context.ts'
import { asFloat64 } from '../database/float64.ts'
import * as t from '../database/schema.ts'
import { Cancelled } from '../media/run-ffmpeg.ts'
import { clipWithMedia } from '../queries/clip-with-media.ts'
import { bodyOfClip, readTrack } from '../queries/body-of-clip.ts'
import type { JobRun } from './queue.ts'
import { phrase } from '../../../shared-core/wording/phrase.ts'

const taskSchema = z.object({ clipId: z.string() })

const bytesOf = (array: Int32Array | Float32Array): Buffer =>
  Buffer.from(array.buffer, array.byteOffset, array.byteLength)

const viewsOf = ({ db }: LibraryContext, clipId: string) =>
  db
    .select()
    .from(t.view)
    .where(eq(t.view.clipId, clipId))
    .all()
    .map((view) => ({
      ...view,
      moments: db.select().from(t.moment).where(eq(t.moment.viewId, view.id)).all(),
    }))

/**
 * Reads the body points of one clip, swing by swing, keeps them, and proposes brace and release where they are not marked. What
 * was read before is not read again; what the coach set by hand is not touched.
 */
export const readBodyPoints = async (context: LibraryContext, run: JobRun): Promise<string> => {
  const { clipId } = taskSchema.parse(run.task)
  const { clip, media } = clipWithMedia(context.db, clipId)
  const { ffmpeg } = await context.mediaPrograms()
  const times = {
    atSeconds: asFloat64(media.timestamps),
    playbackRate: media.playbackRate,
    captureRate: clip.captureRate,
  }
  const there = new Set(readTrack(context.db, media.hash).frames)
  const wanted = viewsOf(context, clipId).map((view) =>
    framesToRead(view, times).filter((f) => !there.has(f)),
  )
  const total = wanted.reduce((sum, frames) => sum + frames.length, 0)
  let before = 0
  for (const frames of wanted) {
    if (frames.length === 0) continue
    run.say('reading the body', before / total)
    const track = await readBody(
      {
        ffmpegPath: ffmpeg.file,
        clip: context.paths.original(media.hash, media.extension),
        width: media.width,
        height: media.height,
        frames,
      },
      {
        signal: run.signal,
        onProgress: (share) => run.say('reading the body', (before + share * frames.length) / total),
      },
    )
    if (run.signal.aborted) throw new Cancelled()
    keep(context, media.hash, track)
    before += frames.length
  }
  const body = propose(context, clipId)
  for (const { lessonId } of context.db
    .select({ lessonId: t.clip.lessonId })
    .from(t.clip)
    .where(eq(t.clip.mediaHash, media.hash))
    .all()) {
    context.journal.bump(lessonId)
  }
  return body
}

const keep = (context: LibraryContext, mediaHash: string, track: BodyTrack) => {
  const { db } = context
  db.transaction(() => {
    const whole = mergeTracks(readTrack(db, mediaHash), track)
    const row = {
      model: modelName,
      frames: bytesOf(whole.frames),
      points: bytesOf(whole.points),
      readAt: context.now().toISOString(),
    }
    db.insert(t.bodyPoints)
      .values({ mediaHash, ...row })
      .onConflictDoUpdate({ target: t.bodyPoints.mediaHash, set: row })
      .run()
  })
}

/** Marks brace and release where the body shows them and nobody has marked them: one edit, undone like any other. */
const propose = (context: LibraryContext, clipId: string): string => {
  const { db, journal } = context
  // The lesson may have changed while the points were read.
  const { clip, media } = clipWithMedia(context.db, clipId)
  const lesson = db.select().from(t.lesson).where(eq(t.lesson.id, clip.lessonId)).get()!
  const { side } = db.select().from(t.student).where(eq(t.student.id, lesson.studentId)).get()!
  const times = {
    atSeconds: asFloat64(media.timestamps),
    playbackRate: media.playbackRate,
    captureRate: clip.captureRate,
  }
  const track = bodyOfClip(db, { id: clip.id, hash: media.hash, captureRate: clip.captureRate })
  let proposed = 0
  journal.run(
    { lessonId: clip.lessonId, label: phrase('edit.proposeMoments', { clip: clip.fileName }) },
    () => {
      for (const view of viewsOf(context, clipId)) {
        const impact = view.moments.find((m) => m.name === 'impact')
        if (!impact) continue
        const found = bodyMeasures({ ...clip, track, times, moments: view.moments, side })
        for (const moment of found.moments) {
          if (view.moments.some((m) => m.name === moment.name)) continue
          const frame = frameNearest(times, impact.frame, moment.atSeconds)
          if (frame < view.fromFrame || frame > view.toFrame) continue
          db.insert(t.moment)
            .values({
              id: randomUUID(),
              viewId: view.id,
              name: moment.name,
              frame,
              how: 'body',
              confidence:
                moment.confidence * Math.min(1, impact.isConfirmed ? 1 : 0.5 + impact.confidence / 2),
            })
            .run()
          proposed += 1
        }
      }
    },
  )
  return track.frames.length === 0 ? 'nobody found' : proposed > 0 ? 'read, moments proposed' : 'read'
}
