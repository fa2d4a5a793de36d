import { randomUUID } from 'node:crypto'
import { eq } from 'drizzle-orm'
import type { HandlersNamed } from '../../../shared-core/contract/index.ts'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'
import { checkFrame, frameCountOf } from '../queries/frames-of-view.ts'
import { lessonOf } from '../queries/lesson-of.ts'
import { phrase } from '../../../shared-core/wording/phrase.ts'

export const momentHandlers = (context: LibraryContext): HandlersNamed<'moment'> => {
  const { db, sqlite, journal } = context
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
    const last = frameCountOf(db, moment.viewId) - 1
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
      checkFrame(db, viewId, frame)
      return journal.run({ lessonId, label: phrase('edit.placeMoment', { moment: name }) }, () => {
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
      checkFrame(db, moment.viewId, frame)
      journal.run({ lessonId, label: phrase('edit.moveMoment', { moment: moment.name }) }, () =>
        moveMoment(id, frame),
      )
      return {}
    },
    'moment.confirm': ({ id }) => {
      const lessonId = lessonOf(sqlite, 'moment', id)
      journal.run({ lessonId, label: phrase('edit.confirmMoment', { moment: momentRow(id).name }) }, () =>
        db.update(t.moment).set({ isConfirmed: true }).where(eq(t.moment.id, id)).run(),
      )
      return {}
    },
    'moment.remove': ({ id }) => {
      const lessonId = lessonOf(sqlite, 'moment', id)
      journal.run({ lessonId, label: phrase('edit.removeMoment', { moment: momentRow(id).name }) }, () =>
        db.delete(t.moment).where(eq(t.moment.id, id)).run(),
      )
      return {}
    },
  }
}
