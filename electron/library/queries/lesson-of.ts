import type { Sqlite } from '../database/open.ts'
import { Problem } from '../../../shared-core/problem.ts'
import { phrase } from '../../../shared-core/wording/phrase.ts'

const paths = {
  lesson: ['record.lesson', 'SELECT id FROM lesson WHERE id = ?'],
  clip: ['record.clip', 'SELECT lesson_id AS id FROM clip WHERE id = ?'],
  shot: ['record.shot', 'SELECT lesson_id AS id FROM shot WHERE id = ?'],
  swing: ['record.swing', 'SELECT lesson_id AS id FROM swing WHERE id = ?'],
  block: ['record.block', 'SELECT lesson_id AS id FROM block WHERE id = ?'],
  comparison: ['record.comparison', 'SELECT lesson_id AS id FROM comparison WHERE id = ?'],
  face_photo: ['record.photo', 'SELECT lesson_id AS id FROM face_photo WHERE id = ?'],
  view: [
    'record.view',
    'SELECT s.lesson_id AS id FROM view v JOIN swing s ON s.id = v.swing_id WHERE v.id = ?',
  ],
  moment: [
    'record.moment',
    'SELECT s.lesson_id AS id FROM moment m JOIN view v ON v.id = m.view_id JOIN swing s ON s.id = v.swing_id WHERE m.id = ?',
  ],
  cue: [
    'record.cue',
    `SELECT s.lesson_id AS id FROM cue c JOIN moment m ON m.id = c.moment_id
     JOIN view v ON v.id = m.view_id JOIN swing s ON s.id = v.swing_id WHERE c.id = ?`,
  ],
  drawing: [
    'record.drawing',
    'SELECT s.lesson_id AS id FROM drawing d JOIN view v ON v.id = d.view_id JOIN swing s ON s.id = v.swing_id WHERE d.id = ?',
  ],
} as const

/** The lesson a record belongs to. @throws Problem `gone` if it is no longer there. */
export const lessonOf = (sqlite: Sqlite, kind: keyof typeof paths, id: string): string => {
  const [word, sql] = paths[kind]
  const row = sqlite.prepare(sql).get(id) as { id: string } | undefined
  if (!row) {
    throw new Problem('gone.record', { record: phrase(word), where: id })
  }
  return row.id
}
