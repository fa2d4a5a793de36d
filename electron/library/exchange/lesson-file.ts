import { createHash } from 'node:crypto'
import { once } from 'node:events'
import fs from 'node:fs'
import type { Readable } from 'node:stream'
import { pipeline } from 'node:stream/promises'
import yauzl from 'yauzl'
import yazl from 'yazl'
import type { z } from 'zod'
import {
  aboutHeadSchema,
  aboutSchema,
  filesInside,
  lessonFileFormat,
  inPresentNames,
  lessonFileVersion,
  lessonRecordsSchema,
  type FileInside,
  type LessonRecords,
} from '../../../shared-core/exchange/lesson-file.ts'
import { faultOf } from '../../../shared-core/exchange/faults.ts'
import { Problem } from '../../../shared-core/problem.ts'
import { Cancelled } from '../media/run-ffmpeg.ts'
import { phrase, type Word } from '../../../shared-core/wording/phrase.ts'

/**
 * The container of a lesson file: a zip of `about.json` (form, version, the records' hash), `lesson.json` (the records) and
 * the files that the records name, each under its SHA-256, films stored as they are. So every byte that is taken in is
 * held by a hash, and a film can be got out of it without Leadside.
 */
const aboutName = 'about.json'
const recordsName = 'lesson.json'
const maxAboutBytes = 10_000
/** Records of some 2,000 lessons; what is larger is refused before it is read. */
const maxRecordBytes = 192 * 2 ** 20
const maxEntries = 50_000

const sha256 = (bytes: Buffer) => createHash('sha256').update(bytes).digest('hex')

const notOne = (file: string, cause?: unknown) => new Problem('not-a-lesson-file', { where: file }, { cause })
export const damagedFile = (file: string, fault: Word, cause?: unknown) =>
  new Problem('lesson-file-damaged', { fault, where: file }, { cause })

const firstIssue = (error: z.ZodError): Word => {
  const { path, message } = error.issues[0]!
  const place = path.map(String).join('.').slice(0, 120) || 'records'
  // The schema library speaks of types; our own reasons are words.
  const fault = /^(Invalid|Too|Unrecognized)/.test(message)
    ? phrase('fault.notAsItShouldBe')
    : message.slice(0, 200)
  return phrase('fault.at', { place, fault })
}

/** Where the content of a file lies, and how the coach knows it. */
export interface Source {
  at: string | Buffer
  name: string
}

const notAsTaken = (name: string) => new Problem('clip-damaged', { where: name })

/**
 * Writes a lesson file.
 * @throws Problem `clip-damaged` if a film is not what its hash says; Cancelled
 */
export const writeLessonFile = async (
  target: string,
  id: string,
  records: LessonRecords,
  source: (inside: FileInside) => Source,
  options: { signal: AbortSignal; onBytes: (bytes: number, total: number) => void },
): Promise<void> => {
  const bytes = Buffer.from(JSON.stringify(records))
  const about = {
    format: lessonFileFormat,
    version: lessonFileVersion,
    id,
    records: { sha256: sha256(bytes), byteLength: bytes.length },
  }
  const zip = new yazl.ZipFile()
  const mtime = new Date(records.writtenAt)
  zip.addBuffer(Buffer.from(JSON.stringify(about)), aboutName, { mtime, compress: false })
  zip.addBuffer(bytes, recordsName, { mtime })
  const files = filesInside(records)
  const total = files.reduce((sum, { byteLength }) => sum + byteLength, 1)
  let done = 0
  const reading = new Set<Readable>()
  const output = zip.outputStream as Readable
  for (const inside of files) {
    const { byteLength } = inside
    const { at, name } = source(inside)
    if (typeof at !== 'string') {
      zip.addBuffer(at, inside.path, { mtime, compress: false })
      continue
    }
    if (fs.statSync(at, { throwIfNoEntry: false })?.size !== byteLength) throw notAsTaken(name)
    zip.addReadStreamLazy(inside.path, { mtime, size: byteLength, compress: false }, (give) => {
      const stream = fs.createReadStream(at, { highWaterMark: 1 << 20 })
      const sum = createHash('sha256')
      reading.add(stream)
      stream.on('data', (chunk) => {
        sum.update(chunk)
        done += chunk.length
        options.onBytes(done, total)
      })
      stream.on('end', () => {
        reading.delete(stream)
        if (sum.digest('hex') !== inside.sha256) output.destroy(notAsTaken(name))
      })
      stream.on('error', (error) => output.destroy(error))
      give(null, stream)
    })
  }
  zip.on('error', (error) => output.destroy(error as Error))
  zip.end()
  const written = fs.createWriteStream(target, { mode: 0o600, flush: true })
  try {
    await pipeline(output, written, { signal: options.signal })
  } catch (error) {
    if (options.signal.aborted) throw new Cancelled()
    throw error
  } finally {
    for (const stream of reading) stream.destroy()
    if (!written.closed) await once(written.destroy(), 'close').catch(() => {})
  }
}

