import { asc, eq } from 'drizzle-orm'
import { orderOfShots } from '../../../shared-core/shots/shot-order.ts'
import type { Db } from '../database/open.ts'
import * as t from '../database/schema.ts'

/** Puts all shots of a lesson in the order they were hit, from whatever files they came; by time where they have one. */
export const orderShots = (db: Db, lessonId: string) => {
  const shots = db
    .select({ id: t.shot.id, at: t.shot.at, position: t.shot.position })
    .from(t.shot)
    .where(eq(t.shot.lessonId, lessonId))
    .orderBy(asc(t.shot.position))
    .all()
  // Each file's shots are in order already; files that came later may still have been hit earlier.
  const { order } = orderOfShots(
    shots.map(({ at }) => ({ at, number: null })),
    { isRising: true },
  )
  order.forEach((from, index) => {
    const shot = shots[from]!
    if (shot.position !== index + 1) {
      db.update(t.shot)
        .set({ position: index + 1 })
        .where(eq(t.shot.id, shot.id))
        .run()
    }
  })
}
