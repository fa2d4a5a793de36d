import { fork } from 'node:child_process'
import fs from 'node:fs'
import path from 'node:path'
import { expect, test } from 'vitest'
import { Library } from '../../electron/library/library.ts'
import { openWithLesson, temporaryFolder } from './support/temporary-library.ts'

/** Each writes an edit (a line of a note, merged) and a record; the full size is 3 × 600. */
const each = Number(process.env.LEADSIDE_EDITS ?? 600)

test(`three processes writing at once: 3 × ${each} edits, none refused, none lost`, async () => {
  const folder = temporaryFolder()
  const { library, lessonId } = await openWithLesson(folder)
  await library.close()
  const results = await Promise.all(
    ['a', 'b', 'c'].map(
      (name) =>
        new Promise<{ refused: string[]; count: number }>((resolve, reject) => {
          const child = fork(path.join(import.meta.dirname, 'support/edit-often.ts'), [
            folder,
            lessonId,
            String(each),
            name,
          ])
          child.on('message', (message) => 'refused' in (message as object) && resolve(message as never))
          child.once('exit', (code) => reject(new Error(`ended with ${code}`)))
        }),
    ),
  )
  expect(results.flatMap((r) => r.refused)).toEqual([])
  const after = new Library({ folder, printPdf: null })
  const wanted = ['a', 'b', 'c'].flatMap((name) => Array.from({ length: each }, (_, n) => `${name}${n}`))
  const { lesson } = await after.ask('lesson.open', { lessonId })
  expect(lesson.note.split('\n').toSorted()).toEqual(wanted.toSorted())
  const names = (await after.ask('roster.list', {})).map((s) => s.name)
  expect(names.filter((name) => name !== 'Robin Testing').toSorted()).toEqual(wanted.toSorted())
  await after.close()
  console.log(`edits by three processes at once: ${2 * 3 * each}, refused 0, lost 0`)
  fs.rmSync(folder, { recursive: true, force: true })
})
