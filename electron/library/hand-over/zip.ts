import fs from 'node:fs'
import path from 'node:path'
import { once } from 'node:events'
import type { Readable, Writable } from 'node:stream'
import { pipeline } from 'node:stream/promises'
import yazl from 'yazl'

/** Files below a folder, by their path inside it, forward slashes. */
export const filesIn = (folder: string): string[] =>
  fs
    .readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => path.relative(folder, path.join(entry.parentPath, entry.name)).split(path.sep).join('/'))
    .toSorted()

const closed = async (stream: Readable | Writable) => {
  stream.destroy()
  if (!stream.closed) await once(stream, 'close').catch(() => {})
}

/**
 * Zips a folder under its own name. Clips and pictures are compressed already and are only stored. However it ends, no
 * file is open any more then, so that what was written can be taken away again on every system.
 */
export const zipFolder = async (folder: string, target: string, signal?: AbortSignal): Promise<void> => {
  const zip = new yazl.ZipFile()
  const root = path.basename(target, '.zip')
  const reading = new Set<Readable>()
  for (const name of filesIn(folder)) {
    const file = path.join(folder, name)
    const { mtime, mode, size } = fs.statSync(file)
    const compress = !/\.(mp4|jpe?g|png|pdf)$/i.test(name)
    zip.addReadStreamLazy(`${root}/${name}`, { mtime, mode, size, compress }, (give) => {
      const stream = fs.createReadStream(file)
      reading.add(stream)
      give(null, stream)
    })
  }
  zip.end()
  const output = zip.outputStream as Readable
  zip.on('error', (error) => output.destroy(error as Error))
  const written = fs.createWriteStream(target)
  try {
    await pipeline(output, written, { signal })
  } finally {
    await Promise.all([written, ...reading].map(closed))
  }
}
