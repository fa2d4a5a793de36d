import path from 'node:path'
import Database from 'better-sqlite3'
import { databaseFile } from '../database/database-file.ts'
import { filesIn, type DeletionPlan } from './plan.ts'

/** Other databases inside the library's folder: kept before an update, or set aside. They hold what the library held. */
export const copiesIn = (folder: string): string[] =>
  filesIn(folder).filter((file) => /\.sqlite(-\d+)?$/.test(file) && file !== databaseFile(folder))

const tablesOf = (sqlite: Database.Database): Set<string> =>
  new Set(
    (sqlite.prepare(`SELECT name FROM sqlite_schema WHERE type = 'table'`).all() as { name: string }[]).map(
      ({ name }) => name,
    ),
  )

/**
 * Takes what is to be deleted out of a copy of the database, whatever schema it has, and writes the copy anew so that
 * nothing stays in free pages.
 *
 * @returns hashes of clips that only the deleted lessons used in that copy
 * @throws if the copy can't be opened or written
 */
export const scrubCopy = (file: string, plan: DeletionPlan): string[] => {
  const sqlite = new Database(file, { fileMustExist: true })
  try {
    sqlite.pragma('journal_mode = DELETE')
    sqlite.pragma('secure_delete = ON')
    sqlite.pragma('foreign_keys = ON')
    const tables = tablesOf(sqlite)
    const hashes: string[] = []
    const ids = (values: readonly string[]) => JSON.stringify(values)
    sqlite.transaction(() => {
      const run = (table: string, where: string, ...values: unknown[]) => {
        if (tables.has(table)) sqlite.prepare(`DELETE FROM ${table} WHERE ${where}`).run(...values)
      }
      // A copy may know lessons of the student that were deleted since.
      const lessons = (
        sqlite
          .prepare('SELECT id FROM lesson WHERE student_id = ? OR id IN (SELECT value FROM json_each(?))')
          .all(plan.studentId, ids(plan.lessonIds)) as { id: string }[]
      ).map(({ id }) => id)
      const within = 'IN (SELECT value FROM json_each(?))'
      run('job', `lesson_id ${within}`, ids(lessons))
      run('edit', `lesson_id ${within}`, ids(lessons))
      run('lesson', `id ${within}`, ids(lessons))
      if (plan.studentId !== null) {
        run('student', 'id = ?', plan.studentId)
        run(
          'job',
          `? IN (json_extract(task, '$.studentId'), json_extract(task, '$.takenInto'))`,
          plan.studentId,
        )
      }
      run('coach_picture', `id ${within}`, ids(plan.pictureIds))
      const unused = tables.has('edit_row')
        ? `hash NOT IN (SELECT media_hash FROM clip) AND hash NOT IN (
             SELECT json_extract(coalesce(before, after), '$.media_hash') FROM edit_row
             WHERE table_name = 'clip' AND json_extract(coalesce(before, after), '$.media_hash') IS NOT NULL)`
        : 'hash NOT IN (SELECT media_hash FROM clip)'
      hashes.push(
        ...(sqlite.prepare(`SELECT hash FROM media WHERE ${unused}`).all() as { hash: string }[]).map(
          ({ hash }) => hash,
        ),
      )
      run('media', unused)
    })()
    sqlite.exec('VACUUM')
    return hashes
  } finally {
    sqlite.close()
  }
}

/** The name of a copy as it is told to the coach. */
export const copyName = (folder: string, file: string): string => path.relative(folder, file)
