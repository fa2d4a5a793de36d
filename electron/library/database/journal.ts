import type { Sqlite } from './open.ts'
import { Problem } from '../../../shared-core/problem.ts'
import { keepWord, sayKept, type Phrase } from '../../../shared-core/wording/phrase.ts'

/**
 * Undo for a whole lesson. Every row that an edit touches is written down (before, after) by triggers,
 * so a change is one value: undoing puts the "before" back, redoing the "after". What a cascade deletes is
 * written down as well. The triggers are temporary: they belong to the connection, not to the file.
 */
const journaled: Record<string, readonly string[]> = {
  lesson: [
    'title',
    'place',
    'note',
    'next_focus',
    'date',
    'temperature_c',
    'pressure_hpa',
    'altitude_m',
    'humidity_percent',
    'mic_distance_m',
    'clock',
  ],
  clip: [],
  block: [],
  shot: [],
  swing: [],
  view: [],
  moment: [],
  cue: [],
  drawing: [],
  comparison: [],
  face_photo: [],
  body_correction: [],
  followed_point: [],
  follow_mark: [],
}

/** A lesson keeps this many edits; older ones can no longer be undone. */
const keptEdits = 1000
/** Typing into one field is one edit while the pauses are shorter than this. */
const mergeSeconds = 3

const columnsOf = (sqlite: Sqlite, table: string) =>
  (sqlite.prepare(`SELECT name FROM pragma_table_info(?)`).all(table) as { name: string }[]).map(
    (c) => c.name,
  )

export interface Edit {
  lessonId: string
  /** What the step did, said where it is offered to be taken back; an older Leadside kept it in English. */
  label: Phrase
  /** Edits with the same key that follow each other quickly are one; null never merges. */
  mergeKey?: string | null
  /** What a job found for the edit before it, however long it took: it merges with that one as long as that is the last. */
  mergesLate?: boolean
}

export class Journal {
  readonly #sqlite: Sqlite
  readonly #now: () => Date
  /** Columns of each journaled table; the schema stays as it is while the library is open. */
  readonly #columns = new Map<string, readonly string[]>()
  readonly #who: () => string | null
  /** Who last made, undid or redid an edit, since the library was opened. */
  readonly #lastBy = new Map<number, string | null>()
  readonly #lastOldEdit: number
  #isOpen = false

  /** `who` is asking now; null if that makes no difference. */
  constructor(sqlite: Sqlite, now: () => Date, who: () => string | null = () => null) {
    this.#sqlite = sqlite
    this.#now = now
    this.#who = who
    this.#lastOldEdit =
      (sqlite.prepare('SELECT max(id) AS id FROM edit').get() as { id: number | null }).id ?? 0
    sqlite.exec('CREATE TEMP TABLE current_edit (edit_id INTEGER)')
    for (const [table, only] of Object.entries(journaled)) {
      const columns = columnsOf(sqlite, table)
      this.#columns.set(table, columns)
      const json = (row: string) => `json_object(${columns.map((c) => `'${c}', ${row}."${c}"`).join(', ')})`
      const when = '(SELECT edit_id FROM temp.current_edit) IS NOT NULL'
      const record = (id: string, before: string, after: string) =>
        `INSERT INTO edit_row (edit_id, table_name, row_id, before, after)
         VALUES ((SELECT edit_id FROM temp.current_edit), '${table}', ${id}.id, ${before}, ${after});`
      if (only.length === 0) {
        sqlite.exec(`
          CREATE TEMP TRIGGER journal_${table}_insert AFTER INSERT ON main.${table} WHEN ${when}
            BEGIN ${record('NEW', 'NULL', json('NEW'))} END;
          CREATE TEMP TRIGGER journal_${table}_delete BEFORE DELETE ON main.${table} WHEN ${when}
            BEGIN ${record('OLD', json('OLD'), 'NULL')} END;`)
      }
      sqlite.exec(`
        CREATE TEMP TRIGGER journal_${table}_update AFTER UPDATE ON main.${table}
          WHEN ${when} AND ${json('OLD')} IS NOT ${json('NEW')}
          BEGIN ${record('NEW', json('OLD'), json('NEW'))} END;`)
    }
  }

