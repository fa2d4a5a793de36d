import { createHash } from 'node:crypto'
import fs from 'node:fs'
import { setImmediate as turn } from 'node:timers/promises'
import { deflateRawSync, inflateRawSync } from 'node:zlib'
import Database from 'better-sqlite3'
import { Problem } from '../../../shared-core/problem.ts'
import type { Sqlite } from '../database/open.ts'
import { Cancelled } from '../media/run-ffmpeg.ts'

/**
 * A backup is one file, itself a SQLite database: contents by their SHA-256, each kept once, and for each backup made into
 * it the list of files it consists of. So the next one to the same place adds only what is new, a cut-off one leaves the
 * others as they were, and a student can be deleted from all of them.
 */
export const backupFormat = 'leadside-backup'
export const backupVersion = 1
export const backupExtension = '.leadside-backup'

const chunkBytes = 4 * 1024 * 1024
const maxChunkBytes = 64 * 1024 * 1024

const layout = `
CREATE TABLE about (key TEXT PRIMARY KEY NOT NULL, value TEXT NOT NULL) STRICT;
CREATE TABLE content (hash TEXT PRIMARY KEY NOT NULL, byte_length INTEGER NOT NULL, is_deflated INTEGER NOT NULL) STRICT;
CREATE TABLE chunk (
  hash TEXT NOT NULL REFERENCES content (hash) ON DELETE CASCADE,
  position INTEGER NOT NULL,
  bytes BLOB NOT NULL,
  PRIMARY KEY (hash, position)
) STRICT;
CREATE TABLE snapshot (
  id TEXT PRIMARY KEY NOT NULL,
  made_at TEXT NOT NULL,
  schema_version INTEGER NOT NULL,
  students INTEGER NOT NULL,
  lessons INTEGER NOT NULL,
  clips INTEGER NOT NULL,
  byte_length INTEGER NOT NULL,
  is_verified INTEGER NOT NULL
) STRICT;
CREATE TABLE snapshot_file (
  snapshot_id TEXT NOT NULL REFERENCES snapshot (id) ON DELETE CASCADE,
  path TEXT NOT NULL,
  hash TEXT NOT NULL REFERENCES content (hash),
  byte_length INTEGER NOT NULL,
  modified_ms REAL NOT NULL,
  PRIMARY KEY (snapshot_id, path)
) STRICT;
CREATE INDEX file_of_content ON snapshot_file (hash);
`

export interface Snapshot {
  id: string
  madeAt: string
  schemaVersion: number
  students: number
  lessons: number
  clips: number
  byteLength: number
  isVerified: boolean
}
export interface SnapshotFile {
  path: string
  hash: string
  byteLength: number
  modifiedMs: number
}

const notABackup = (file: string, cause?: unknown) => new Problem('not-a-backup', { where: file }, { cause })

/** Paths a backup may hold, inside the library's folder: nothing that leaves it. */
export const isLibraryPath = (name: string): boolean =>
  /^(library\.sqlite|(clips|talk-throughs|coach-pictures|set-aside)\/[A-Za-z0-9][\w. -]{0,120})$/.test(
    name,
  ) && !name.includes('..')

/**
 * A program that was killed, or a drive that was pulled out, while a backup was written leaves SQLite's journal beside the file.
 * Until what was half-written is rolled back nobody may read it, and that needs the right to write.
 */
const rollBackCutOff = (file: string): void => {
  if (!fs.existsSync(file) || !fs.existsSync(`${file}-journal`)) return
  let sqlite: Sqlite | undefined
  try {
    sqlite = new Database(file, { fileMustExist: true, timeout: 10_000 })
    sqlite.prepare('SELECT count(*) FROM sqlite_schema').get()
  } catch (error) {
    if (!/^SQLITE_(READONLY|CANTOPEN|IOERR)/.test(String((error as { code?: unknown }).code))) return
    throw new Problem('backup-cut-off', { where: file }, { cause: error })
  } finally {
    sqlite?.close()
  }
}

export class BackupFile {
  readonly file: string
  readonly sqlite: Sqlite

  private constructor(file: string, sqlite: Sqlite) {
    this.file = file
    this.sqlite = sqlite
  }