/** A lesson file from outside, as far as it can be trusted: the records are read and right, the files are named by them. */
export class LessonFile {
  readonly file: string
  readonly id: string
  readonly records: LessonRecords
  readonly files: readonly FileInside[]
  readonly #zip: yauzl.ZipFile
  readonly #entries: ReadonlyMap<string, yauzl.Entry>

  private constructor(
    file: string,
    id: string,
    records: LessonRecords,
    zip: yauzl.ZipFile,
    entries: ReadonlyMap<string, yauzl.Entry>,
  ) {
    this.file = file
    this.id = id
    this.records = records
    this.files = filesInside(records)
    this.#zip = zip
    this.#entries = entries
  }

  /** @throws Problem `no-file`, `not-a-lesson-file`, `lesson-file-newer`, `lesson-file-damaged` */
  static async open(file: string): Promise<LessonFile> {
    const found = fs.statSync(file, { throwIfNoEntry: false })
    if (!found?.isFile()) {
      throw new Problem('no-file.lessonFile', { where: file })
    }
    let zip: yauzl.ZipFile | undefined
    try {
      zip = await yauzl.openPromise(file, { autoClose: false, lazyEntries: true, strictFileNames: true })
      const entries = await entriesOf(zip, file)
      const { id, version, records: named } = await readAbout(zip, entries, file)
      const bytes = await bytesOf(zip, entries.get(recordsName), maxRecordBytes, file)
      if (bytes.length !== named.byteLength || sha256(bytes) !== named.sha256) {
        throw damagedFile(file, phrase('fault.recordsChanged'))
      }
      const parsed = lessonRecordsSchema.safeParse(jsonOf(bytes, file, version))
      if (!parsed.success) throw damagedFile(file, firstIssue(parsed.error))
      const fault = faultOf(parsed.data)
      if (fault !== null) throw damagedFile(file, { phrase: fault, values: {} })
      checkNames(parsed.data, entries, found.size, file)
      return new LessonFile(file, id, parsed.data, zip, entries)
    } catch (error) {
      zip?.close()
      throw error instanceof Problem ? error : notOne(file, error)
    }
  }

  /**
   * Reads one of the files and compares it with its hash; keeps it if a target is given.
   * @throws Problem `lesson-file-damaged`; Cancelled; an error of the file system from writing
   */
  async take(inside: FileInside, target: string | null, signal?: AbortSignal): Promise<void> {
    const entry = this.#entries.get(inside.path)!
    const handle = target === null ? null : fs.openSync(target, 'wx', 0o600)
    const sum = createHash('sha256')
    const wrong = (cause?: unknown) =>
      damagedFile(this.file, phrase('fault.fileChanged', { file: inside.path }), cause)
    try {
      let stream: Readable
      try {
        stream = await this.#zip.openReadStreamPromise(entry)
      } catch (error) {
        throw wrong(error)
      }
      try {
        for await (const chunk of stream as AsyncIterable<Buffer>) {
          if (signal?.aborted) throw new Cancelled()
          sum.update(chunk)
          if (handle !== null) {
            for (let n = 0; n < chunk.length; n += fs.writeSync(handle, chunk, n));
          }
        }
      } catch (error) {
        const { syscall } = error as NodeJS.ErrnoException
        throw error instanceof Cancelled || syscall === 'write' ? error : wrong(error)
      } finally {
        stream.destroy()
      }
      if (sum.digest('hex') !== inside.sha256) throw wrong()
      if (handle !== null) fs.fsyncSync(handle)
    } finally {
      if (handle !== null) fs.closeSync(handle)
    }
  }

