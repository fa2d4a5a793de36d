import { randomUUID } from 'node:crypto'
import { eq } from 'drizzle-orm'
import type { HandlersNamed } from '../../../shared-core/contract/index.ts'
import type { Drill } from '../../../shared-core/model/hand-over.ts'
import { starterDrillText } from '../../../shared-core/wording/starter-texts.ts'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'

/** As it is kept: a starter drill whose words nobody has changed without them. */
const noWords = { name: '', purpose: '', how: '', dose: '', watchFor: '', caution: '' } as const
const parts = Object.keys(noWords) as (keyof typeof noWords)[]

const inWords = ({ starterKey, ...drill }: typeof t.drill.$inferSelect): Drill =>
  starterKey === null ? drill : { ...drill, ...starterDrillText(starterKey) }

export const drillHandlers = (context: LibraryContext): HandlersNamed<'drill'> => {
  const { db } = context

  return {
    'drill.list': () =>
      db
        .select()
        .from(t.drill)
        .all()
        .map(inWords)
        .toSorted((a, b) => (a.name < b.name ? -1 : 1)),
    'drill.save': ({ id, ...drill }) => {
      const kept = id ?? randomUUID()
      const there = db.select().from(t.drill).where(eq(t.drill.id, kept)).get()
      const starterKey = there?.starterKey ?? null
      const words = starterKey === null ? null : starterDrillText(starterKey)
      const isStarter = words !== null && parts.every((part) => drill[part] === words[part])
      const row = isStarter ? { ...drill, ...noWords, starterKey } : { ...drill, starterKey: null }
      db.insert(t.drill)
        .values({ id: kept, ...row })
        .onConflictDoUpdate({ target: t.drill.id, set: row })
        .run()
      return { id: kept }
    },
    'drill.remove': ({ id }) => {
      db.delete(t.drill).where(eq(t.drill.id, id)).run()
      return {}
    },
  }
}
