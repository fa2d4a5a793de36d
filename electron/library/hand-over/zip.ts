import fs from 'node:fs'
import path from 'node:path'
import { pipeline } from 'node:stream/promises'
import yazl from 'yazl'

/** Files below a folder, by their path inside it, forward slashes. */
export const filesIn = (folder: string): string[] =>
  fs
    .readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => path.relative(folder, path.join(entry.parentPath, entry.name)).split(path.sep).join('/'))
    .toSorted()

/** Zips a folder under its own name. Clips and pictures are compressed already and are only stored. */
export const zipFolder = async (folder: string, target: string, signal?: AbortSignal): Promise<void> => {
  const zip = new yazl.ZipFile()
  const root = path.basename(target, '.zip')
  for (const name of filesIn(folder)) {
    zip.addFile(path.join(folder, name), `${root}/${name}`, {
      compress: !/\.(mp4|jpe?g|png|pdf)$/i.test(name),
    })
  }
  zip.end()
  await pipeline(zip.outputStream, fs.createWriteStream(target), { signal })
}
