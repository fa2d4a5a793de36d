import fs from 'node:fs'
import path from 'node:path'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'

/** Takes away half-written hand-overs and lesson files (`….part`) that nobody is writing any more. */
export const clearLeftParts = ({ db, jobs }: Pick<LibraryContext, 'db' | 'jobs'>): void => {
  for (const { id, kind, task } of db.select().from(t.job).all()) {
    const { folder } = task
    if ((kind !== 'hand-over' && kind !== 'give-lesson') || typeof folder !== 'string' || jobs.isOwned(id)) {
      continue
    }
    try {
      for (const name of fs.readdirSync(folder)) {
        if (!name.startsWith('.') || !name.endsWith(`-${id}.part`)) continue
        fs.rmSync(path.join(folder, name), { recursive: true, force: true })
      }
    } catch {
      // The folder is gone, or on a drive that is not there now.
    }
  }
}
