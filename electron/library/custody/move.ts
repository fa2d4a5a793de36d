import fs from 'node:fs'
import path from 'node:path'
import { Problem } from '../../../shared-core/problem.ts'
import { isDiskFull } from '../disk-full.ts'
import { anyoneIn } from '../presence.ts'
import { hashOf } from '../media/copy.ts'
import { Cancelled } from '../media/run-ffmpeg.ts'

const filesBelow = (folder: string): string[] =>
  fs
    .readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => path.relative(folder, path.join(entry.parentPath, entry.name)))

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
  const inside = path.relative(path.resolve(from), path.resolve(to))
  if (inside === '' || (!inside.startsWith('..') && !path.isAbsolute(inside))) {
    throw new Problem('same-place', 'this is where the library is already', {
      where: to,
      toDo: 'Choose a folder outside it',
    })
  }
  if (fs.existsSync(to) && fs.readdirSync(to).length > 0) {
    throw new Problem('not-empty', 'this folder is not empty', {
      where: to,
      toDo: 'Choose or make an empty one',
    })
  }
  if (anyoneIn(from)) {
    throw new Problem('library-in-use', 'this library is open in another Leadside', {
      where: from,
      toDo: 'Close it there, then move it',
    })
  }
  const work = `${to}.moving`
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
        throw new Problem('move-differs', 'a file came out different on the other disk', {
          where: name,
          toDo: 'Choose another disk; the library is where it was',
        })
      }
    }
    fs.renameSync(work, to)
    fs.rmSync(from, { recursive: true, force: true })
    return true
  } catch (error) {
    fs.rmSync(work, { recursive: true, force: true })
    if (error instanceof Problem || error instanceof Cancelled) throw error
    throw new Problem(
      isDiskFull(error) ? 'disk-full' : 'not-writable',
      isDiskFull(error) ? 'there is no room for the library there' : 'the library can’t be put there',
      { where: to, toDo: 'Choose another folder; the library is where it was', cause: error },
    )
  }
}
