import fs from 'node:fs'
import path from 'node:path'
import { dropUnusedCoachPictures } from './coach/coach-pictures.ts'
import type { LibraryContext } from './context.ts'
import { setAside } from './custody/set-aside.ts'
import { phrase } from '../../shared-core/wording/phrase.ts'

type Swept = Pick<LibraryContext, 'sqlite' | 'paths' | 'now' | 'folder'>

/** Removes what a killed import left in `incoming/`; what a job of another process works in stays. */
export const clearIncoming = ({ paths, jobs }: Pick<LibraryContext, 'paths' | 'jobs'>, isAlone: boolean) => {
  for (const name of fs.readdirSync(paths.incoming)) {
    if (!isAlone && (jobs.isOwned(name) || !jobs.isKnown(name))) continue
    fs.rmSync(path.join(paths.incoming, name), { recursive: true, force: true })
  }
}

/** Working copies and pictures of a clip: made from the original, and made again when needed. */
const isPart = (name: string) => /\.(proxy\.mp4|poster\.jpg|strip\.jpg)$/.test(name)

/**
 * Takes out of `clips/` and `talk-throughs/` what nothing speaks of: originals go to `set-aside`, what can be made again
 * is deleted. Not while an import runs: its files are there before its rows.
 */
export const sweepMedia = (context: Swept) => {
  const { sqlite, paths, folder, now } = context
  setUnusedAside(context)
  dropUnusedCoachPictures(context)
  const known = new Set(
    (sqlite.prepare('SELECT hash FROM media').all() as { hash: string }[]).map((m) => m.hash),
  )
  const claimedFor = (hash: string) =>
    (
      sqlite
        .prepare(
          `SELECT l.student_id AS id FROM media_claim c JOIN job j ON j.id = c.job_id JOIN lesson l ON l.id = j.lesson_id
           WHERE c.hash = ?`,
        )
        .all(hash) as { id: string }[]
    ).map(({ id }) => id)
  const strays = fs.readdirSync(paths.clips).filter((name) => !known.has(name.split('.')[0]!))
  setAside(
    folder,
    strays
      .filter((name) => !isPart(name))
      .map((name) => ({
        file: path.join(paths.clips, name),
        kind: 'clip' as const,
        why: phrase('aside.clip'),
        studentIds: claimedFor(name.split('.')[0]!),
      })),
    now(),
  )
  for (const name of strays.filter(isPart)) fs.rmSync(path.join(paths.clips, name), { force: true })
  // A talk-through bears the number of the job that makes it; one that was cut off is made again under the same.
  const talks = new Set(
    (
      sqlite
        .prepare(`SELECT id FROM talk_through UNION SELECT id FROM job WHERE kind = 'talk-through'`)
        .all() as {
        id: string
      }[]
    ).map((talk) => talk.id),
  )
  setAside(
    folder,
    fs
      .readdirSync(paths.talks)
      .filter((name) => !talks.has(name.split('.')[0]!))
      .map((name) => ({
        file: path.join(paths.talks, name),
        kind: 'talk-through' as const,
        why: phrase('aside.talk'),
      })),
    now(),
  )
  // Claims of jobs that are no more.
  sqlite
    .prepare(
      `DELETE FROM media_claim WHERE job_id NOT IN (SELECT id FROM job WHERE state IN ('waiting', 'running'))`,
    )
    .run()
}

/** Media that neither a clip nor an undo speaks of: the original is set aside, its parts and its row go. */
const setUnusedAside = ({ sqlite, paths, folder, now }: Swept) => {
  const unused = sqlite
    .prepare(
      `SELECT hash, extension FROM media
       WHERE hash NOT IN (SELECT media_hash FROM clip)
         AND hash NOT IN (SELECT json_extract(coalesce(before, after), '$.media_hash') FROM edit_row WHERE table_name = 'clip')`,
    )
    .all() as { hash: string; extension: string }[]
  for (const { hash, extension } of unused) {
    const students = sqlite
      .prepare('SELECT student_id AS id FROM media_student WHERE hash = ?')
      .all(hash) as {
      id: string
    }[]
    setAside(
      folder,
      [
        {
          file: paths.original(hash, extension),
          kind: 'clip',
          why: phrase('aside.removed'),
          studentIds: students.map((s) => s.id),
        },
      ],
      now(),
    )
    for (const part of [paths.proxy(hash), paths.poster(hash), paths.strip(hash)]) {
      fs.rmSync(part, { force: true })
    }
    sqlite.prepare('DELETE FROM media WHERE hash = ?').run(hash)
  }
}
