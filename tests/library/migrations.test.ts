import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { getTableColumns, getTableName, is } from 'drizzle-orm'
import { SQLiteTable } from 'drizzle-orm/sqlite-core'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { databaseFile } from '../../electron/library/database/database-file.ts'
import { openDatabase } from '../../electron/library/database/open.ts'
import * as schema from '../../electron/library/database/schema.ts'
import { migrations } from '../../electron/library/migrations/index.ts'
import { Problem } from '../../shared-core/problem.ts'

let folder: string
beforeEach(() => {
  folder = fs.mkdtempSync(path.join(os.tmpdir(), 'leadside-'))
})
afterEach(() => fs.rmSync(folder, { recursive: true, force: true }))

const problemOf = (work: () => unknown): Problem => {
  try {
    work()
  } catch (error) {
    if (error instanceof Problem) return error
    throw error
  }
  throw new Error('no problem was reported')
}

describe('the steps of the schema', () => {
  it('are numbered 1, 2, 3… without a gap', () => {
    expect(migrations.map((m) => m.version)).toEqual(migrations.map((_, i) => i + 1))
  })

  it('make exactly the tables and columns that the query layer declares', () => {
    const { sqlite } = openDatabase(folder)
    const declared = Object.values(schema as Record<string, unknown>).filter((t): t is SQLiteTable =>
      is(t, SQLiteTable),
    )
    for (const table of declared) {
      const name = getTableName(table)
      const made = sqlite
        .prepare('SELECT name, "notnull" AS isRequired, pk FROM pragma_table_info(?)')
        .all(name) as {
        name: string
        isRequired: number
        pk: number
      }[]
      const columns = Object.values(getTableColumns(table))
      expect(made.map((c) => c.name).toSorted(), name).toEqual(columns.map((c) => c.name).toSorted())
      for (const column of columns) {
        const found = made.find((c) => c.name === column.name)!
        expect(Boolean(found.isRequired) || found.pk > 0, `${name}.${column.name} required`).toBe(
          column.notNull || column.primary,
        )
      }
    }
    const tables = sqlite
      .prepare(`SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%'`)
      .all() as { name: string }[]
    expect(tables.map((t) => t.name).toSorted()).toEqual(declared.map((t) => getTableName(t)).toSorted())
    sqlite.close()
  })

  it('are taken one by one, each recorded with its own change', () => {
    const steps = [
      ...migrations,
      {
        version: migrations.length + 1,
        name: 'broken',
        sql: 'CREATE TABLE extra (a TEXT) STRICT; SELECT nonsense;',
      },
    ]
    const problem = problemOf(() => openDatabase(folder, steps))
    expect(problem.code).toBe('library-unreadable')
    const { sqlite } = openDatabase(folder)
    expect(sqlite.pragma('user_version', { simple: true })).toBe(migrations.length)
    expect(sqlite.prepare(`SELECT count(*) AS n FROM sqlite_schema WHERE name = 'extra'`).get()).toEqual({
      n: 0,
    })
    sqlite.close()
  })
})

describe('opening a library', () => {
  it('of a newer program is refused with what, where and what to do, and changes nothing', () => {
    const { sqlite } = openDatabase(folder)
    sqlite.pragma(`user_version = ${migrations.length + 1}`)
    sqlite.close()
    const problem = problemOf(() => openDatabase(folder))
    expect(problem).toMatchObject({ code: 'library-newer', where: databaseFile(folder) })
    expect(problem.toDo).toMatch(/Update Leadside/)
    const later = openDatabase(folder, [
      ...migrations,
      { version: migrations.length + 1, name: 'next', sql: 'SELECT 1' },
    ])
    expect(later.sqlite.pragma('user_version', { simple: true })).toBe(migrations.length + 1)
    later.sqlite.close()
  })

  it('of an older program copies it aside before it is changed', () => {
    const { sqlite } = openDatabase(folder)
    sqlite.prepare(`INSERT INTO setting (key, value) VALUES ('coachName', '"Old"')`).run()
    sqlite.close()
    const next = {
      version: migrations.length + 1,
      name: 'next',
      sql: 'ALTER TABLE student ADD COLUMN extra TEXT',
    }
    const opened = openDatabase(folder, [...migrations, next])
    expect(opened.sqlite.prepare('SELECT value FROM setting').get()).toEqual({ value: '"Old"' })
    opened.sqlite.close()
    const backup = path.join(folder, `library.before-${next.version}.sqlite`)
    expect(fs.existsSync(backup)).toBe(true)
    const kept = path.join(folder, 'kept')
    fs.mkdirSync(kept)
    fs.copyFileSync(backup, databaseFile(kept))
    const old = openDatabase(kept)
    expect(old.sqlite.prepare('SELECT value FROM setting').get()).toEqual({ value: '"Old"' })
    old.sqlite.close()
  })

  it('that is not a database says so and leaves the file as it is', () => {
    fs.writeFileSync(
      databaseFile(folder),
      'this is a letter, not a library, and long enough to look like a file header',
    )
    const problem = problemOf(() => openDatabase(folder))
    expect(problem.code).toBe('library-unreadable')
    expect(fs.readFileSync(databaseFile(folder), 'utf8')).toMatch(/^this is a letter/)
  })
})
