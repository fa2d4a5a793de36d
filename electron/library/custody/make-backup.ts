import { randomUUID } from 'node:crypto'
import fs from 'node:fs'
import path from 'node:path'
import Database from 'better-sqlite3'
import { isNotNull } from 'drizzle-orm'
import { z } from 'zod'
import { deletionPlanSchema } from '../deletion/plan.ts'
import { Problem } from '../../../shared-core/problem.ts'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'
import type { JobRun } from '../jobs/queue.ts'
import { isDiskFull } from '../disk-full.ts'
import { Cancelled } from '../media/run-ffmpeg.ts'
import { backupExtension, BackupFile, isLibraryPath, type SnapshotFile } from './backup-file.ts'
import { countOn } from './mark.ts'
import { migrationCopies } from './migration-copies.ts'
import { outdated } from './retention.ts'
import { phrase } from '../../../shared-core/wording/phrase.ts'

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
      // One that was cut off while it was begun is empty again, now that its beginning is rolled back.
      if (fs.statSync(file).size === 0) return file
      // Another's file, or a damaged one: it stays as it is, and ours gets another name.
    }
  }
}

/** A deletion that comes while a backup is written makes it begin anew; so often at most. */
const maxAttempts = 3

const deletionsSoFar = ({ sqlite }: LibraryContext): number =>
  (sqlite.prepare('SELECT count(*) AS n FROM deletion').get() as { n: number }).n

/** Beginnings of the names of files that are about to go, where a deletion could not yet finish. */
const aboutToGo = ({ db }: LibraryContext): Set<string> =>
  new Set(
    db
      .select({ plan: t.deletion.plan })
      .from(t.deletion)
      .where(isNotNull(t.deletion.plan))
      .all()
      .map(({ plan }) => deletionPlanSchema.parse(plan))
      .flatMap(({ hashes, talkIds, pictureIds }) => [...hashes, ...talkIds, ...pictureIds]),
  )

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
    return new Problem('disk-full.backup', { where: folder }, { cause: error })
  }
  const code = String((error as { code?: unknown }).code ?? '')
  if (/^(SQLITE_(READONLY|CANTOPEN|IOERR|PERM)|EACCES|EPERM|EROFS|ENOENT|ENOTDIR|EEXIST|EIO)/.test(code)) {
    return new Problem('not-writable.backup', { where: folder }, { cause: error })
  }
  return error
}

/**
 * Makes a backup while the work goes on: the records as they are at one moment, every original and picture by its hash.
 * What was written is read back before the backup counts; one that a deletion came into does not count. The result is the
 * file.
 */
export const makeBackup = async (context: LibraryContext, run: JobRun): Promise<string> => {
  const { folder: target } = taskSchema.parse(run.task)
  const work = path.join(context.paths.incoming, run.id)
  try {
    for (let attempt = 1; attempt <= maxAttempts; attempt += 1) {
      fs.rmSync(work, { recursive: true, force: true })
      fs.mkdirSync(work, { recursive: true })
      fs.mkdirSync(target, { recursive: true })
      const file = await backUp(context, run, target, work)
      if (file !== null) return file
    }
    throw new Problem('changed.library')
  } catch (error) {
    if (run.signal.aborted) throw new Cancelled()
    throw problemOf(error, target)
  } finally {
    fs.rmSync(work, { recursive: true, force: true })
  }
}

/** The file, or null if something was deleted for good meanwhile: then nothing of it stays in the file. */
const backUp = async (
  context: LibraryContext,
  run: JobRun,
  target: string,
  work: string,
): Promise<string | null> => {
  const { folder, sqlite } = context
  let into: BackupFile | undefined
  const id = randomUUID()
  try {
    run.say(phrase('step.copyingRecords'), 0)
    const deletions = deletionsSoFar(context)
    const mark = countOn(sqlite, folder)
    const copy = path.join(work, 'library.sqlite')
    await sqlite.backup(copy)
    const about = readCopy(copy)
    into = BackupFile.forLibrary(backupFileIn(target, mark.id), mark.id)
    // What a kill left half-made in the file; it may hold what was deleted since.
    into.drop(unfinishedIn(into))
    const before = new Map(
      (into.snapshots()[0] ? into.files(into.snapshots()[0]!.id) : []).map((f) => [f.path, f]),
    )
    const going = aboutToGo(context)
    const wanted = filesOf(folder).filter((name) => !going.has(path.basename(name).split('.')[0]!))
    const sizes = wanted.map(
      (name) => fs.statSync(path.join(folder, name), { throwIfNoEntry: false })?.size ?? 0,
    )
    const total = sizes.reduce((sum, size) => sum + size, 1)
    let done = 0
    const files: SnapshotFile[] = []
    const fresh: string[] = []
    for (const [i, name] of wanted.entries()) {
      if (run.signal.aborted) throw new Cancelled()
      run.say(phrase('step.copyingClips'), 0.05 + (0.6 * done) / total)
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
    if (deletionsSoFar(context) !== deletions) return null
    run.say(phrase('step.keepingRecords'), 0.65)
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
      run.say(phrase('step.readingBack'), 0.7 + (0.28 * i) / fresh.length)
      await into.verify(hash, run.signal)
    }
    const order = into.integrity()
    if (order !== 'ok') {
      throw new Problem('backup-damaged.readBack', { reason: order, where: into.file })
    }
    const { file } = into
    // In one step against every process: a deletion either sees this backup, or is seen here.
    const isKept = sqlite
      .transaction(() => {
        if (deletionsSoFar(context) !== deletions || !unfinishedIn(into!).includes(id)) return false
        context.db
          .insert(t.backup)
          .values({ id, file, madeAt, byteLength: fs.statSync(file).size })
          .run()
        return true
      })
      .immediate()
    if (!isKept) return null
    into.setVerified(id)
    into.drop(outdated(into.snapshots().filter((s) => s.isVerified)))
    // A good backup takes the place of copies that were made before a change of the records' form.
    for (const old of migrationCopies(folder)) fs.rmSync(old, { force: true })
    return file
  } catch (error) {
    // The copy was written anew without what was deleted, while it was read.
    if (error instanceof Problem && error.code === 'changed') return null
    throw error
  } finally {
    dropUnfinished(into, id)
    into?.close()
  }
}

const unfinishedIn = (into: BackupFile): string[] =>
  into
    .snapshots()
    .filter((s) => !s.isVerified)
    .map((s) => s.id)

/** What was taken in for a backup that did not come about must not stay: nobody would delete from it. */
const dropUnfinished = (into: BackupFile | undefined, id: string) => {
  try {
    into?.drop(unfinishedIn(into).filter((unfinished) => unfinished === id))
  } catch {
    // The drive is gone or full; the next backup to it begins with what is left.
  }
}

/** Looks through the copied records. @throws Problem if they are damaged */
const readCopy = (file: string) => {
  const copy = new Database(file)
  try {
    const order = String(copy.pragma('integrity_check', { simple: true }))
    if (order !== 'ok') {
      throw new Problem('library-damaged.backup', { reason: order })
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
