import type * as t from '../database/schema.ts'
import type { LibraryContext } from '../context.ts'

/** The file whose frames are the clip's pictures, one for one: the original, or of an interlaced one the copy made of its fields. */
export const picturesFile = (
  paths: LibraryContext['paths'],
  media: Pick<typeof t.media.$inferSelect, 'hash' | 'extension' | 'showsFields'>,
): string => (media.showsFields ? paths.proxy(media.hash) : paths.original(media.hash, media.extension))