  /** @throws Problem `not-a-backup`, `backup-newer`, `backup-cut-off` */
  static open(file: string, mode: 'read' | 'write' = 'read'): BackupFile {
    if (mode === 'read') rollBackCutOff(file)
    let sqlite: Sqlite | undefined
    try {
      if (!fs.existsSync(file)) throw notABackup(file)
      sqlite = new Database(file, { fileMustExist: true, timeout: 10_000, readonly: mode === 'read' })
      const about = new Map(
        (sqlite.prepare('SELECT key, value FROM about').all() as { key: string; value: string }[]).map(
          (row) => [row.key, row.value],
        ),
      )
      if (about.get('format') !== backupFormat) throw notABackup(file)
      if (Number(about.get('version')) > backupVersion) {
        throw new Problem('backup-newer.file', { where: file })
      }
      if (mode === 'write') BackupFile.#setUp(sqlite)
      return new BackupFile(file, sqlite)
    } catch (error) {
      sqlite?.close()
      throw error instanceof Problem ? error : notABackup(file, error)
    }
  }

  /** Opens the backups of this library in a file, making the file if there is none. */
  static forLibrary(file: string, libraryId: string): BackupFile {
    if (!fs.existsSync(file) || fs.statSync(file).size === 0) {
      const sqlite = new Database(file)
      try {
        fs.chmodSync(file, 0o600)
        BackupFile.#setUp(sqlite)
        sqlite
          .transaction(() => {
            sqlite.exec(layout)
            const put = sqlite.prepare('INSERT INTO about VALUES (?, ?)')
            put.run('format', backupFormat)
            put.run('version', String(backupVersion))
            put.run('library', libraryId)
          })
          .immediate()
      } finally {
        sqlite.close()
      }
    }
    return BackupFile.open(file, 'write')
  }