  close() {
    this.#zip.close()
  }
}

/** All entries by name; names that lead elsewhere are refused by the reader, doubles and encrypted ones here. */
const entriesOf = async (zip: yauzl.ZipFile, file: string) => {
  const entries = new Map<string, yauzl.Entry>()
  for await (const entry of zip.eachEntry()) {
    if (entries.size >= maxEntries) throw damagedFile(file, phrase('fault.tooManyFiles'))
    if (entries.has(entry.fileName)) throw damagedFile(file, phrase('fault.sameNameTwice'))
    if (!entry.canDecodeFileData()) throw damagedFile(file, phrase('fault.unreadableFile'))
    entries.set(entry.fileName, entry)
  }
  return entries
}

const bytesOf = async (
  zip: yauzl.ZipFile,
  entry: yauzl.Entry | undefined,
  most: number,
  file: string,
): Promise<Buffer> => {
  if (!entry) throw notOne(file)
  if (entry.uncompressedSize > most) throw damagedFile(file, phrase('fault.recordsTooLarge'))
  const parts: Buffer[] = []
  let length = 0
  const stream = await zip.openReadStreamPromise(entry)
  try {
    for await (const part of stream as AsyncIterable<Buffer>) {
      length += part.length
      if (length > most) throw damagedFile(file, phrase('fault.recordsTooLarge'))
      parts.push(part)
    }
  } finally {
    stream.destroy()
  }
  return Buffer.concat(parts)
}

const jsonOf = (bytes: Buffer, file: string, version = lessonFileVersion): unknown => {
  try {
    return JSON.parse(inPresentNames(new TextDecoder('utf-8', { fatal: true }).decode(bytes), version))
  } catch (error) {
    throw damagedFile(file, phrase('fault.recordsUnreadable'), error)
  }
}

const readAbout = async (zip: yauzl.ZipFile, entries: ReadonlyMap<string, yauzl.Entry>, file: string) => {
  const json = jsonOf(await bytesOf(zip, entries.get(aboutName), maxAboutBytes, file), file)
  const head = aboutHeadSchema.safeParse(json)
  if (!head.success) throw notOne(file)
  if (head.data.version > lessonFileVersion) {
    throw new Problem('lesson-file-newer', {
      found: head.data.version,
      newest: lessonFileVersion,
      where: file,
    })
  }
  const about = aboutSchema.safeParse(json)
  if (!about.success) throw damagedFile(file, firstIssue(about.error))
  return about.data
}

/** The files are exactly those that the records name, stored as they are, and together no larger than the whole. */
const checkNames = (
  records: LessonRecords,
  entries: ReadonlyMap<string, yauzl.Entry>,
  size: number,
  file: string,
) => {
  const files = filesInside(records)
  const names = new Set([aboutName, recordsName, ...files.map((f) => f.path)])
  for (const name of entries.keys()) {
    if (!names.has(name)) throw damagedFile(file, phrase('fault.unnamedFile'))
  }
  let total = 0
  for (const { path, byteLength } of files) {
    const entry = entries.get(path)
    if (!entry) throw damagedFile(file, phrase('fault.fileMissing', { file: path }))
    if (entry.compressionMethod !== 0 || entry.uncompressedSize !== byteLength) {
      throw damagedFile(file, phrase('fault.fileSize', { file: path }))
    }
    total += byteLength
  }
  if (total > size) throw damagedFile(file, phrase('fault.filesInEachOther'))
}
