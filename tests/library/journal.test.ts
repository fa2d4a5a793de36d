import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import fc from 'fast-check'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { Journal } from '../../electron/library/database/journal.ts'
import { openDatabase, type Sqlite } from '../../electron/library/database/open.ts'
import { phrase } from '../../shared-core/wording/phrase.ts'

let folder: string
let sqlite: Sqlite
let journal: Journal
let clock: number
const lessonId = 'lesson'

const open = () => {
  sqlite = openDatabase(folder).sqlite
  journal = new Journal(sqlite, () => new Date(clock))
}
beforeEach(() => {
  folder = fs.mkdtempSync(path.join(os.tmpdir(), 'leadside-'))
  clock = Date.UTC(2026, 4, 1)
  open()
  sqlite.exec(`
    INSERT INTO student (id, name, side, consent, created_at) VALUES ('s', 'Student', 'right', '{}', '');
    INSERT INTO lesson (id, student_id, date, mic_distance_m) VALUES ('lesson', 's', '2026-05-01', 3);
    INSERT INTO block (id, lesson_id, position, name) VALUES ('b', 'lesson', 1, 'Baseline');`)
})
afterEach(() => {
  sqlite.close()
  fs.rmSync(folder, { recursive: true, force: true })
})

const tables = ['block', 'swing', 'shot', 'comparison'] as const
const state = () =>
  JSON.stringify([
    ...tables.map((t) => sqlite.prepare(`SELECT * FROM ${t} ORDER BY id`).all()),
    sqlite.prepare('SELECT note, title FROM lesson').all(),
  ])
/** A step whose label says `name`. */
const named = (name: string) => phrase('edit.addFile', { file: name })
const edit = (name: string, sql: string, mergeKey: string | null = null) => {
  clock += 10_000
  journal.run({ lessonId, label: named(name), mergeKey }, () => sqlite.exec(sql))
}

