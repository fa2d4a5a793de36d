import fs from 'node:fs'
import path from 'node:path'
import Database from 'better-sqlite3'
import { Problem } from '../../../shared-core/problem.ts'
import { databaseFile } from '../database/database-file.ts'
import { isDiskFull } from '../disk-full.ts'
import { Cancelled } from '../media/run-ffmpeg.ts'
import { migrations } from '../migrations/index.ts'
import { isInUse, registerProcess, type Registration } from '../process-registry.ts'
import { BackupFile, isLibraryPath, type Snapshot } from './backup-file.ts'
import { countOn, markBeside } from './mark.ts'

export interface RestoreOptions {
  file: string
  /** Which of the backups in the file; null for the newest that was read back. */
  snapshotId: string | null
  /** Folder of the library afterwards. */
  folder: string
  now: Date
  signal?: AbortSignal
  say?: (step: string, progress: number) => void
}

const workOf = (folder: string) => `${folder}.restoring`
const completeMark = 'restored-whole'

/**
 * A restore that was cut off between putting the old library aside and the new one in its place is finished; what one that was
 * cut off before has left goes.
 */
export const finishRestore = (folder: string): void => {
  const work = workOf(folder)
  if (!fs.existsSync(work) || isInUse(work)) return
  if (fs.existsSync(folder) || !fs.existsSync(path.join(work, completeMark))) {
    fs.rmSync(work, { recursive: true, force: true })
    return
  }
  fs.renameSync(work, folder)
  fs.rmSync(path.join(folder, completeMark), { force: true })
}

const freeAside = (folder: string, now: Date): string => {
  const stamp = now.toISOString().slice(0, 16).replace('T', ' ').replace(':', '.')
  for (let n = 1; ; n += 1) {
    const candidate = `${folder} (set aside ${stamp}${n === 1 ? '' : `, ${n}`})`
    if (!fs.existsSync(candidate)) return candidate
  }
}

/**
 * Makes a library from a backup. It is built and checked beside the target and moved in at the end; a library that is there
 * is set aside, never overwritten.
 * @returns where the old library now lies, null if there was none
 */
export const restoreBackup = async (
  options: RestoreOptions,
): Promise<{ aside: string | null; snapshot: Snapshot }> => {
  const { folder, signal } = options
  const say = options.say ?? (() => {})
  const from = BackupFile.open(options.file)
  const work = workOf(folder)
  let registration: Registration | null = null
  try {
    const all = from.snapshots()
    const snapshot = options.snapshotId
      ? all.find((s) => s.id.startsWith(options.snapshotId!))
      : (all.find((s) => s.isVerified) ?? undefined)
    if (!snapshot) {
      throw new Problem('no-backup', { where: options.file })
    }
    if (snapshot.schemaVersion > migrations.length) {
      throw new Problem('backup-newer.snapshot', { where: options.file })
    }
    const isThere = fs.existsSync(folder) && fs.readdirSync(folder).length > 0
    if (isThere && !isLibrary(folder)) {
      throw new Problem('not-a-library.restoring', { where: folder })
    }
    if (isThere && isInUse(folder)) {
      throw new Problem('library-in-use.restoring', { where: folder })
    }
    fs.rmSync(work, { recursive: true, force: true })
    fs.mkdirSync(work, { recursive: true, mode: 0o700 })
    registration = registerProcess(work)
    const files = from.files(snapshot.id)
    let done = 0
    for (const { path: name, hash, byteLength } of files) {
      if (!isLibraryPath(name)) {
        throw new Problem('backup-damaged.outside', { where: options.file })
      }
      say('restoring', (0.9 * done) / Math.max(1, snapshot.byteLength))
      const target = path.join(work, name)
      fs.mkdirSync(path.dirname(target), { recursive: true, mode: 0o700 })
      await from.writeTo(hash, target, signal)
      done += byteLength
    }
    say('checking', 0.92)
    checkRestored(work, folder)
    fs.writeFileSync(path.join(work, completeMark), '')
    if (signal?.aborted) throw new Cancelled()
    registration.unregister()
    let aside: string | null = null
    if (isThere) {
      aside = freeAside(folder, options.now)
      fs.renameSync(folder, aside)
    } else if (fs.existsSync(folder)) fs.rmdirSync(folder)
    try {
      fs.renameSync(work, folder)
    } catch (error) {
      if (aside) fs.renameSync(aside, folder)
      throw error
    }
    fs.rmSync(path.join(folder, completeMark), { force: true })
    return { aside, snapshot }
  } catch (error) {
    if (signal?.aborted) throw new Cancelled()
    if (isDiskFull(error)) {
      throw new Problem('disk-full.restoring', { where: path.dirname(folder) })
    }
    throw error
  } finally {
    from.close()
    registration?.unregister()
    if (fs.existsSync(folder) || !fs.existsSync(path.join(work, completeMark))) {
      fs.rmSync(work, { recursive: true, force: true })
    }
  }
}

/** A folder that a Leadside library is, or was, in. */
const isLibrary = (folder: string): boolean =>
  fs.existsSync(databaseFile(folder)) ||
  markBeside(folder) !== null ||
  fs.existsSync(path.join(folder, 'clips'))

/** The records are in order, every clip of theirs is there; work that was under way then is not begun again. */
const checkRestored = (work: string, folder: string) => {
  const sqlite = new Database(databaseFile(work), { fileMustExist: true })
  try {
    const order = String(sqlite.pragma('integrity_check', { simple: true }))
    if (order !== 'ok') {
      throw new Problem('backup-damaged.records', { reason: order })
    }
    sqlite
      .prepare(`UPDATE job SET state = 'failed', problem = ? WHERE state IN ('waiting', 'running')`)
      .run(JSON.stringify(new Problem('cut-off.backup').body))
    const isMarked = sqlite.prepare(`SELECT 1 FROM sqlite_schema WHERE name = 'library_mark'`).get()
    if (isMarked) countOn(sqlite, work, markBeside(folder)?.sequence)
  } finally {
    sqlite.close()
  }
}
