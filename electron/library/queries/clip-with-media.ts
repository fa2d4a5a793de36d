import { eq } from 'drizzle-orm'
import { Problem } from '../../../shared-core/problem.ts'
import type { Db } from '../database/open.ts'
import * as t from '../database/schema.ts'

/** A clip and the file that it shows. @throws Problem `gone` */
export const clipWithMedia = (db: Db, clipId: string) => {
  const row = db
    .select()
    .from(t.clip)
    .innerJoin(t.media, eq(t.media.hash, t.clip.mediaHash))
    .where(eq(t.clip.id, clipId))
    .get()
  if (!row) throw new Problem('gone.clip', { where: clipId })
  return row
}
