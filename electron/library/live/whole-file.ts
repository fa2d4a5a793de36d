import { open } from 'node:fs/promises'
import path from 'node:path'

const boxed = new Set(['.mp4', '.mov', '.m4v', '.3gp'])

/**
 * What a file itself says of being all there; 'unknown' where its kind can't say, or it holds something behind its end. It is
 * opened in any case: one that another program holds can't be.
 * @throws the system's error if the file can't be opened or read
 */
export const wholeness = async (file: string): Promise<'whole' | 'half' | 'unknown'> => {
  const extension = path.extname(file).toLowerCase()
  if (boxed.has(extension)) return (await isWholeMp4(file)) ? 'whole' : 'half'
  const handle = await open(file, 'r')
  try {
    const { size } = await handle.stat()
    const head = Buffer.alloc(12)
    const last = Buffer.alloc(12)
    await handle.read(head, 0, 12, 0)
    await handle.read(last, 0, 12, Math.max(0, size - 12))
    // End of image (ITU-T T.81, B.1.1.3); the chunk IEND (PNG 3, 11.2.5); a RIFF file's length.
    if (/^\.jpe?g$/.test(extension)) return last.readUInt16BE(10) === 0xffd9 ? 'whole' : 'unknown'
    if (extension === '.png') return last.toString('latin1', 4, 8) === 'IEND' ? 'whole' : 'unknown'
    if (extension !== '.webp' || head.toString('latin1', 0, 4) !== 'RIFF') return 'unknown'
    const wanted = 8 + head.readUInt32LE(4)
    return size < wanted ? 'half' : size <= wanted + 1 ? 'whole' : 'unknown'
  } finally {
    await handle.close()
  }
}

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
