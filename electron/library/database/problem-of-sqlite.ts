import { Problem } from '../../../shared-core/problem.ts'
import { hasNoRoom } from '../disk-full.ts'

/** What the database says when the machine fails it, in the coach's words; anything else as it is. */
export const problemOfSqlite = (error: unknown, folder: string): unknown => {
  const code = (error as { code?: unknown } | null)?.code
  if (typeof code !== 'string') return error
  const say = (name: string, what: string, toDo: string) =>
    new Problem(name, what, { where: folder, toDo, cause: error })
  const isOfDisk = /^(SQLITE_(IOERR|CANTOPEN)|EIO$)/.test(code)
  if (code === 'SQLITE_FULL' || code === 'ENOSPC' || (isOfDisk && hasNoRoom(folder))) {
    return say(
      'disk-full',
      'there is no room left on the disk of the library; this was not saved',
      'Free some disk space, then do it once more. Everything saved before is safe',
    )
  }
  if (isOfDisk) {
    return say(
      'library-disk',
      'the disk of the library can’t be read or written just now; this was not saved',
      'Check that the drive is connected, then do it once more. Everything saved before is safe',
    )
  }
  if (code.startsWith('SQLITE_READONLY')) {
    return say(
      'library-read-only',
      'the library can’t be written to; this was not saved',
      'Check the folder’s permissions',
    )
  }
  if (code.startsWith('SQLITE_BUSY')) {
    return say(
      'library-busy',
      'another program kept the library busy for too long; this was not saved',
      'Close the other program, then do it once more',
    )
  }
  if (code.startsWith('SQLITE_CORRUPT') || code === 'SQLITE_NOTADB') {
    return say(
      'library-damaged',
      'the library’s records are damaged; this was not saved',
      'Close Leadside, start it again and restore a backup',
    )
  }
  return error
}
