import { open } from 'node:fs/promises'
import path from 'node:path'

const boxed = new Set(['.mp4', '.mov', '.m4v', '.3gp'])

/** True if the kind of file says itself whether it is all there. */
export const tellsItsLength = (file: string): boolean => boxed.has(path.extname(file).toLowerCase())

/**
 * Whether an MP4 or MOV is all there: its boxes fill the file to the last byte, and the index (`moov`), which cameras write
 * last, is among them (ISO/IEC 14496-12, 4.2). Reads a few bytes a box.
 * @throws the system's error if the file can't be opened or read
 */
export const isWholeMp4 = async (file: string): Promise<boolean> => {
  const handle = await open(file, 'r')
  try {
    const { size } = await handle.stat()
    const head = Buffer.alloc(16)
    let hasIndex = false
    let at = 0
    while (at + 8 <= size) {
      const { bytesRead } = await handle.read(head, 0, 16, at)
      if (bytesRead < 8) return false
      const kind = head.toString('latin1', 4, 8)
      let length = head.readUInt32BE(0)
      if (length === 1) length = bytesRead < 16 ? 0 : Number(head.readBigUInt64BE(8))
      // "To the end of the file" is what a writer says that has not finished.
      if (length < 8 || !/^[\x20-\x7e\xa9]{4}$/.test(kind)) return false
      if (kind === 'moov') hasIndex = true
      at += length
    }
    return hasIndex && at === size
  } finally {
    await handle.close()
  }
}

/** Whether a text file ends with a line that is complete. @throws the system's error */
export const endsWithLine = async (file: string, size: number): Promise<boolean> => {
  if (size === 0) return false
  const handle = await open(file, 'r')
  try {
    const last = Buffer.alloc(1)
    await handle.read(last, 0, 1, size - 1)
    return last[0] === 0x0a || last[0] === 0x0d
  } finally {
    await handle.close()
  }
}
