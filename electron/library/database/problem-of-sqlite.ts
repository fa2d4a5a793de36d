import { Problem } from '../../../shared-core/problem.ts'
import { hasNoRoom } from '../disk-full.ts'

/** What the database says when the machine fails it, in the coach's words; anything else as it is. */
export const problemOfSqlite = (error: unknown, folder: string): unknown => {
  const code = (error as { code?: unknown } | null)?.code
  if (typeof code !== 'string') return error
  const say = (
    key:
      'disk-full.saving' | 'library-disk' | 'library-read-only' | 'library-busy' | 'library-damaged.saving',
  ) => new Problem(key, { where: folder }, { cause: error })
  const isOfDisk = /^(SQLITE_(IOERR|CANTOPEN)|EIO$)/.test(code)
  if (code === 'SQLITE_FULL' || code === 'ENOSPC' || (isOfDisk && hasNoRoom(folder))) {
    return say('disk-full.saving')
  }
  if (isOfDisk) {
    return say('library-disk')
  }
  if (code.startsWith('SQLITE_READONLY')) {
    return say('library-read-only')
  }
  if (code.startsWith('SQLITE_BUSY')) {
    return say('library-busy')
  }
  if (code.startsWith('SQLITE_CORRUPT') || code === 'SQLITE_NOTADB') {
    return say('library-damaged.saving')
  }
  return error
}
