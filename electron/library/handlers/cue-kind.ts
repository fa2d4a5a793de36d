import { eq } from 'drizzle-orm'
import type { HandlersNamed } from '../../../shared-core/contract/index.ts'
import { keptCueLabel } from '../../../shared-core/wording/say.ts'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'
import { cueKinds } from '../queries/cue-kinds.ts'

const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0)

export const cueKindHandlers = (context: LibraryContext): HandlersNamed<'cueKind'> => {
  const { db } = context

  return {
    'cueKind.list': () =>
      cueKinds(db).toSorted(
        (a, b) => Number(a.isOwn) - Number(b.isOwn) || compare(a.group, b.group) || compare(a.label, b.label),
      ),
    'cueKind.save': (named) => {
      const kind = { ...named, label: keptCueLabel(named) }
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