  static #setUp(sqlite: Sqlite) {
    // One file, also while it is written; what a cut-off left is rolled back by the next opening.
    sqlite.pragma('journal_mode = DELETE')
    sqlite.pragma('synchronous = FULL')
    sqlite.pragma('foreign_keys = ON')
    sqlite.pragma('secure_delete = ON')
  }

  get libraryId(): string {
    const row = this.sqlite.prepare(`SELECT value FROM about WHERE key = 'library'`).get() as {
      value: string
    }
    return row.value
  }

  /** Newest first. */
  snapshots(): Snapshot[] {
    const rows = this.sqlite
      .prepare(
        `SELECT id, made_at AS madeAt, schema_version AS schemaVersion, students, lessons, clips,
           byte_length AS byteLength, is_verified AS isVerified FROM snapshot ORDER BY made_at DESC, rowid DESC`,
      )
      .all() as (Omit<Snapshot, 'isVerified'> & { isVerified: number })[]
    return rows.map((row) => ({ ...row, isVerified: row.isVerified === 1 }))
  }

  files(snapshotId: string): SnapshotFile[] {
    return this.sqlite
      .prepare(
        `SELECT path, hash, byte_length AS byteLength, modified_ms AS modifiedMs FROM snapshot_file
         WHERE snapshot_id = ? ORDER BY path`,
      )
      .all(snapshotId) as SnapshotFile[]
  }

  has(hash: string): boolean {
    return this.sqlite.prepare('SELECT 1 FROM content WHERE hash = ?').get(hash) !== undefined
  }

  /**
   * Takes a file in unless its content is there already; the hash of what was read. The content comes as a whole or not
   * at all.
   */
  async take(
    file: string,
    options: { deflate?: boolean; signal?: AbortSignal; onBytes?: (bytes: number) => void } = {},
  ): Promise<string> {
    const { deflate = false, signal } = options
    const hash = await hashInTurns(file, signal)
    if (this.has(hash)) return hash
    const { sqlite } = this
    const handle = fs.openSync(file, 'r')
    sqlite.exec('BEGIN IMMEDIATE')
    try {
      const written = createHash('sha256')
      const buffer = Buffer.alloc(chunkBytes)
      const put = sqlite.prepare('INSERT INTO chunk VALUES (?, ?, ?)')
      sqlite
        .prepare('INSERT INTO content VALUES (?, ?, ?)')
        .run(hash, fs.fstatSync(handle).size, deflate ? 1 : 0)
      for (let n = 0; ; n += 1) {
        const length = fs.readSync(handle, buffer, 0, chunkBytes, null)
        if (length === 0) break
        const bytes = Buffer.from(buffer.subarray(0, length))
        written.update(bytes)
        put.run(hash, n, deflate ? deflateRawSync(bytes) : bytes)
        options.onBytes?.(length)
        await turn()
        if (signal?.aborted) throw new Cancelled()
      }
      if (written.digest('hex') !== hash) {
        throw new Problem('changed.file', { where: file })
      }
      sqlite.exec('COMMIT')
      return hash
    } finally {
      fs.closeSync(handle)
      if (sqlite.inTransaction) sqlite.exec('ROLLBACK')
    }
  }

  /** The content of a hash, piece by piece. @throws Problem `backup-damaged` if it is not what the hash says */
  async *read(hash: string): AsyncGenerator<Buffer> {
    const about = this.sqlite
      .prepare('SELECT byte_length AS byteLength, is_deflated AS isDeflated FROM content WHERE hash = ?')
      .get(hash) as { byteLength: number; isDeflated: number } | undefined
    const damaged = (cause?: unknown) => new Problem('backup-damaged.part', { where: this.file }, { cause })
    if (!about) throw damaged()
    const sum = createHash('sha256')
    const next = this.sqlite.prepare('SELECT bytes FROM chunk WHERE hash = ? AND position = ?')
    for (let n = 0; ; n += 1) {
      let bytes: Buffer
      try {
        const row = next.get(hash, n) as { bytes: Buffer } | undefined
        if (!row) break
        bytes = about.isDeflated ? inflateRawSync(row.bytes, { maxOutputLength: maxChunkBytes }) : row.bytes
      } catch (error) {
        throw damaged(error)
      }
      sum.update(bytes)
      yield bytes
      await turn()
    }
    if (sum.digest('hex') !== hash) throw damaged()
  }

  /** Reads a content without keeping it. */
  async verify(hash: string, signal?: AbortSignal): Promise<void> {
    for await (const bytes of this.read(hash)) {
      if (signal?.aborted) throw new Cancelled()
      void bytes
    }
  }

  async writeTo(hash: string, target: string, signal?: AbortSignal): Promise<number> {
    const handle = fs.openSync(target, 'wx', 0o600)
    let length = 0
    try {
      for await (const bytes of this.read(hash)) {
        if (signal?.aborted) throw new Cancelled()
        for (let at = 0; at < bytes.length; at += fs.writeSync(handle, bytes, at));
        length += bytes.length
      }
      fs.fsyncSync(handle)
      return length
    } finally {
      fs.closeSync(handle)
    }
  }

  addSnapshot(snapshot: Snapshot, files: readonly SnapshotFile[]) {
    const { sqlite } = this
    sqlite
      .transaction(() => {
        sqlite
          .prepare('INSERT INTO snapshot VALUES (?, ?, ?, ?, ?, ?, ?, ?)')
          .run(
            snapshot.id,
            snapshot.madeAt,
            snapshot.schemaVersion,
            snapshot.students,
            snapshot.lessons,
            snapshot.clips,
            snapshot.byteLength,
            snapshot.isVerified ? 1 : 0,
          )
        const put = sqlite.prepare('INSERT INTO snapshot_file VALUES (?, ?, ?, ?, ?)')
        for (const file of files) put.run(snapshot.id, file.path, file.hash, file.byteLength, file.modifiedMs)
      })
      .immediate()
  }

  setVerified(id: string) {
    this.sqlite.prepare('UPDATE snapshot SET is_verified = 1 WHERE id = ?').run(id)
  }

  /** Removes backups, and contents that none of those left consists of. */
  drop(ids: readonly string[]) {
    const { sqlite } = this
    sqlite
      .transaction(() => {
        const gone = sqlite.prepare('DELETE FROM snapshot WHERE id = ?')
        for (const id of ids) gone.run(id)
        this.dropUnused()
      })
      .immediate()
  }

  dropUnused() {
    this.sqlite.exec('DELETE FROM content WHERE hash NOT IN (SELECT hash FROM snapshot_file)')
  }

  /** The file's own order, by SQLite: 'ok' or what is wrong. */
  integrity(): string {
    return String(this.sqlite.pragma('integrity_check', { simple: true }))
  }

  close() {
    this.sqlite.close()
  }
}

/** SHA-256 of a file; other work gets its turn. */
const hashInTurns = async (file: string, signal?: AbortSignal): Promise<string> => {
  const sum = createHash('sha256')
  for await (const bytes of fs.createReadStream(file, { highWaterMark: 1 << 20 })) {
    if (signal?.aborted) throw new Cancelled()
    sum.update(bytes as Buffer)
  }
  return sum.digest('hex')
}
