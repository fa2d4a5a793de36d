import Database from 'better-sqlite3'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { migrate, type Sqlite } from '../../electron/library/database/open.ts'
import { migrations } from '../../electron/library/migrations/index.ts'
import { starterCueKinds } from '../../shared-core/model/cue-kinds.ts'
import { starterDrillKeys } from '../../shared-core/model/starter-drills.ts'
import { cueKindIn, sayIn } from '../../shared-core/wording/say.ts'
import { starterDrillText } from '../../shared-core/wording/starter-texts.ts'

/** A library with a row in every table, as each shipped version would have left it, is brought to the newest. */

interface Column {
  readonly name: string
  readonly type: string
  readonly notnull: number
  readonly pk: number
}

/** Values that a CHECK or a meaning asks for; everything else is made up by its type. */
const chosen: Record<string, unknown> = {
  'student.side': 'left',
  'coach_picture.kind': 'clip',
  'drawing.shape': '{"kind":"line"}',
  'drawing.from_frame': 3,
  'drawing.to_frame': 9,
}

let sqlite: Sqlite
beforeEach(() => {
  sqlite = new Database(':memory:')
  sqlite.pragma('foreign_keys = ON')
})
afterEach(() => sqlite.close())

const tablesOf = (): string[] =>
  sqlite
    .prepare(`SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%' ORDER BY name`)
    .pluck()
    .all() as string[]

const columnsOf = (table: string) => sqlite.pragma(`table_info(${table})`) as Column[]

const parentsOf = (table: string) =>
  sqlite.pragma(`foreign_key_list(${table})`) as { table: string; from: string; to: string }[]

const madeUp = (table: string, column: Column, position: number): unknown => {
  const given = chosen[`${table}.${column.name}`]
  if (given !== undefined) return given
  if (column.type === 'INTEGER') return position + 1
  if (column.type === 'REAL') return position + 0.25
  if (column.type === 'BLOB') return Buffer.from([position, 255, 0])
  return `${table} ${column.name} äß✓`
}

/** Parents first, so that every reference has its row. */
const parentsFirst = (tables: readonly string[]): string[] => {
  const placed: string[] = []
  const place = (table: string) => {
    if (placed.includes(table)) return
    for (const parent of parentsOf(table)) if (parent.table !== table) place(parent.table)
    placed.push(table)
  }
  tables.forEach(place)
  return placed
}

const fill = () => {
  for (const table of parentsFirst(tablesOf())) {
    const columns = columnsOf(table)
    const references = new Map(parentsOf(table).map((p) => [p.from, p]))
    const values = columns.map((column, position) => {
      const parent = references.get(column.name)
      if (!parent) return madeUp(table, column, position)
      return sqlite.prepare(`SELECT "${parent.to}" FROM "${parent.table}"`).pluck().get()
    })
    sqlite
      .prepare(
        `INSERT OR IGNORE INTO "${table}" (${columns.map((c) => `"${c.name}"`).join()}) VALUES (${columns.map(() => '?').join()})`,
      )
      .run(...values)
  }
}

const everything = () =>
  Object.fromEntries(tablesOf().map((table) => [table, sqlite.prepare(`SELECT * FROM "${table}"`).all()]))

