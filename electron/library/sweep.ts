import fs from 'node:fs'
import path from 'node:path'
import { dropUnusedCoachPictures } from './coach/coach-pictures.ts'
import type { LibraryContext } from './context.ts'

/** Removes what a killed import left in `incoming/`. */
export const clearIncoming = ({ paths }: Pick<LibraryContext, 'paths'>) => {
  for (const name of fs.readdirSync(paths.incoming)) {
    fs.rmSync(path.join(paths.incoming, name), { recursive: true, force: true })
  }
}

/**
 * Removes clip files that no clip and no undoable edit speaks of any more; rows of such media go with their files.
 * Not while an import runs: its files are there before its rows.
 */
export const sweepMedia = (context: Pick<LibraryContext, 'sqlite' | 'paths' | 'now'>) => {
  const { sqlite, paths } = context
  dropUnusedMedia(context)
  dropUnusedCoachPictures(context)
  const known = new Set(
    (sqlite.prepare('SELECT hash FROM media').all() as { hash: string }[]).map((m) => m.hash),
  )
  for (const name of fs.readdirSync(paths.clips)) {
    if (!known.has(name.split('.')[0]!)) fs.rmSync(path.join(paths.clips, name), { force: true })
  }
}

/** Deletes the files of media that nothing refers to; returns how many files went. */
export const dropUnusedMedia = ({ sqlite, paths }: Pick<LibraryContext, 'sqlite' | 'paths'>): number => {
  const unused = sqlite
    .prepare(
      `SELECT hash, extension FROM media
       WHERE hash NOT IN (SELECT media_hash FROM clip)
         AND hash NOT IN (SELECT json_extract(coalesce(before, after), '$.media_hash') FROM edit_row WHERE table_name = 'clip')`,
    )
    .all() as { hash: string; extension: string }[]
  let files = 0
  for (const { hash, extension } of unused) {
    for (const file of [
      paths.original(hash, extension),
      paths.proxy(hash),
      paths.poster(hash),
      paths.strip(hash),
    ]) {
      if (fs.existsSync(file)) {
        fs.rmSync(file)
        files += 1
      }
    }
    sqlite.prepare('DELETE FROM media WHERE hash = ?').run(hash)
  }
  return files
}
