import path from 'node:path'
import { and, eq, inArray } from 'drizzle-orm'
import type { HandlersNamed } from '../../../shared-core/contract/index.ts'
import { alsoAnswered, asTold } from '../../../shared-core/moments/answered-rate.ts'
import { Problem } from '../../../shared-core/problem.ts'
import type { LibraryContext } from '../context.ts'
import { asFloat64 } from '../database/float64.ts'
import * as t from '../database/schema.ts'
import { clipWithMedia } from '../queries/clip-with-media.ts'
import { clipsOf } from '../queries/open-lesson.ts'
import { lessonOf } from '../queries/lesson-of.ts'
import { lessonRow } from '../queries/lesson-row.ts'
import { phrase, said } from '../../../shared-core/wording/phrase.ts'

export const clipHandlers = (context: LibraryContext): HandlersNamed<'clips' | 'clip'> => {
  const { db, sqlite, journal, jobs } = context

  /** The moment of a still picture goes by what the picture shows. */
  const changeClip = (id: string, set: Partial<typeof t.clip.$inferInsert>) => {
    const { stillKind } = db.select().from(t.clip).where(eq(t.clip.id, id)).get()!
    if (set.stillKind != null) {
      if (stillKind === null) throw new Problem('bad-input.isFilm')
      const views = db.select({ id: t.view.id }).from(t.view).where(eq(t.view.clipId, id))
      db.update(t.moment)
        .set({ name: set.stillKind })
        .where(and(inArray(t.moment.viewId, views), eq(t.moment.name, stillKind)))
        .run()
    }
    db.update(t.clip).set(set).where(eq(t.clip.id, id)).run()
  }

  /** The lesson's other clips that an answer for one holds for ({@link alsoAnswered}). */
  const answeredWith = (lessonId: string, id: string, captureRate: number): string[] => {
    const clips = clipsOf(db, lessonId)
    return alsoAnswered(
      clips.find((c) => c.id === id)!,
      captureRate,
      clips,
    ).map((c) => c.id)
  }

  const toldRate = (id: string, captureRate: number) =>
    asTold(captureRate, clipWithMedia(db, id).media.playbackRate)

  return {
    'clips.add': ({ lessonId, files, name, stillKind, mayStillGrow }) => {
      lessonRow(db, lessonId)
      return {
        jobIds: files.map((file) =>
          jobs.add('add-clip', lessonId, name ?? path.basename(file), {
            ...(name === undefined ? {} : { name }),
            ...(stillKind === undefined ? {} : { stillKind }),
            ...(mayStillGrow === undefined ? {} : { mayStillGrow }),
            file: path.resolve(file),
            lessonId,
          }),
        ),
      }
    },
    'clip.update': ({ id, patch }) => {
      const lessonId = lessonOf(sqlite, 'clip', id)
      const { captureRate } = patch
      if (Object.keys(patch).length === 0) return {}
      const others = captureRate ? answeredWith(lessonId, id, captureRate) : []
      const label =
        others.length > 0
          ? phrase('edit.rateOfClips', { clips: others.length + 1 })
          : phrase('edit.changeClip')
      journal.run({ lessonId, label, mergeKey: `clip:${id}:${Object.keys(patch).join()}` }, () => {
        changeClip(id, { ...patch, ...(captureRate ? toldRate(id, captureRate) : {}) })
        for (const other of others) changeClip(other, toldRate(other, captureRate!))
      })
      return {}
    },
    'clip.remove': ({ id }) => {
      const lessonId = lessonOf(sqlite, 'clip', id)
      journal.run({ lessonId, label: phrase('edit.removeClip') }, () => {
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
    'clip.keepFrame': ({ viewId, frame }) => {
      const lessonId = lessonOf(sqlite, 'view', viewId)
      const row = db
        .select({ name: t.clip.fileName })
        .from(t.view)
        .innerJoin(t.clip, eq(t.clip.id, t.view.clipId))
        .where(eq(t.view.id, viewId))
        .get()
      const name = said('job.frame', { clip: row?.name ?? said('name.clip'), frame })
      return { jobId: jobs.add('add-clip', lessonId, name, { lessonId, name, ofFrame: { viewId, frame } }) }
    },
    'clip.timestamps': ({ id }) => ({
      atSeconds: Array.from(
        context.arriving.get(id)?.atSeconds ?? asFloat64(clipWithMedia(db, id).media.timestamps),
      ),
    }),
    'clip.soundPeaks': ({ id }) => {
      const { media } = clipWithMedia(db, id)
      const pairs = media.peaks ? new Int8Array(new Uint8Array(media.peaks).buffer) : new Int8Array()
      const min: number[] = []
      const max: number[] = []
      for (let i = 0; i + 1 < pairs.length; i += 2) {
        min.push(pairs[i]! / 127)
        max.push(pairs[i + 1]! / 127)
      }
      return { binSeconds: media.peakBinSeconds, min, max }
    },
  }
}
