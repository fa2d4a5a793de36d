import { randomUUID } from 'node:crypto'
import { eq } from 'drizzle-orm'
import type { HandlersNamed } from '../../../shared-core/contract/index.ts'
import { isCover } from '../../../shared-core/drawing/drawing.ts'
import { Problem } from '../../../shared-core/problem.ts'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'
import { lessonOf } from '../queries/lesson-of.ts'
import { guestPicture } from '../queries/open-lesson.ts'
import { swishesOfView } from '../queries/swishes-of-view.ts'
import { insertSwing, renumber } from '../queries/swing-order.ts'
import { phrase } from '../../../shared-core/wording/phrase.ts'

export const viewHandlers = (context: LibraryContext): HandlersNamed<'view'> => {
  const { db, sqlite, journal } = context

  return {
    'view.asGuest': ({ id }) => guestPicture(db, id),
    'view.swishes': ({ id }) => swishesOfView(context, id),
    'view.cut': ({ viewId, atFrame }) => {
      const lessonId = lessonOf(sqlite, 'view', viewId)
      return journal.run({ lessonId, label: phrase('edit.cutClip') }, () => {
        const view = db.select().from(t.view).where(eq(t.view.id, viewId)).get()!
        if (atFrame <= view.fromFrame || atFrame > view.toFrame) {
          throw new Problem('no-frame.cut', { first: view.fromFrame + 1, last: view.toFrame })
        }
        const swing = db.select().from(t.swing).where(eq(t.swing.id, view.swingId)).get()!
        const swingId = insertSwing(db, {
          lessonId,
          blockId: swing.blockId,
          position: swing.position + 0.5,
          shotId: null,
        })
        const newViewId = randomUUID()
        db.insert(t.view)
          .values({ id: newViewId, swingId, clipId: view.clipId, fromFrame: atFrame, toFrame: view.toFrame })
          .run()
        db.update(t.view)
          .set({ toFrame: atFrame - 1 })
          .where(eq(t.view.id, viewId))
          .run()
        for (const moment of db.select().from(t.moment).where(eq(t.moment.viewId, viewId)).all()) {
          if (moment.frame >= atFrame) {
            db.update(t.moment).set({ viewId: newViewId }).where(eq(t.moment.id, moment.id)).run()
          }
        }
        for (const drawing of db.select().from(t.drawing).where(eq(t.drawing.viewId, viewId)).all()) {
          if (drawing.fromFrame >= atFrame) {
            db.update(t.drawing).set({ viewId: newViewId }).where(eq(t.drawing.id, drawing.id)).run()
          } else if (drawing.toFrame >= atFrame && isCover(drawing.shape)) {
            // What is hidden stays hidden on both sides of the cut.
            db.insert(t.drawing)
              .values({ ...drawing, id: randomUUID(), viewId: newViewId, momentId: null })
              .run()
          }
        }
        renumber(db, lessonId)
        return { swingId }
      })
    },
  }
}
