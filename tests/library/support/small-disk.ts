import { execFileSync } from 'node:child_process'
import fs from 'node:fs'
import path from 'node:path'
import { temporaryFolder } from './temporary-library.ts'

/** A disk of its own, a few megabytes in memory, that can be filled to the last byte. */
export interface SmallDisk {
  folder: string
  /** Bytes that are still free. */
  free: () => number
  /** Fills it until so much is free (to the page, 4 KiB). */
  fillTo: (freeBytes: number) => void
  /** Takes the filling away. */
  relieve: () => void
  /** Unmounts it; what was on it is gone. */
  remove: () => void
}

/** Mounts one; a string says why it can't be. */
export const smallDisk = (megabytes: number): SmallDisk | string => {
  const folder = temporaryFolder()
  try {
    execFileSync('mount', ['-t', 'tmpfs', '-o', `size=${megabytes}m,mode=0700`, 'tmpfs', folder], {
      stdio: 'pipe',
    })
  } catch (error) {
    fs.rmdirSync(folder)
    return `no small disk can be mounted here (${String((error as { stderr?: unknown }).stderr ?? error).trim()})`
  }
  const ballast = path.join(folder, '.filling')
  const free = () => {
    const { bavail, bsize } = fs.statfsSync(folder)
    return bavail * bsize
  }
  const relieve = () => fs.rmSync(ballast, { force: true })
  const fillTo = (freeBytes: number) => {
    relieve()
    const file = fs.openSync(ballast, 'w')
    try {
      const block = Buffer.alloc(4096)
      for (let left = free() - freeBytes; left > 0; left -= block.length) fs.writeSync(file, block)
    } catch (error) {
      // Filled to the brim.
      if ((error as NodeJS.ErrnoException).code !== 'ENOSPC') throw error
    } finally {
      fs.closeSync(file)
    }
  }
  return {
    folder,
    free,
    fillTo,
    relieve,
    remove: () => {
      execFileSync('umount', ['-l', folder])
      fs.rmdirSync(folder)
    },
  }
}
