import fs from 'node:fs'
import path from 'node:path'
import { Problem } from '../../../shared-core/problem.ts'
import { isDiskFull } from '../disk-full.ts'
import { isInUse } from '../process-registry.ts'
import { hashOf } from '../media/copy.ts'
import { Cancelled } from '../media/run-ffmpeg.ts'
import { filesBelow, workOf } from './finish-move.ts'

/** @throws Problem if a library can't be moved there */
export const assertMovable = (from: string, to: string): void => {
  const inside = path.relative(path.resolve(from), path.resolve(to))
  if (inside === '' || (!inside.startsWith('..') && !path.isAbsolute(inside))) {
    throw new Problem('same-place', { where: to })
  }
  if (fs.existsSync(to) && fs.readdirSync(to).length > 0) {
    throw new Problem('not-empty', { where: to })
  }
  if (isInUse(from)) {
    throw new Problem('library-in-use.moving', { where: from })
  }
}

/**
 * Moves a closed library to a folder that is not there yet, or is empty. On another disk it is copied, every file compared,
 * and only then the old folder goes.
 */
export const moveLibrary = async (
  from: string,
  to: string,
  say: (step: string, progress: number) => void = () => {},
  signal?: AbortSignal,
): Promise<true> => {
  assertMovable(from, to)
  const work = workOf(to)
  try {
    fs.mkdirSync(path.dirname(to), { recursive: true })
    if (fs.existsSync(to)) fs.rmdirSync(to)
    try {
      fs.renameSync(from, to)
      return true
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'EXDEV') throw error
    }
    fs.rmSync(work, { recursive: true, force: true })
    const files = filesBelow(from)
    for (const [i, name] of files.entries()) {
      if (signal?.aborted) throw new Cancelled()
      say('copying', i / files.length)
      const target = path.join(work, name)
      fs.mkdirSync(path.dirname(target), { recursive: true, mode: 0o700 })
      fs.copyFileSync(path.join(from, name), target)
      if ((await hashOf(target, { signal })) !== (await hashOf(path.join(from, name), { signal }))) {
        throw new Problem('move-differs', { where: name })
      }
    }
    fs.renameSync(work, to)
    fs.rmSync(from, { recursive: true, force: true })
    return true
  } catch (error) {
    fs.rmSync(work, { recursive: true, force: true })
    if (error instanceof Problem || error instanceof Cancelled) throw error
    const key = isDiskFull(error) ? 'disk-full.moving' : 'not-writable.moving'
    throw new Problem(key, { where: to }, { cause: error })
  }
}
