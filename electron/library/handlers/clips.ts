import fs from 'node:fs'
import path from 'node:path'
import { eq } from 'drizzle-orm'
import type { Handlers } from '../../../shared-core/contract/index.ts'
import { Problem } from '../../../shared-core/problem.ts'
import { coachPictureOf } from '../coach/coach-pictures.ts'
import { asFloat64 } from '../database/float64.ts'
import * as t from '../database/schema.ts'
import type { LibraryContext } from '../context.ts'
import { lessonRow } from '../queries/lesson-row.ts'
import { lessonOf } from '../queries/lesson-of.ts'

type Names =
  | 'clips.add'
  | 'clip.update'
  | 'clip.remove'
  | 'clip.timestamps'
  | 'clip.soundPeaks'
  | 'jobs.list'
  | 'job.cancel'
  | 'job.retry'
  | 'media.resolve'

export const clipHandlers = (context: LibraryContext): Pick<Handlers, Names> => {
  const { db, sqlite, journal, jobs, paths } = context

  const mediaOf = (clipId: string) => {
    const row = db
      .select()
      .from(t.clip)
      .innerJoin(t.media, eq(t.media.hash, t.clip.mediaHash))
      .where(eq(t.clip.id, clipId))
      .get()
    if (!row) throw new Problem('gone', 'this clip is no longer there', { where: clipId })
    return row
  }

  return {
    'clips.add': ({ lessonId, files }) => {
      lessonRow(db, lessonId)
      return {
        jobIds: files.map((file) =>
          jobs.add('add-clip', lessonId, path.basename(file), { file: path.resolve(file), lessonId }),
        ),
      }
    },
    'clip.update': ({ id, patch }) => {
      const lessonId = lessonOf(sqlite, 'clip', id)
      const set = { ...patch, ...(patch.captureRate ? { captureRateHow: 'coach' as const } : {}) }
      if (Object.keys(set).length === 0) return {}
      journal.run({ lessonId, label: 'change clip', mergeKey: `clip:${id}:${Object.keys(set).join()}` }, () =>
        db.update(t.clip).set(set).where(eq(t.clip.id, id)).run(),
      )
      return {}
    },
    'clip.remove': ({ id }) => {
      const lessonId = lessonOf(sqlite, 'clip', id)
      journal.run({ lessonId, label: 'remove clip' }, () => {
        const swings = db
          .selectDistinct({ id: t.view.swingId })
          .from(t.view)
          .where(eq(t.view.clipId, id))
          .all()
        db.delete(t.clip).where(eq(t.clip.id, id)).run()
        for (const swing of swings) {
          // A swing that has neither picture nor shot is nothing.
          const left = db
            .select({ id: t.view.id })
            .from(t.view)
            .where(eq(t.view.swingId, swing.id))
            .all().length
          const row = db.select().from(t.swing).where(eq(t.swing.id, swing.id)).get()
          if (left === 0 && row && row.shotId === null) {
            db.delete(t.swing).where(eq(t.swing.id, swing.id)).run()
          }
        }
      })
      return {}
    },
    'clip.timestamps': ({ id }) => ({ atSeconds: Array.from(asFloat64(mediaOf(id).media.timestamps)) }),
    'clip.soundPeaks': ({ id }) => {
      const { media } = mediaOf(id)
      const pairs = media.peaks ? new Int8Array(new Uint8Array(media.peaks).buffer) : new Int8Array()
      const min: number[] = []
      const max: number[] = []
      for (let i = 0; i + 1 < pairs.length; i += 2) {
        min.push(pairs[i]! / 127)
        max.push(pairs[i + 1]! / 127)
      }
      return { binSeconds: media.peakBinSeconds, min, max }
    },
    'jobs.list': () => jobs.list(),
    'job.cancel': ({ id }) => {
      jobs.cancel(id)
      return {}
    },
    'job.retry': ({ id }) => {
      jobs.retry(id)
      return {}
    },
    'media.resolve': ({ of, clipId, kind }) => {
      if (of === 'coach') {
        const picture = coachPictureOf(context, clipId)
        if (!picture) throw new Problem('gone', 'this picture is no longer there', { where: clipId })
        if (kind === 'play') return { file: picture.file, type: picture.type }
        return { file: picture.still, type: picture.kind === 'clip' ? 'image/jpeg' : picture.type }
      }
      const { media } = mediaOf(clipId)
      const original = {
        file: paths.original(media.hash, media.extension),
        type: media.extension === '.mov' ? 'video/quicktime' : 'video/mp4',
      }
      const proxy = { file: paths.proxy(media.hash), type: 'video/mp4' }
      switch (kind) {
        case 'original':
          return original
        case 'proxy':
          return proxy
        case 'play':
          // Until it is made again the original is better than nothing.
          return media.hasProxy && fs.existsSync(proxy.file) ? proxy : original
        case 'poster':
          return { file: paths.poster(media.hash), type: 'image/jpeg' }
        case 'strip':
          return { file: paths.strip(media.hash), type: 'image/jpeg' }
      }
    },
  }
}
