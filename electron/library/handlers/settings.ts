import { eq } from 'drizzle-orm'
import type { HandlersNamed } from '../../../shared-core/contract/index.ts'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'

export const settingsHandlers = (context: LibraryContext): HandlersNamed<'settings'> => {
  const { db } = context

  return {
    'settings.get': () => context.settings(),
    'settings.set': (patch) => {
      for (const [key, value] of Object.entries(patch)) {
        if (value === undefined) continue
        if (value === null) {
          // Without a row the setting is as at first, which is null for all that may be null.
          db.delete(t.setting).where(eq(t.setting.key, key)).run()
          continue
        }
        db.insert(t.setting)
          .values({ key, value })
          .onConflictDoUpdate({ target: t.setting.key, set: { value } })
          .run()
      }
      const settings = context.settings()
      context.emit('settings.changed', settings)
      return {}
    },
  }
}