describe('undo and redo', () => {
  it('give back exactly the rows that were there, cascades included', () => {
    edit(
      'add',
      `INSERT INTO block (id, lesson_id, position, name) VALUES ('c', 'lesson', 2, 'Second');
      INSERT INTO swing (id, lesson_id, block_id, position) VALUES ('x', 'lesson', 'c', 1)`,
    )
    const before = state()
    edit('delete', `DELETE FROM block WHERE id = 'c'`)
    const after = state()
    expect(after).not.toBe(before)
    expect(journal.undo(lessonId)).toBe('add delete')
    expect(state()).toBe(before)
    expect(journal.redo(lessonId)).toBe('add delete')
    expect(state()).toBe(after)
  })

  it('are kept over a restart', () => {
    const before = state()
    edit('rename', `UPDATE block SET name = 'Other' WHERE id = 'b'`)
    sqlite.close()
    open()
    expect(journal.labels(lessonId)).toEqual({ undoLabel: 'add rename', redoLabel: null })
    journal.undo(lessonId)
    expect(state()).toBe(before)
    expect(journal.labels(lessonId)).toEqual({ undoLabel: null, redoLabel: 'add rename' })
  })

  it('are offered in the words that an older Leadside kept, and in ours where it kept none that are known', () => {
    edit('one', `UPDATE block SET name = '1'`)
    const keep = (label: string) => sqlite.prepare('UPDATE edit SET label = ?').run(label)
    const offered = () => journal.labels(lessonId).undoLabel
    expect(offered()).toBe('add one')
    keep('tag cue')
    expect(offered()).toBe('tag cue')
    keep('{"phrase":"edit.removeSwings","values":{"count":3}}')
    expect(offered()).toBe('remove 3 swings')
    // A name may look like data.
    for (const odd of ['12', '"add"', '{}', '{"phrase":"edit.ofTomorrow","values":{}}']) {
      keep(odd)
      expect(offered()).toBe(odd)
    }
    expect(journal.undo(lessonId)).toBe('{"phrase":"edit.ofTomorrow","values":{}}')
  })

  it('leave no trace of an edit that changed nothing or that failed', () => {
    edit('nothing', `UPDATE block SET name = 'Baseline' WHERE id = 'b'`)
    const before = state()
    expect(() =>
      journal.run({ lessonId, label: named('fails') }, () => {
        sqlite.exec(`UPDATE block SET name = 'Half' WHERE id = 'b'`)
        throw new Error('stop')
      }),
    ).toThrow('stop')
    expect(state()).toBe(before)
    expect(journal.labels(lessonId)).toEqual({ undoLabel: null, redoLabel: null })
  })

  it('take typing into one field as one edit, until there is a pause or another edit', () => {
    const before = state()
    const type = (text: string, wait: number) => {
      clock += wait
      journal.run({ lessonId, label: named('notes'), mergeKey: 'note' }, () =>
        sqlite.prepare('UPDATE lesson SET note = ?').run(text),
      )
    }
    type('a', 10_000)
    type('ab', 500)
    type('abc', 500)
    const paused = state()
    type('abcd', 60_000)
    journal.undo(lessonId)
    expect(state()).toBe(paused)
    journal.undo(lessonId)
    expect(state()).toBe(before)
  })

  it('take what a job found for an edit into it, however long that took, unless another edit came between', () => {
    const before = state()
    const found = (text: string) => {
      clock += 60_000
      journal.run({ lessonId, label: named('found'), mergeKey: 'mark', mergesLate: true }, () =>
        sqlite.prepare('UPDATE lesson SET note = ?').run(text),
      )
    }
    edit('mark', `UPDATE block SET name = 'marked'`, 'mark')
    found('by the job')
    journal.undo(lessonId)
    expect(state()).toBe(before)
    journal.redo(lessonId)
    edit('other', `UPDATE block SET name = 'other'`)
    const other = state()
    found('too late')
    journal.undo(lessonId)
    expect(state()).toBe(other)
    journal.undo(lessonId)
    journal.undo(lessonId)
    expect(state()).toBe(before)
  })

  it('forget what could be redone once something new is done', () => {
    edit('one', `UPDATE block SET name = '1'`)
    journal.undo(lessonId)
    edit('two', `UPDATE block SET name = '2'`)
    expect(journal.labels(lessonId)).toEqual({ undoLabel: 'add two', redoLabel: null })
    expect(journal.redo(lessonId)).toBeNull()
  })

  it('count the lesson’s revision up with every edit, undo and redo', () => {
    const start = journal.revision(lessonId)
    edit('one', `UPDATE block SET name = '1'`)
    journal.undo(lessonId)
    journal.redo(lessonId)
    expect(journal.revision(lessonId)).toBe(start + 3)
  })

  it('bring back every earlier state, whatever was done (random edits, undone to the start and redone to the end)', () => {
    const id = fc.constantFrom('b', 'c', 'd')
    const swingId = fc.constantFrom('x', 'y', 'z')
    const command = fc.oneof(
      fc.record({
        sql: id.map(
          (i) =>
            `INSERT OR IGNORE INTO block (id, lesson_id, position, name) VALUES ('${i}', 'lesson', 1, 'n')`,
        ),
      }),
      fc.record({
        sql: id.map((i) => `DELETE FROM block WHERE id = '${i}' AND (SELECT count(*) FROM block) > 1`),
      }),
      fc.record({
        sql: fc.tuple(id, fc.integer()).map(([i, n]) => `UPDATE block SET name = '${n}' WHERE id = '${i}'`),
      }),
      fc.record({
        sql: fc
          .tuple(swingId, id)
          .map(
            ([s, b]) =>
              `INSERT OR IGNORE INTO swing (id, lesson_id, block_id, position) SELECT '${s}', 'lesson', id, 1 FROM block WHERE id = '${b}'`,
          ),
      }),
      fc.record({
        sql: fc
          .tuple(swingId, fc.integer())
          .map(([s, n]) => `UPDATE swing SET note = '${n}' WHERE id = '${s}'`),
      }),
    )
    fc.assert(
      fc.property(fc.array(command, { minLength: 1, maxLength: 12 }), (commands) => {
        sqlite.exec(
          `DELETE FROM edit; DELETE FROM block; INSERT INTO block (id, lesson_id, position, name) VALUES ('b', 'lesson', 1, 'Baseline')`,
        )
        const states = [state()]
        for (const { sql } of commands) {
          edit('random', sql)
          if (state() !== states.at(-1)) states.push(state())
        }
        for (const expected of states.slice(0, -1).toReversed()) {
          journal.undo(lessonId)
          expect(state()).toBe(expected)
        }
        expect(journal.undo(lessonId)).toBeNull()
        for (const expected of states.slice(1)) {
          journal.redo(lessonId)
          expect(state()).toBe(expected)
        }
        expect(journal.redo(lessonId)).toBeNull()
      }),
      { numRuns: 60 },
    )
  })
})
