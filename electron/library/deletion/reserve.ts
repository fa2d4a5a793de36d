import fs from 'node:fs'
import path from 'node:path'

/** Room that a deletion may need for its records on a disk that is otherwise full. */
const reserveBytes = 4 * 1024 * 1024

const reserveFile = (folder: string) => path.join(folder, 'reserve')

/** Keeps some room in the library's folder, as long as the disk has it, by a file that holds nothing. */
export const keepReserve = (folder: string) => {
  const file = reserveFile(folder)
  if (fs.statSync(file, { throwIfNoEntry: false })?.size === reserveBytes) return
  try {
    fs.writeFileSync(file, Buffer.alloc(reserveBytes))
  } catch {
    // No room for it now: tried again by the next opening.
    fs.rmSync(file, { force: true })
  }
}

export const giveReserve = (folder: string) => fs.rmSync(reserveFile(folder), { force: true })
