import { asc, eq } from 'drizzle-orm'
import type { HandlersNamed } from '../../../shared-core/contract/index.ts'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'

export const cueKindHandlers = (context: LibraryContext): HandlersNamed<'cueKind'> => {
  const { db } = context

  return {
    'cueKind.list': () =>
      db
        .select()
        .from(t.cueKind)
        .orderBy(asc(t.cueKind.isOwn), asc(t.cueKind.group), asc(t.cueKind.label))
        .all(),
    'cueKind.save': (kind) => {
      const there = db.select().from(t.cueKind).where(eq(t.cueKind.key, kind.key)).get()
      if (there) {
        db.update(t.cueKind)
          .set({ group: kind.group, label: kind.label })
          .where(eq(t.cueKind.key, kind.key))
          .run()
      } else {
        db.insert(t.cueKind)
          .values({ ...kind, isOwn: true })
          .run()
      }
      return {}
    },
  }
}