  /**
   * Runs `work` with the right to write from its first look on: what it reads is what it changes, whoever else writes.
   * Work that turns out to take its time (a promise) is let go and comes back for each of its edits.
   */
  alone<T>(work: () => T): T {
    const sqlite = this.#sqlite
    if (sqlite.inTransaction) return work()
    sqlite.exec('BEGIN IMMEDIATE')
    try {
      const result = work()
      sqlite.exec('COMMIT')
      return result
    } finally {
      if (sqlite.inTransaction) sqlite.exec('ROLLBACK')
    }
  }

  /** Runs `change` in one transaction as one edit; an edit that changes no row leaves no trace. */
  run<T>(edit: Edit, change: () => T): T {
    if (this.#isOpen) return change()
    const sqlite = this.#sqlite
    this.#isOpen = true
    try {
      return sqlite
        .transaction(() => {
          const at = this.#now()
          const last = sqlite
            .prepare(
              'SELECT id, merge_key AS mergeKey, at, is_undone AS isUndone FROM edit WHERE lesson_id = ? ORDER BY id DESC LIMIT 1',
            )
            .get(edit.lessonId) as
            { id: number; mergeKey: string | null; at: string; isUndone: number } | undefined
          const merges =
            last &&
            edit.mergeKey &&
            !last.isUndone &&
            !this.#isElsewhere(last.id) &&
            last.mergeKey === edit.mergeKey &&
            (edit.mergesLate || at.getTime() - Date.parse(last.at) < mergeSeconds * 1000)
          const editId = merges
            ? last.id
            : Number(
                sqlite
                  .prepare('INSERT INTO edit (lesson_id, label, merge_key, at) VALUES (?, ?, ?, ?)')

                  .run(edit.lessonId, keepWord(edit.label), edit.mergeKey ?? null, at.toISOString())
                  .lastInsertRowid,
              )
          if (merges) sqlite.prepare('UPDATE edit SET at = ? WHERE id = ?').run(at.toISOString(), editId)
          sqlite.prepare('INSERT INTO temp.current_edit VALUES (?)').run(editId)
          let result: T
          try {
            result = change()
          } finally {
            sqlite.exec('DELETE FROM temp.current_edit')
          }
          const rows = sqlite.prepare('SELECT count(*) AS n FROM edit_row WHERE edit_id = ?').get(editId) as {
            n: number
          }
          if (rows.n === 0) sqlite.prepare('DELETE FROM edit WHERE id = ?').run(editId)
          else {
            this.#lastBy.set(editId, this.#who())
            sqlite.prepare('DELETE FROM edit WHERE lesson_id = ? AND is_undone = 1').run(edit.lessonId)
            sqlite
              .prepare(
                `DELETE FROM edit WHERE lesson_id = @lesson AND id <= (SELECT id FROM edit WHERE lesson_id = @lesson ORDER BY id DESC LIMIT 1 OFFSET ${keptEdits})`,
              )
              .run({ lesson: edit.lessonId })
            this.bump(edit.lessonId)
          }
          return result
        })
        .immediate()
    } finally {
      this.#isOpen = false
    }
  }

  /** Counts the lesson's revision up, so that every window knows that it changed. */
  bump(lessonId: string) {
    this.#sqlite
      .prepare(
        `INSERT INTO lesson_revision (lesson_id, revision) VALUES (?, 1)
         ON CONFLICT (lesson_id) DO UPDATE SET revision = revision + 1`,
      )
      .run(lessonId)
  }

  revision(lessonId: string): number {
    const row = this.#sqlite
      .prepare('SELECT revision FROM lesson_revision WHERE lesson_id = ?')
      .get(lessonId) as { revision: number } | undefined
    return row?.revision ?? 0
  }

  labels(lessonId: string): { undoLabel: string | null; redoLabel: string | null } {
    return {
      undoLabel: this.#next(lessonId, 'undo')?.label ?? null,
      redoLabel: this.#next(lessonId, 'redo')?.label ?? null,
    }
  }

  /**
   * Takes the newest edit back; its label, null if there is none.
   * @throws Problem if it was made elsewhere and the caller has not seen and confirmed this very revision
   */
  undo(lessonId: string, confirmedRevision: number | null = null): string | null {
    return this.#step(lessonId, 'undo', confirmedRevision)
  }

  /** @throws Problem as `undo` */
  redo(lessonId: string, confirmedRevision: number | null = null): string | null {
    return this.#step(lessonId, 'redo', confirmedRevision)
  }

  /** By another window, or by another program while this one had the library open. What a job took in is nobody's. */
  #isElsewhere(editId: number): boolean {
    if (editId <= this.#lastOldEdit) return false
    const by = this.#lastBy.get(editId)
    return by === undefined || (by !== null && by !== this.#who())
  }

  #next(lessonId: string, way: 'undo' | 'redo') {
    const sql =
      way === 'undo'
        ? 'SELECT id, label FROM edit WHERE lesson_id = ? AND is_undone = 0 ORDER BY id DESC LIMIT 1'
        : 'SELECT id, label FROM edit WHERE lesson_id = ? AND is_undone = 1 ORDER BY id LIMIT 1'
    const found = this.#sqlite.prepare(sql).get(lessonId) as { id: number; label: string } | undefined
    return found && { id: found.id, label: sayKept(found.label) }
  }

  #step(lessonId: string, way: 'undo' | 'redo', confirmedRevision: number | null): string | null {
    const sqlite = this.#sqlite
    return sqlite
      .transaction(() => {
        const next = this.#next(lessonId, way)
        if (!next) return null
        if (this.#isElsewhere(next.id) && confirmedRevision !== this.revision(lessonId)) {
          throw new Problem(`made-elsewhere.${way}`, { step: next.label })
        }
        sqlite.pragma('defer_foreign_keys = ON')
        const order = way === 'undo' ? 'DESC' : 'ASC'
        const rows = sqlite
          .prepare(
            `SELECT table_name AS tableName, row_id AS rowId, before, after FROM edit_row WHERE edit_id = ? ORDER BY seq ${order}`,
          )
          .all(next.id) as { tableName: string; rowId: string; before: string | null; after: string | null }[]
        for (const row of rows) this.#put(row.tableName, row.rowId, way === 'undo' ? row.before : row.after)
        // A swing of another lesson may have gone meanwhile, by that lesson's own edits.
        sqlite.exec(
          `DELETE FROM comparison WHERE first_view_id NOT IN (SELECT id FROM view)
         OR second_view_id NOT IN (SELECT id FROM view)`,
        )
        sqlite
          .prepare('UPDATE edit SET is_undone = ?, merge_key = NULL WHERE id = ?')
          .run(way === 'undo' ? 1 : 0, next.id)
        this.#lastBy.set(next.id, this.#who())
        this.bump(lessonId)
        return next.label
      })
      .immediate()
  }

  #put(table: string, id: string, json: string | null) {
    if (!(table in journaled)) throw new Problem('journal', { table })
    const sqlite = this.#sqlite
    if (json === null) {
      sqlite.prepare(`DELETE FROM ${table} WHERE id = ?`).run(id)
      return
    }
    const row = JSON.parse(json) as Record<string, string | number | null>
    const only = journaled[table]!
    const known = this.#columns.get(table)!
    const columns = Object.keys(row).filter(
      (c) => known.includes(c) && (only.length === 0 || only.includes(c)),
    )
    const values = columns.map((c) => row[c] ?? null)
    const updated = sqlite
      .prepare(`UPDATE ${table} SET ${columns.map((c) => `"${c}" = ?`).join(', ')} WHERE id = ?`)
      .run(...values, id)
    if (updated.changes === 0) {
      sqlite
        .prepare(
          `INSERT INTO ${table} (${columns.map((c) => `"${c}"`).join(', ')}) VALUES (${columns.map(() => '?').join(', ')})`,
        )
        .run(...values)
    }
  }
}
