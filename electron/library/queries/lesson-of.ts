import type { Sqlite } from '../database/open.ts'
import { Problem } from '../../../shared-core/problem.ts'

const paths = {
  lesson: ['lesson', 'SELECT id FROM lesson WHERE id = ?'],
  clip: ['clip', 'SELECT lesson_id AS id FROM clip WHERE id = ?'],
  shot: ['shot', 'SELECT lesson_id AS id FROM shot WHERE id = ?'],
  swing: ['swing', 'SELECT lesson_id AS id FROM swing WHERE id = ?'],
  block: ['block', 'SELECT lesson_id AS id FROM block WHERE id = ?'],
  comparison: ['comparison', 'SELECT lesson_id AS id FROM comparison WHERE id = ?'],
  face_photo: ['photo', 'SELECT lesson_id AS id FROM face_photo WHERE id = ?'],
  view: ['view', 'SELECT s.lesson_id AS id FROM view v JOIN swing s ON s.id = v.swing_id WHERE v.id = ?'],
  moment: [
    'moment',
    'SELECT s.lesson_id AS id FROM moment m JOIN view v ON v.id = m.view_id JOIN swing s ON s.id = v.swing_id WHERE m.id = ?',
  ],
  cue: [
    'cue',
    `SELECT s.lesson_id AS id FROM cue c JOIN moment m ON m.id = c.moment_id
     JOIN view v ON v.id = m.view_id JOIN swing s ON s.id = v.swing_id WHERE c.id = ?`,
  ],
  drawing: [
    'drawing',
    'SELECT s.lesson_id AS id FROM drawing d JOIN view v ON v.id = d.view_id JOIN swing s ON s.id = v.swing_id WHERE d.id = ?',
  ],
} as const

/** The lesson a record belongs to. @throws Problem `gone` if it is no longer there. */
export const lessonOf = (sqlite: Sqlite, kind: keyof typeof paths, id: string): string => {
  const [word, sql] = paths[kind]
  const row = sqlite.prepare(sql).get(id) as { id: string } | undefined
  if (!row) {
    throw new Problem('gone', `this ${word} is no longer there`, {
      where: id,
      toDo: 'It may have been removed in another window',
    })
  }
  return row.id
}
