import { randomUUID } from 'node:crypto'
import { asc, eq, inArray, max } from 'drizzle-orm'
import type { Handlers } from '../../../shared-core/contract/index.ts'
import { rangeOfNew } from '../../../shared-core/drawing/drawing.ts'
import { Problem } from '../../../shared-core/problem.ts'
import * as t from '../database/schema.ts'
import type { LibraryContext } from '../context.ts'
import { lessonRow } from '../queries/lesson-row.ts'
import { lessonOf } from '../queries/lesson-of.ts'
import { withNote } from '../queries/with-note.ts'
import { placedOnView, viewAndClip } from '../queries/placed-on-view.ts'
import { guestPicture } from '../queries/lesson-view.ts'

type Names =
  | 'moment.place'
  | 'moment.move'
  | 'moment.confirm'
  | 'moment.remove'
  | 'cueKind.list'
  | 'cueKind.save'
  | 'cue.add'
  | 'cue.update'
  | 'cue.remove'
  | 'drawing.add'
  | 'drawing.update'
  | 'drawing.remove'
  | 'drawing.copyTo'
  | 'view.asGuest'
  | 'comparison.save'
  | 'comparison.remove'

export const annotationHandlers = (context: LibraryContext): Pick<Handlers, Names> => {
  const { db, sqlite, journal } = context

  const frameCountOf = (viewId: string): number => viewAndClip(db, viewId).frames
  const checkFrame = (viewId: string, frame: number) => {
    const frames = frameCountOf(viewId)
    if (frame >= frames) throw new Problem('no-frame', `the clip has frames 0 to ${frames - 1}, not ${frame}`)
  }
  const momentRow = (id: string) => db.select().from(t.moment).where(eq(t.moment.id, id)).get()!

  /** Drawings on a moment go with it, by as many frames. */
  const moveMoment = (id: string, frame: number) => {
    const moment = momentRow(id)
    const shift = frame - moment.frame
    db.update(t.moment)
      .set({ frame, how: 'coach', confidence: 1, isConfirmed: true })
      .where(eq(t.moment.id, id))
      .run()
    if (shift === 0) return
    const last = frameCountOf(moment.viewId) - 1
    for (const drawing of db.select().from(t.drawing).where(eq(t.drawing.momentId, id)).all()) {
      const place = (f: number) => Math.min(last, Math.max(0, f + shift))
      db.update(t.drawing)
        .set({ fromFrame: place(drawing.fromFrame), toFrame: place(drawing.toFrame) })
        .where(eq(t.drawing.id, drawing.id))
        .run()
    }
  }

  return {
    'moment.place': ({ viewId, name, frame }) => {
      const lessonId = lessonOf(sqlite, 'view', viewId)
      checkFrame(viewId, frame)
      return journal.run({ lessonId, label: `place ${name}` }, () => {
        const there = db
          .select()
          .from(t.moment)
          .where(eq(t.moment.viewId, viewId))
          .all()
          .find((m) => m.name === name)
        if (there) {
          moveMoment(there.id, frame)
          return { id: there.id }
        }
        const id = randomUUID()
        db.insert(t.moment)
          .values({ id, viewId, name, frame, how: 'coach', confidence: 1, isConfirmed: true })
          .run()
        return { id }
      })
    },
    'moment.move': ({ id, frame }) => {
      const lessonId = lessonOf(sqlite, 'moment', id)
      const moment = momentRow(id)
      checkFrame(moment.viewId, frame)
      journal.run({ lessonId, label: `move ${moment.name}` }, () => moveMoment(id, frame))
      return {}
    },
    'moment.confirm': ({ id }) => {
      const lessonId = lessonOf(sqlite, 'moment', id)
      journal.run({ lessonId, label: `confirm ${momentRow(id).name}` }, () =>
        db.update(t.moment).set({ isConfirmed: true }).where(eq(t.moment.id, id)).run(),
      )
      return {}
    },
    'moment.remove': ({ id }) => {
      const lessonId = lessonOf(sqlite, 'moment', id)
      journal.run({ lessonId, label: `remove ${momentRow(id).name}` }, () =>
        db.delete(t.moment).where(eq(t.moment.id, id)).run(),
      )
      return {}
    },

    'cueKind.list': () =>
      db
        .select()
        .from(t.cueKind)
        .orderBy(asc(t.cueKind.isOwn), asc(t.cueKind.group), asc(t.cueKind.label))
        .all(),
    'cueKind.save': (kind) => {
      const there = db.select().from(t.cueKind).where(eq(t.cueKind.key, kind.key)).get()
      if (there) {
        db.update(t.cueKind)
          .set({ group: kind.group, label: kind.label })
          .where(eq(t.cueKind.key, kind.key))
          .run()
      } else {
        db.insert(t.cueKind)
          .values({ ...kind, isOwn: true })
          .run()
      }
      return {}
    },
    'cue.add': (cue) => {
      const lessonId = lessonOf(sqlite, 'moment', cue.momentId)
      if (!db.select().from(t.cueKind).where(eq(t.cueKind.key, cue.kind)).get()) {
        throw new Problem('no-cue-kind', `there is no cue "${cue.kind}"`, {
          toDo: 'Add it to the list of cues first',
        })
      }
      const id = randomUUID()
      journal.run({ lessonId, label: 'tag cue' }, () =>
        db
          .insert(t.cue)
          .values({ id, ...cue })
          .run(),
      )
      return { id }
    },
    'cue.update': ({ id, patch, noteBefore }) => {
      const lessonId = lessonOf(sqlite, 'cue', id)
      if (Object.keys(patch).length === 0) return {}
      journal.run(
        { lessonId, label: 'change cue', mergeKey: `cue:${id}:${Object.keys(patch).join()}` },
        () => {
          const { note } = db.select().from(t.cue).where(eq(t.cue.id, id)).get()!
          db.update(t.cue)
            .set(withNote(patch, noteBefore, note))
            .where(eq(t.cue.id, id))
            .run()
        },
      )
      return {}
    },
    'cue.remove': ({ id }) => {
      const lessonId = lessonOf(sqlite, 'cue', id)
      journal.run({ lessonId, label: 'remove cue' }, () => db.delete(t.cue).where(eq(t.cue.id, id)).run())
      return {}
    },

    'drawing.add': (drawing) => {
      const lessonId = lessonOf(sqlite, 'view', drawing.viewId)
      checkFrame(drawing.viewId, Math.max(drawing.fromFrame, drawing.toFrame))
      const range = rangeOfNew(drawing, frameCountOf(drawing.viewId))
      const id = randomUUID()
      journal.run({ lessonId, label: `draw ${drawing.shape.kind}` }, () => {
        const top = db
          .select({ top: max(t.drawing.position) })
          .from(t.drawing)
          .where(eq(t.drawing.viewId, drawing.viewId))
          .get()
        db.insert(t.drawing)
          .values({ id, ...drawing, ...range, position: (top?.top ?? 0) + 1 })
          .run()
      })
      return { id }
    },
    'drawing.update': ({ id, patch: { order, ...patch }, isStep }) => {
      const lessonId = lessonOf(sqlite, 'drawing', id)
      const set = { ...patch, ...(order === undefined ? {} : { position: order }) }
      if (Object.keys(set).length === 0) return {}
      journal.run({ lessonId, label: 'change drawing', mergeKey: isStep ? `drawing:${id}` : null }, () =>
        db.update(t.drawing).set(set).where(eq(t.drawing.id, id)).run(),
      )
      return {}
    },
    'drawing.remove': ({ ids }) => {
      const lessonId = lessonOf(sqlite, 'drawing', ids[0]!)
      journal.run(
        { lessonId, label: ids.length > 1 ? `remove ${ids.length} drawings` : 'remove drawing' },
        () => db.delete(t.drawing).where(inArray(t.drawing.id, ids)).run(),
      )
      return {}
    },
    'drawing.copyTo': ({ ids, viewId }) => {
      const lessonId = lessonOf(sqlite, 'view', viewId)
      const sources = db.select().from(t.drawing).where(inArray(t.drawing.id, ids)).all()
      return journal.run({ lessonId, label: 'copy drawings' }, () => ({
        ids: sources.map((source) => {
          const { id: _id, ...copy } = placedOnView(db, source, viewId)
          const id = randomUUID()
          db.insert(t.drawing)
            .values({ id, ...copy })
            .run()
          return id
        }),
      }))
    },

    'view.asGuest': ({ id }) => guestPicture(db, id),
    'comparison.save': ({ id, ...comparison }) => {
      const lessons = [comparison.firstViewId, comparison.secondViewId].map((viewId) =>
        lessonRow(db, lessonOf(sqlite, 'view', viewId)),
      )
      const { studentId } = lessonRow(db, comparison.lessonId)
      if (lessons.some((lesson) => lesson.studentId !== studentId)) {
        throw new Problem('other-student', 'only swings of the same student are set beside each other', {
          toDo: 'Choose a swing from one of this student’s lessons: what is kept here may be handed over',
        })
      }
      if (lessons.every((lesson) => lesson.id !== comparison.lessonId)) {
        throw new Problem('bad-input', 'neither swing is of this lesson', {
          toDo: 'Keep the comparison in the lesson of one of the two',
        })
      }
      const kept = id ?? randomUUID()
      journal.run(
        { lessonId: comparison.lessonId, label: 'keep comparison', mergeKey: `comparison:${kept}` },
        () => {
          db.insert(t.comparison)
            .values({ id: kept, ...comparison })
            .onConflictDoUpdate({ target: t.comparison.id, set: comparison })
            .run()
        },
      )
      return { id: kept }
    },
    'comparison.remove': ({ id }) => {
      const lessonId = lessonOf(sqlite, 'comparison', id)
      journal.run({ lessonId, label: 'remove comparison' }, () =>
        db.delete(t.comparison).where(eq(t.comparison.id, id)).run(),
      )
      return {}
    },
  }
}
