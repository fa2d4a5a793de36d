import { randomUUID } from 'node:crypto'
import { and, eq, isNull } from 'drizzle-orm'
import type { HandlersNamed } from '../../../shared-core/contract/index.ts'
import { Problem } from '../../../shared-core/problem.ts'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'
import { clipWithMedia } from '../queries/clip-with-media.ts'
import { bodyOfClip, correctionsOf } from '../queries/body-of-clip.ts'
import { lessonOf } from '../queries/lesson-of.ts'
import { phrase } from '../../../shared-core/wording/phrase.ts'

export const bodyHandlers = (context: LibraryContext): HandlersNamed<'body'> => {
  const { db, sqlite, journal, jobs } = context
  const place = (clipId: string, frame: number, joint: string) =>
    and(
      eq(t.bodyCorrection.clipId, clipId),
      eq(t.bodyCorrection.frame, frame),
      eq(t.bodyCorrection.joint, joint),
    )

  return {
    'body.read': ({ lessonId, clipIds }) => {
      const waiting = new Set(
        db
          .select()
          .from(t.job)
          .where(eq(t.job.kind, 'body-points'))
          .all()
          .filter((job) => job.state === 'waiting' || job.state === 'running')
          .map((job) => job.task['clipId']),
      )
      const clips = db
        .select()
        .from(t.clip)
        .where(and(eq(t.clip.lessonId, lessonId), isNull(t.clip.stillKind)))
        .all()
      return {
        jobIds: clips
          .filter((clip) => (clipIds === undefined || clipIds.includes(clip.id)) && !waiting.has(clip.id))
          .map((clip) =>
            jobs.add('body-points', lessonId, phrase('job.body', { clip: clip.fileName }), {
              clipId: clip.id,
            }),
          ),
      }
    },
    'body.points': ({ clipId }) => {
      const { clip } = clipWithMedia(db, clipId)
      const track = bodyOfClip(db, { ...clip, hash: clip.mediaHash })
      return {
        frames: Array.from(track.frames),
        points: Array.from(track.points),
        corrected: correctionsOf(db, clipId).map(({ frame, joint }) => ({ frame, joint })),
      }
    },
    'body.correct': ({ clipId, frame, joint, x, y }) => {
      const frames = clipWithMedia(db, clipId).media.frameCount
      if (frame >= frames) {
        throw new Problem('no-frame.clip', { last: frames - 1, frame })
      }
      journal.run(
        {
          lessonId: lessonOf(sqlite, 'clip', clipId),
          label: phrase('edit.moveBodyPoint'),
          mergeKey: `body:${clipId}:${frame}:${joint}`,
        },
        () => {
          const there = db
            .select()
            .from(t.bodyCorrection)
            .where(place(clipId, frame, joint))
            .get()
          if (there) db.update(t.bodyCorrection).set({ x, y }).where(eq(t.bodyCorrection.id, there.id)).run()
          else db.insert(t.bodyCorrection).values({ id: randomUUID(), clipId, frame, joint, x, y }).run()
        },
      )
      return {}
    },
    'body.takeBack': ({ clipId, frame, joint }) => {
      journal.run(
        { lessonId: lessonOf(sqlite, 'clip', clipId), label: phrase('edit.takeBodyPointBack') },
        () =>
          db
            .delete(t.bodyCorrection)
            .where(place(clipId, frame, joint))
            .run(),
      )
      return {}
    },
  }
}
