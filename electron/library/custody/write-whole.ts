import { randomUUID } from 'node:crypto'
import fs from 'node:fs'

/** Writes a small file so that it is there as before or as a whole, whatever happens meanwhile. */
export const writeWhole = (file: string, text: string): void => {
  const part = `${file}.${randomUUID().slice(0, 8)}.part`
  try {
    const handle = fs.openSync(part, 'w')
    try {
      fs.writeFileSync(handle, text)
      fs.fsyncSync(handle)
    } finally {
      fs.closeSync(handle)
    }
    fs.renameSync(part, file)
  } catch (error) {
    fs.rmSync(part, { force: true })
    throw error
  }
}
