import { createHash } from 'node:crypto'
import fs from 'node:fs'
import { chmod, copyFile, stat } from 'node:fs/promises'
import { Problem } from '../../../shared-core/problem.ts'
import { Cancelled } from './run-ffmpeg.ts'

/** SHA-256 of a file, hexadecimal. */
export const hashOf = async (
  file: string,
  options: { signal?: AbortSignal; onProgress?: (share: number) => void } = {},
) => {
  const { size } = await stat(file)
  const hash = createHash('sha256')
  let done = 0
  for await (const chunk of fs.createReadStream(file, { highWaterMark: 1 << 20 })) {
    if (options.signal?.aborted) throw new Cancelled()
    hash.update(chunk as Buffer)
    done += (chunk as Buffer).length
    options.onProgress?.(size ? done / size : 1)
  }
  return hash.digest('hex')
}

/**
 * Copies a clip next to the library's own (sharing the blocks where the file system can).
 * @throws Problem `file-gone`, `file-empty`, `not-a-file`, `disk-full`, `not-readable`
 */
export const copyIn = async (file: string, target: string, clipName: string): Promise<number> => {
  try {
    const found = await stat(file)
    const { size } = found
    if (!found.isFile()) {
      throw new Problem(found.isDirectory() ? 'not-a-file.folder' : 'not-a-file.other', { where: clipName })
    }
    if (size === 0) {
      throw new Problem('file-empty', { where: clipName })
    }
    await copyFile(file, target, fs.constants.COPYFILE_FICLONE)
    // A write-protected original must not make a copy that can't be deleted again.
    await chmod(target, 0o600)
    return size
  } catch (error) {
    if (error instanceof Problem) throw error
    const code = (error as NodeJS.ErrnoException).code
    if (code === 'ENOENT') throw new Problem('file-gone', { where: clipName }, { cause: error })
    if (code === 'ENOSPC') throw new Problem('disk-full.clip', { where: clipName }, { cause: error })
    const reason = code ?? (error as Error).message
    throw new Problem('not-readable.file', { reason, where: clipName }, { cause: error })
  }
}
