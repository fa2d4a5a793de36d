import fs from 'node:fs'
import path from 'node:path'
import Database from 'better-sqlite3'
import { drizzle } from 'drizzle-orm/better-sqlite3'
import { Problem } from '../../../shared-core/problem.ts'
import { hasNoRoom, isDiskFull } from '../disk-full.ts'
import { databaseFile } from './database-file.ts'
import { migrations as shippedSteps, type Migration } from '../migrations/index.ts'
import * as schema from './schema.ts'

export type Sqlite = Database.Database
export type Db = ReturnType<typeof typed>

const typed = (sqlite: Sqlite) => drizzle(sqlite, { schema })

/** A write waits this long for another process's; each of those takes milliseconds. */
const busyMs = 20_000

const setUp = (sqlite: Sqlite) => {
  // First of all: several processes may open one library at the same moment, and each waits for the others.
  sqlite.pragma(`busy_timeout = ${busyMs}`)
  sqlite.pragma('journal_mode = WAL')
  // What was acknowledged is on the disk: a power cut takes nothing back. Costs 0.1 to 5 ms an edit, by the disk.
  sqlite.pragma('synchronous = FULL')
  sqlite.pragma('foreign_keys = ON')
  // Deleted rows of a student must not stay readable in free pages.
  sqlite.pragma('secure_delete = ON')
}

const userVersion = (sqlite: Sqlite) => Number(sqlite.pragma('user_version', { simple: true }))

/** Brings a database to the newest step, each step and its number in one transaction. */
export const migrate = (sqlite: Sqlite, steps: readonly Migration[]) => {
  steps.forEach((step, index) => {
    if (step.version !== index + 1) throw new Error(`migration ${step.name} is out of order`)
  })
  for (const step of steps.slice(userVersion(sqlite))) {
    sqlite
      .transaction(() => {
        // Another process may have taken the step while this one waited.
        if (userVersion(sqlite) >= step.version) return
        sqlite.exec(step.sql)
        sqlite.pragma(`user_version = ${step.version}`)
      })
      .immediate()
  }
}

/**
 * Opens `folder/library.sqlite`, creating it if there is none.
 * A library of a newer program is refused; an older one is copied aside (`library.before-N.sqlite`) and migrated.
 * @throws Problem `library-unreadable`, `library-newer`, `disk-full`
 */
export const openDatabase = (folder: string, steps: readonly Migration[] = shippedSteps) => {
  const file = databaseFile(folder)
  const newest = steps.length
  let sqlite: Sqlite | undefined
  try {
    fs.mkdirSync(folder, { recursive: true })
    sqlite = new Database(file)
    setUp(sqlite)
    const found = userVersion(sqlite)
    if (found > newest) {
      throw new Problem('library-newer', { found, newest, where: file })
    }
    if (found > 0 && found < newest) {
      const backup = path.join(folder, `library.before-${newest}.sqlite`)
      sqlite.prepare('VACUUM INTO ?').run(freeName(backup))
    }
    migrate(sqlite, steps)
    return { sqlite, db: typed(sqlite) }
  } catch (error) {
    sqlite?.close()
    if (error instanceof Problem) throw error
    if (isDiskFull(error) || (error as { code?: unknown }).code === 'SQLITE_FULL' || hasNoRoom(folder)) {
      throw new Problem('disk-full.opening', { where: folder }, { cause: error })
    }
    throw new Problem(
      'library-unreadable',
      { reason: (error as Error).message, where: file },
      { cause: error },
    )
  }
}

const freeName = (file: string): string => {
  if (!fs.existsSync(file)) return file
  const { dir, name, ext } = path.parse(file)
  for (let n = 2; ; n += 1) {
    const candidate = path.join(dir, `${name}-${n}${ext}`)
    if (!fs.existsSync(candidate)) return candidate
  }
}

/** A database of nothing, for a library that may only be looked at. */
export const openInMemory = () => {
  const sqlite = new Database(':memory:')
  setUp(sqlite)
  migrate(sqlite, shippedSteps)
  return { sqlite, db: typed(sqlite) }
}

/** Was the database found, but not in a state to be read? */
export const isDamaged = (error: unknown): boolean => {
  const code = (error as { cause?: { code?: unknown } } | null)?.cause?.code
  return code === 'SQLITE_NOTADB' || (typeof code === 'string' && code.startsWith('SQLITE_CORRUPT'))
}
