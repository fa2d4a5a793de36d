import { randomUUID } from 'node:crypto'
import { eq, inArray, max } from 'drizzle-orm'
import type { HandlersNamed } from '../../../shared-core/contract/index.ts'
import { rangeOfNew } from '../../../shared-core/drawing/drawing.ts'
import { readShape } from '../../../shared-core/drawing/read-shape.ts'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'
import { checkFrame, frameCountOf } from '../queries/frames-of-view.ts'
import { lessonOf } from '../queries/lesson-of.ts'
import { placedOnView } from '../queries/placed-on-view.ts'
import { phrase } from '../../../shared-core/wording/phrase.ts'

export const drawingHandlers = (context: LibraryContext): HandlersNamed<'drawing'> => {
  const { db, sqlite, journal } = context

  return {
    'drawing.add': (drawing) => {
      const lessonId = lessonOf(sqlite, 'view', drawing.viewId)
      checkFrame(db, drawing.viewId, Math.max(drawing.fromFrame, drawing.toFrame))
      const shape = readShape(drawing.shape)
      const range = rangeOfNew(drawing, frameCountOf(db, drawing.viewId))
      const id = randomUUID()
      journal.run({ lessonId, label: phrase('edit.draw', { shape: drawing.shape.kind }) }, () => {
        const top = db
          .select({ top: max(t.drawing.position) })
          .from(t.drawing)
          .where(eq(t.drawing.viewId, drawing.viewId))
          .get()
        db.insert(t.drawing)
          .values({ id, ...drawing, ...range, shape, position: (top?.top ?? 0) + 1 })
          .run()
      })
      return { id }
    },
    'drawing.update': ({ id, patch: { order, ...patch }, isStep }) => {
      const lessonId = lessonOf(sqlite, 'drawing', id)
      const set = {
        ...patch,
        ...(patch.shape === undefined ? {} : { shape: readShape(patch.shape) }),
        ...(order === undefined ? {} : { position: order }),
      }
      if (Object.keys(set).length === 0) return {}
      journal.run(
        { lessonId, label: phrase('edit.changeDrawing'), mergeKey: isStep ? `drawing:${id}` : null },
        () => db.update(t.drawing).set(set).where(eq(t.drawing.id, id)).run(),
      )
      return {}
    },
    'drawing.remove': ({ ids }) => {
      const lessonId = lessonOf(sqlite, 'drawing', ids[0]!)
      journal.run({ lessonId, label: phrase('edit.removeDrawings', { count: ids.length }) }, () =>
        db.delete(t.drawing).where(inArray(t.drawing.id, ids)).run(),
      )
      return {}
    },
    'drawing.copyTo': ({ ids, viewId }) => {
      const lessonId = lessonOf(sqlite, 'view', viewId)
      const sources = db
        .select()
        .from(t.drawing)
        .where(inArray(t.drawing.id, ids))
        .all()
        // The way of a point is where it was found in its own clip.
        .filter((source) => source.tie?.to.kind !== 'way')
      return journal.run({ lessonId, label: phrase('edit.copyDrawings') }, () => ({
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
  }
}
