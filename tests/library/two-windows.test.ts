import fs from 'node:fs'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { Library } from '../../electron/library/library.ts'
import { temporaryFolder } from './support/temporary-library.ts'

let folder: string
let library: Library
let lessonId: string
const [here, there] = ['window 1', 'window 2']

const lesson = () => library.ask('lesson.open', { lessonId })
const write = (from: string, note: string, noteBefore: string) =>
  library.ask('lesson.update', { id: lessonId, patch: { note }, noteBefore }, from)
const undo = (from: string, confirmedRevision: number | null = null) =>
  library.ask('edits.undo', { lessonId, confirmedRevision }, from)

beforeEach(async () => {
  folder = temporaryFolder()
  library = new Library({ folder, printPdf: null })
  const { id: studentId } = await library.ask('student.create', { name: 'Robin Testing', side: 'right' })
  lessonId = (await library.ask('lesson.create', { studentId, date: '2026-05-01' })).id
})
afterEach(async () => {
  await library.close()
  fs.rmSync(folder, { recursive: true, force: true })
})

describe('two windows on one lesson', () => {
  it('write into one note without losing each other’s words', async () => {
    await write(here, 'grip', '')
    await write(there, 'grip\nstance', 'grip')
    await write(here, 'grip: stronger', 'grip')
    expect((await lesson()).lesson.note).toBe('grip: stronger\nstance')
    await write(here, 'grip: stronger\nstance\nhere', 'grip: stronger\nstance')
    await write(there, 'grip: stronger\nstance\nTHERE', 'grip: stronger\nstance')
    const { note } = (await lesson()).lesson
    expect(note).toContain('here')
    expect(note).toContain('THERE')
  })

  it('do not make one edit of what both typed within moments', async () => {
    await write(here, 'one', '')
    await write(there, 'one\ntwo', 'one')
    await undo(there)
    expect((await lesson()).lesson.note).toBe('one')
  })

  it('undo across windows only after the coach was told', async () => {
    await library.ask('lesson.update', { id: lessonId, patch: { title: 'mine' } }, here)
    await library.ask('lesson.update', { id: lessonId, patch: { place: 'theirs' } }, there)
    await expect(undo(here)).rejects.toMatchObject({ code: 'made-elsewhere' })
    expect((await lesson()).lesson).toMatchObject({ title: 'mine', place: 'theirs' })
    const { revision } = await lesson()
    // What came after the coach was told is not covered by the yes.
    await library.ask('lesson.update', { id: lessonId, patch: { nextFocus: 'later' } }, there)
    await expect(undo(here, revision)).rejects.toMatchObject({ code: 'made-elsewhere' })
    expect(await undo(there)).toEqual({ label: 'edit lesson' })
    await expect(undo(here)).rejects.toMatchObject({ code: 'made-elsewhere' })
    expect(await undo(here, (await lesson()).revision)).toEqual({ label: 'edit lesson' })
    expect((await lesson()).lesson).toMatchObject({ title: 'mine', place: '', nextFocus: '' })
    expect(await undo(here)).toEqual({ label: 'edit lesson' })
    // What the other window undid last is its own to do again.
    await library.ask('edits.redo', { lessonId }, here)
    expect((await lesson()).lesson.title).toBe('mine')
  })

  it('a second program’s edit is not undone unseen either, and after a restart all edits are the coach’s own', async () => {
    const second = new Library({ folder, printPdf: null })
    await second.ask('lesson.update', { id: lessonId, patch: { title: 'from the command line' } })
    await second.close()
    await expect(undo(here)).rejects.toMatchObject({ code: 'made-elsewhere' })
    await library.close()
    library = new Library({ folder, printPdf: null })
    expect(await undo(here)).toEqual({ label: 'edit lesson' })
  })
})

describe('blocks', () => {
  const addSwings = (count: number) => {
    const { sqlite } = library.context
    sqlite.exec(
      `INSERT INTO block (id, lesson_id, position, name, is_baseline) VALUES ('b', '${lessonId}', 1, 'As came', 1)`,
    )
    for (let i = 1; i <= count; i++) {
      sqlite.exec(
        `INSERT INTO swing (id, lesson_id, block_id, position) VALUES ('s${i}', '${lessonId}', 'b', ${i})`,
      )
    }
  }
  const blocks = async () => {
    const { blocks: all, swings } = await lesson()
    return [...all]
      .sort((a, b) => a.order - b.order)
      .map((b) => [
        b.isBaseline,
        swings
          .filter((s) => s.blockId === b.id)
          .map((s) => s.id)
          .join(' '),
      ])
  }

  it('are cut out of the middle, and one undo joins all three again', async () => {
    addSwings(5)
    await library.ask('block.cut', { lessonId, beforeSwingId: 's2', lastSwingId: 's3' })
    expect(await blocks()).toEqual([
      [true, 's1'],
      [false, 's2 s3'],
      [false, 's4 s5'],
    ])
    await undo(here, (await lesson()).revision)
    expect(await blocks()).toEqual([[true, 's1 s2 s3 s4 s5']])
  })

  it('go when their last swing is moved away or removed; the next one takes over as the baseline', async () => {
    addSwings(3)
    const { id } = await library.ask('block.cut', { lessonId, beforeSwingId: 's2' })
    await library.ask('swing.update', { ids: ['s1'], patch: { blockId: id } })
    expect(await blocks()).toEqual([[true, 's1 s2 s3']])
    await library.ask('swing.remove', { ids: ['s1', 's3'] })
    expect(await blocks()).toEqual([[true, 's2']])
    await library.ask('edits.undo', { lessonId })
    expect(await blocks()).toEqual([[true, 's1 s2 s3']])
  })
})
