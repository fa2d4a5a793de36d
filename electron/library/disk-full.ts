import fs from 'node:fs'
import { Problem } from '../../shared-core/problem.ts'

/** Did it fail for want of room? The system says so by a code, ffmpeg in its own words. */
export const isDiskFull = (error: unknown): boolean =>
  (error as { code?: unknown } | null)?.code === 'ENOSPC' ||
  (error instanceof Problem && (error.code === 'disk-full' || /no space left/i.test(error.what)))

/** So little that SQLite can't even lay out the files beside its database, which it calls an I/O error. */
const noRoomBytes = 256 * 1024

/** Is there no room on the disk of this folder? */
export const hasNoRoom = (folder: string): boolean => {
  try {
    const { bavail, bsize } = fs.statfsSync(folder)
    return bavail * bsize < noRoomBytes
  } catch {
    return false
  }
}