describe('a library of version', () => {
  it.each(migrations.map((m) => m.version))(
    '%i keeps every row when it is brought to the newest',
    (version) => {
      migrate(sqlite, migrations.slice(0, version))
      fill()
      const before = everything()
      for (const [table, rows] of Object.entries(before)) expect(rows, table).toHaveLength(1)
      migrate(sqlite, migrations)
      const after = everything()
      for (const [table, rows] of Object.entries(before)) {
        expect(after[table], table).toHaveLength(1)
        expect(after[table]![0], table).toMatchObject(rows[0] as object)
      }
      expect(sqlite.pragma('foreign_key_check')).toEqual([])
      expect(sqlite.pragma('integrity_check', { simple: true })).toBe('ok')
      expect(sqlite.pragma('user_version', { simple: true })).toBe(migrations.length)
    },
  )

  it('4 has its covers on one frame stretched over the clip, and one on a range left as it was', () => {
    migrate(sqlite, migrations.slice(0, 4))
    fill()
    sqlite.prepare(`UPDATE media SET frame_count = 322`).run()
    sqlite.prepare(`UPDATE drawing SET shape = '{"kind":"cover"}', from_frame = 40, to_frame = 40`).run()
    sqlite
      .prepare(
        `INSERT INTO drawing SELECT 'range', view_id, NULL, 10, 20, '{"kind":"cover"}', 2, 0 FROM drawing LIMIT 1`,
      )
      .run()
    migrate(sqlite, migrations)
    expect(
      sqlite.prepare('SELECT moment_id, from_frame, to_frame FROM drawing ORDER BY position DESC').all(),
    ).toContainEqual({ moment_id: null, from_frame: 0, to_frame: 321 })
    expect(sqlite.prepare(`SELECT from_frame, to_frame FROM drawing WHERE id = 'range'`).get()).toEqual({
      from_frame: 10,
      to_frame: 20,
    })
  })

  it('6 knows afterwards whose clips are whose', () => {
    migrate(sqlite, migrations.slice(0, 6))
    fill()
    migrate(sqlite, migrations)
    expect(sqlite.prepare('SELECT hash, student_id FROM media_student').all()).toEqual(
      sqlite.prepare('SELECT media.hash, student.id AS student_id FROM media, student').all(),
    )
  })

  it('15 names its metrics anew wherever a text speaks of one, and nowhere in a coach’s words', () => {
    migrate(sqlite, migrations.slice(0, 15))
    fill()
    const flags = '[{"code":"impossible","message":"start line of 90°","metric":"startLineDeg"}]'
    sqlite.prepare('UPDATE shot SET flags = ?, assumed = ?').run(flags, '[{"metric":"landDeg","unit":"deg"}]')
    sqlite.prepare('UPDATE edit_row SET before = ?, after = NULL').run(JSON.stringify({ id: 's', flags }))
    sqlite
      .prepare('UPDATE hand_over_draft SET draft = ?')
      .run(
        '{"findings":[{"key":"change:bounce-back:loftDeg","sentence":"A bounce-back, of land and loft."}]}',
      )
    migrate(sqlite, migrations)
    const expected = flags.replace('startLineDeg', 'launchDirectionDeg')
    expect(sqlite.prepare('SELECT flags, assumed FROM shot').get()).toEqual({
      flags: expected,
      assumed: '[{"metric":"descentDeg","unit":"deg"}]',
    })
    expect(sqlite.prepare('SELECT before, after FROM edit_row').get()).toEqual({
      before: JSON.stringify({ id: 's', flags: expected }),
      after: null,
    })
    expect(sqlite.prepare('SELECT draft FROM hand_over_draft').pluck().get()).toBe(
      '{"findings":[{"key":"change:regression-to-mean:dynamicLoftDeg","sentence":"A bounce-back, of land and loft."}]}',
    )
  })

  it('16 keeps its starter drills and cues by their keys, and what the coach changed in one as text', () => {
    migrate(sqlite, migrations.slice(0, 16))
    const put = (drill: Record<string, string>) =>
      sqlite
        .prepare(
          `INSERT INTO drill (id, name, purpose, cue_kinds, how, dose, watch_for, caution, is_loading)
           VALUES (@id, @name, @purpose, '[]', @how, @dose, @watchFor, @caution, 0)`,
        )
        .run(drill)
    for (const key of starterDrillKeys) put({ id: key, ...starterDrillText(key) })
    const changed = { ...starterDrillText('centre-strike-ladder'), dose: '10 balls' }
    put({ id: 'changed', ...changed })
    const cue = sqlite.prepare(`INSERT INTO cue_kind VALUES (?, 'group', ?, ?)`)
    for (const { key } of starterCueKinds) cue.run(key, cueKindIn(sayIn('en'), { key, label: '' }), 0)
    sqlite.prepare(`UPDATE cue_kind SET label = 'Hold' WHERE key = 'grip'`).run()
    cue.run('own', 'Stance', 1)
    migrate(sqlite, migrations)
    const all =
      'SELECT starter_key AS key, name, purpose, how, dose, watch_for AS watchFor, caution FROM drill'
    const noWords = { name: '', purpose: '', how: '', dose: '', watchFor: '', caution: '' }
    for (const key of starterDrillKeys) {
      expect(sqlite.prepare(`${all} WHERE id = ?`).get(key)).toEqual({ key, ...noWords })
    }
    expect(sqlite.prepare(`${all} WHERE id = 'changed'`).get()).toEqual({ key: null, ...changed })
    const labels = Object.fromEntries(
      (sqlite.prepare('SELECT key, label FROM cue_kind').all() as { key: string; label: string }[]).map(
        (k) => [k.key, k.label],
      ),
    )
    expect(labels).toEqual({
      ...Object.fromEntries(starterCueKinds.map(({ key }) => [key, ''])),
      grip: 'Hold',
      own: 'Stance',
    })
  })
})
