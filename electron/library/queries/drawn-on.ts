import { eq } from 'drizzle-orm'
import type { Db } from '../database/open.ts'
import * as t from '../database/schema.ts'

/** Whether something is drawn on the moment: then it stays where it is. */
export const isDrawnOn = (db: Db, momentId: string): boolean =>
  db.select().from(t.drawing).where(eq(t.drawing.momentId, momentId)).get() !== undefined
