import { eq } from 'drizzle-orm'
import { Problem } from '../../../shared-core/problem.ts'
import type { Db } from '../database/open.ts'
import * as t from '../database/schema.ts'

/** A lesson row or a problem that says so. */
export const lessonRow = (db: Db, id: string) => {
  const row = db.select().from(t.lesson).where(eq(t.lesson.id, id)).get()
  if (!row) {
    throw new Problem('no-lesson.any', { where: id })
  }
  return row
}
