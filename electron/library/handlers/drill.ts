import { randomUUID } from 'node:crypto'
import { asc, eq } from 'drizzle-orm'
import type { HandlersNamed } from '../../../shared-core/contract/index.ts'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'

export const drillHandlers = (context: LibraryContext): HandlersNamed<'drill'> => {
  const { db } = context

  return {
    'drill.list': () => db.select().from(t.drill).orderBy(asc(t.drill.name)).all(),
    'drill.save': ({ id, ...drill }) => {
      const kept = id ?? randomUUID()
      db.insert(t.drill)
        .values({ id: kept, ...drill })
        .onConflictDoUpdate({ target: t.drill.id, set: drill })
        .run()
      return { id: kept }
    },
    'drill.remove': ({ id }) => {
      db.delete(t.drill).where(eq(t.drill.id, id)).run()
      return {}
    },
  }
}
