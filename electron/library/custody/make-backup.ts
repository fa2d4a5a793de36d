import { randomUUID } from 'node:crypto'
import fs from 'node:fs'
import path from 'node:path'
import Database from 'better-sqlite3'
import { z } from 'zod'
import { Problem } from '../../../shared-core/problem.ts'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'
import type { JobRun } from '../jobs/queue.ts'
import { isDiskFull } from '../media/disk-full.ts'
import { Cancelled } from '../media/run-ffmpeg.ts'
import { backupExtension, BackupFile, isLibraryPath, type SnapshotFile } from './backup-file.ts'
import { countOn } from './mark.ts'
import { migrationCopies } from './migration-copies.ts'
import { outdated } from './retention.ts'

const taskSchema = z.object({ folder: z.string() })

/** The file in `folder` that this library's backups go into. */
const backupFileIn = (folder: string, libraryId: string): string => {
  for (let n = 1; ; n += 1) {
    const file = path.join(folder, `Leadside${n === 1 ? '' : ` ${n}`}${backupExtension}`)
    if (!fs.existsSync(file) || fs.statSync(file).size === 0) return file
    try {
      const there = BackupFile.open(file)
      const isOurs = there.libraryId === libraryId
      there.close()
      if (isOurs) return file
    } catch {
      // Another's file, or a damaged one: it stays as it is, and ours gets another name.
    }
  }
}

/** Files of the library that a backup consists of; working copies are made again from the originals. */
const filesOf = (folder: string): string[] =>
  ['clips', 'talk-throughs', 'coach-pictures', 'set-aside'].flatMap((name) => {
    const inside = path.join(folder, name)
    if (!fs.existsSync(inside)) return []
    return fs
      .readdirSync(inside, { withFileTypes: true })
      .filter((entry) => entry.isFile() && !/\.(proxy\.mp4|part)$/.test(entry.name))
      .map((entry) => `${name}/${entry.name}`)
      .filter(isLibraryPath)
  })

const problemOf = (error: unknown, folder: string): unknown => {
  if (isDiskFull(error) || (error as { code?: unknown }).code === 'SQLITE_FULL') {
    return new Problem('disk-full', 'there is no room for the backup', {
      where: folder,
      toDo: 'Free some space there, or choose another folder. Earlier backups are as they were',
      cause: error,
    })
  }
  const code = String((error as { code?: unknown }).code ?? '')
  if (/^(SQLITE_(READONLY|CANTOPEN|IOERR|PERM)|EACCES|EPERM|EROFS|ENOENT|ENOTDIR|EIO)/.test(code)) {
    return new Problem(
      'not-writable',
      'the folder for the backup can’t be written to, or its drive is not there',
      {
        where: folder,
        toDo: 'Connect the drive, or choose another folder. Earlier backups are as they were',
        cause: error,
      },
    )
  }
  return error
}

/**
 * Makes a backup while the work goes on: the records as they are at one moment, every original and picture by its hash.
 * What was written is read back before the backup counts. The result is the file.
 */
export const makeBackup = async (context: LibraryContext, run: JobRun): Promise<string> => {
  const { folder: target } = taskSchema.parse(run.task)
  const { folder, sqlite, paths } = context
  const work = path.join(paths.incoming, run.id)
  let into: BackupFile | undefined
  try {
    fs.rmSync(work, { recursive: true, force: true })
    fs.mkdirSync(work, { recursive: true })
    fs.mkdirSync(target, { recursive: true })
    run.say('copying the records', 0)
    const mark = countOn(sqlite, folder)
    const copy = path.join(work, 'library.sqlite')
    await sqlite.backup(copy)
    const about = readCopy(copy)
    into = BackupFile.forLibrary(backupFileIn(target, mark.id), mark.id)
    const id = randomUUID()
    const before = new Map(
      (into.snapshots()[0] ? into.files(into.snapshots()[0]!.id) : []).map((f) => [f.path, f]),
    )
    const wanted = filesOf(folder)
    const sizes = wanted.map(
      (name) => fs.statSync(path.join(folder, name), { throwIfNoEntry: false })?.size ?? 0,
    )
    const total = sizes.reduce((sum, size) => sum + size, 1)
    let done = 0
    const files: SnapshotFile[] = []
    const fresh: string[] = []
    for (const [i, name] of wanted.entries()) {
      if (run.signal.aborted) throw new Cancelled()
      run.say('copying clips', 0.05 + (0.6 * done) / total)
      const file = path.join(folder, name)
      const found = fs.statSync(file, { throwIfNoEntry: false })
      done += sizes[i]!
      // Set aside or deleted meanwhile: the next backup has it right.
      if (!found) continue
      const known = before.get(name)
      const isSame =
        known !== undefined &&
        known.byteLength === found.size &&
        known.modifiedMs === found.mtimeMs &&
        into.has(known.hash)
      let hash = known?.hash ?? ''
      if (!isSame) {
        hash = await into.take(file, { signal: run.signal })
        fresh.push(hash)
      }
      files.push({ path: name, hash, byteLength: found.size, modifiedMs: found.mtimeMs })
    }
    run.say('keeping the records', 0.65)
    const databaseHash = await into.take(copy, { deflate: true, signal: run.signal })
    fresh.push(databaseHash)
    const { size, mtimeMs } = fs.statSync(copy)
    files.push({ path: 'library.sqlite', hash: databaseHash, byteLength: size, modifiedMs: mtimeMs })
    const madeAt = context.now().toISOString()
    into.addSnapshot(
      {
        id,
        madeAt,
        ...about,
        byteLength: files.reduce((sum, f) => sum + f.byteLength, 0),
        isVerified: false,
      },
      files,
    )
    for (const [i, hash] of fresh.entries()) {
      run.say('reading it back', 0.7 + (0.28 * i) / fresh.length)
      await into.verify(hash, run.signal)
    }
    const order = into.integrity()
    if (order !== 'ok') {
      throw new Problem('backup-damaged', `the backup could not be read back (${order})`, {
        where: into.file,
        toDo: 'Choose another folder; this drive may be failing',
      })
    }
    into.setVerified(id)
    into.drop(outdated(into.snapshots().filter((s) => s.isVerified)))
    const { file } = into
    context.db
      .insert(t.backup)
      .values({ id, file, madeAt, byteLength: fs.statSync(file).size })
      .run()
    // A good backup takes the place of copies that were made before a change of the records' form.
    for (const old of migrationCopies(folder)) fs.rmSync(old, { force: true })
    return file
  } catch (error) {
    if (run.signal.aborted) throw new Cancelled()
    throw problemOf(error, target)
  } finally {
    into?.close()
    fs.rmSync(work, { recursive: true, force: true })
  }
}

/** Looks through the copied records. @throws Problem if they are damaged */
const readCopy = (file: string) => {
  const copy = new Database(file)
  try {
    const order = String(copy.pragma('integrity_check', { simple: true }))
    if (order !== 'ok') {
      throw new Problem('library-damaged', `the library’s records are damaged (${order})`, {
        toDo: 'Restore an earlier backup; this one was not made',
      })
    }
    const count = (table: string) =>
      (copy.prepare(`SELECT count(*) AS n FROM ${table}`).get() as { n: number }).n
    // One file, without a log beside it.
    copy.pragma('journal_mode = DELETE')
    return {
      schemaVersion: Number(copy.pragma('user_version', { simple: true })),
      students: count('student'),
      lessons: count('lesson'),
      clips: count('media'),
    }
  } finally {
    copy.close()
  }
}
