import { randomUUID } from 'node:crypto'
import fs from 'node:fs'
import path from 'node:path'
import { z } from 'zod'
import type { Sqlite } from '../database/open.ts'
import { writeWhole } from './write-whole.ts'

/**
 * How far a library has come, in the database and in a file beside it. The database's number is written first, so in one
 * history the file is never ahead. A file that is ahead means an older database was put in the newer one's place.
 */
const markSchema = z.object({ id: z.string(), sequence: z.number().int().nonnegative() })
export type Mark = z.infer<typeof markSchema>

export const markFile = (folder: string) => path.join(folder, 'library.sequence.json')

/** The number beside the database; null if there is none, or none that can be read. */
export const markBeside = (folder: string): Mark | null => {
  try {
    return markSchema.parse(JSON.parse(fs.readFileSync(markFile(folder), 'utf8')))
  } catch {
    return null
  }
}

/** The database's own number. */
export const markOf = (sqlite: Sqlite): Mark => {
  const there = sqlite.prepare('SELECT id, sequence FROM library_mark').get() as Mark | undefined
  return there ?? { id: '', sequence: 0 }
}

/** Counts on, at least past `over`, in the database and then beside it. */
export const countOn = (sqlite: Sqlite, folder: string, over = 0): Mark => {
  sqlite
    .prepare('INSERT INTO library_mark SELECT ?, 0 WHERE NOT EXISTS (SELECT 1 FROM library_mark)')
    .run(randomUUID())
  const mark = sqlite
    .prepare('UPDATE library_mark SET sequence = max(sequence, ?) + 1 RETURNING id, sequence')
    .get(over) as Mark
  writeWhole(markFile(folder), JSON.stringify(mark))
  return mark
}
