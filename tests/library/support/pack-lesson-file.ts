import { createHash } from 'node:crypto'
import fs from 'node:fs'
import { buffer } from 'node:stream/consumers'
import type { Readable } from 'node:stream'
import yauzl from 'yauzl'
import yazl from 'yazl'
import { lessonFileVersion } from '../../../shared-core/exchange/lesson-file.ts'

export const sha256 = (bytes: Buffer) => createHash('sha256').update(bytes).digest('hex')

/** A lesson file taken apart, by the reader of zips alone. */
export const unpack = async (file: string) => {
  const zip = await yauzl.openPromise(file, { lazyEntries: true, autoClose: false })
  const files = new Map<string, Buffer>()
  for await (const entry of zip.eachEntry()) {
    files.set(entry.fileName, await buffer(await zip.openReadStreamPromise(entry)))
  }
  zip.close()
  const json = (name: string) => JSON.parse(files.get(name)!.toString()) as Record<string, unknown>
  const about = json('about.json')
  const records = json('lesson.json')
  files.delete('about.json')
  files.delete('lesson.json')
  return { about, records, files }
}

/** Packed again, with the records' hash made right, so that only what is meant is wrong. */
export const pack = async (
  file: string,
  parts: {
    about?: Record<string, unknown>
    records: unknown
    files: ReadonlyMap<string, Buffer>
    /** Packed as they are, whatever the records say. */
    compress?: boolean
  },
) => {
  const zip = new yazl.ZipFile()
  const records = Buffer.from(
    typeof parts.records === 'string' ? parts.records : JSON.stringify(parts.records),
  )
  const about = {
    format: 'leadside-lesson-file',
    version: lessonFileVersion,
    id: 'made-by-a-test',
    records: { sha256: sha256(records), byteLength: records.length },
    ...parts.about,
  }
  zip.addBuffer(Buffer.from(JSON.stringify(about)), 'about.json', { compress: false })
  zip.addBuffer(records, 'lesson.json')
  for (const [name, bytes] of parts.files) zip.addBuffer(bytes, name, { compress: parts.compress ?? false })
  zip.end()
  fs.writeFileSync(file, await buffer(zip.outputStream as Readable))
  return file
}
