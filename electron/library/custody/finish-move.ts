import fs from 'node:fs'
import path from 'node:path'
import { databaseFile } from '../database/database-file.ts'
import { markBeside } from './mark.ts'

/** Every file below a folder, by its path from there. */
export const filesBelow = (folder: string): string[] =>
  fs
    .readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => path.relative(folder, path.join(entry.parentPath, entry.name)))

/** Where a library is put together before it stands at its new place. */
export const workOf = (to: string) => `${to}.moving`

/**
 * Whether the library that was being moved stands there.
 * @param id its own mark's; where it had none, any library is taken for it
 */
export const hasArrived = (to: string, id: string | undefined): boolean =>
  fs.existsSync(databaseFile(to)) && (!id || markBeside(to)?.id === id)

/**
 * After a move that was cut off: where the library has arrived, the old files go (those that arrived, each was compared);
 * where it has not, the half-made copy does. Another library that was put there meanwhile is left alone.
 */
export const finishMove = (from: string, to: string, id: string | undefined): void => {
  if (!hasArrived(to, id)) {
    fs.rmSync(workOf(to), { recursive: true, force: true })
    return
  }
  if (!fs.existsSync(from)) return
  let isLeft = false
  for (const name of filesBelow(from)) {
    const arrived = fs.statSync(path.join(to, name), { throwIfNoEntry: false })
    if (arrived?.size === fs.statSync(path.join(from, name)).size) fs.rmSync(path.join(from, name))
    else isLeft = true
  }
  if (!isLeft) fs.rmSync(from, { recursive: true, force: true })
}
