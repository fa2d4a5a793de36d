import { randomUUID } from 'node:crypto'
import { count } from 'drizzle-orm'
import { starterCueKinds } from '../../shared-core/model/cue-kinds.ts'
import { starterDrills } from '../../shared-core/model/starter-drills.ts'
import type { Db } from './database/open.ts'
import * as t from './database/schema.ts'

/** What a new library starts with, as keys: the trade's cues, and a few drills. What the coach changes stays changed. */
export const starterRecords = (db: Db) => {
  for (const kind of starterCueKinds) db.insert(t.cueKind).values(kind).onConflictDoNothing().run()
  const students = db.select({ n: count() }).from(t.student).get()!.n
  const drills = db.select({ n: count() }).from(t.drill).get()!.n
  const seeded = db.select({ n: count() }).from(t.setting).get()!.n
  if (students + drills + seeded > 0) return
  for (const drill of starterDrills) {
    const { key, ...rest } = drill
    const noWords = { name: '', purpose: '', how: '', dose: '', watchFor: '', caution: '' }
    db.insert(t.drill)
      .values({ ...rest, ...noWords, id: randomUUID(), starterKey: key })
      .run()
  }
}
