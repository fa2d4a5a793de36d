import fs from 'node:fs'
import path from 'node:path'
import { desc, eq } from 'drizzle-orm'
import type { LibraryContext } from '../context.ts'
import { scrubCopy } from '../deletion/copies.ts'
import type { DeletionPlan } from '../deletion/plan.ts'
import * as t from '../database/schema.ts'
import { BackupFile, type Snapshot } from './backup-file.ts'

/** Without a backup for this long the coach is told, again and again. */
const nagAfterDays = 14
const dayMs = 24 * 3600 * 1000

/** Files that this library's backups went into, newest first; a drive may be elsewhere now. */
export const backupFiles = ({
  db,
}: Pick<LibraryContext, 'db'>): { file: string; isThere: boolean; madeAt: string }[] => {
  const newest = new Map<string, string>()
  for (const { file, madeAt } of db.select().from(t.backup).orderBy(desc(t.backup.madeAt)).all()) {
    if (!newest.has(file)) newest.set(file, madeAt)
  }
  return [...newest].map(([file, madeAt]) => ({ file, madeAt, isThere: fs.existsSync(file) }))
}

/** When the last backup was made; whether that, or work without any, is too long ago. */
export const backupState = (context: Pick<LibraryContext, 'db' | 'sqlite' | 'now'>) => {
  const lastMadeAt = backupFiles(context)[0]?.madeAt ?? null
  const since =
    lastMadeAt ??
    (context.sqlite.prepare('SELECT min(created_at) AS first FROM student').get() as { first: string | null })
      .first
  const isOverdue = since !== null && context.now().getTime() - Date.parse(since) > nagAfterDays * dayMs
  return { lastMadeAt, isOverdue }
}

/**
 * Clips whose bytes were no longer those of their hash when the newest backup at hand was made: it holds them as they were
 * found. By name, as the coach knows them.
 */
export const damagedInBackup = (context: Pick<LibraryContext, 'db'>): string[] => {
  const newest = backupFiles(context).find((backup) => backup.isThere)
  if (!newest) return []
  let backup: BackupFile | undefined
  try {
    backup = BackupFile.open(newest.file)
    const [snapshot] = backup.snapshots()
    const wrong = (snapshot ? backup.files(snapshot.id) : []).flatMap(({ path: name, hash }) => {
      const named = /^clips\/([0-9a-f]{64})\.[^.]+$/.exec(name)?.[1]
      return named === undefined || named === hash ? [] : [named]
    })
    return wrong.map(
      (hash) =>
        context.db.select().from(t.clip).where(eq(t.clip.mediaHash, hash)).get()?.fileName ??
        `clip ${hash.slice(0, 8)}`,
    )
  } catch {
    // A damaged backup is told by making the next one.
    return []
  } finally {
    backup?.close()
  }
}

/** What is in a backup file. @throws Problem `not-a-backup`, `backup-newer` */
export const lookIntoBackup = (file: string): Snapshot[] => {
  const backup = BackupFile.open(file)
  try {
    return backup.snapshots()
  } finally {
    backup.close()
  }
}

/**
 * For deleting for good: takes a student, or lessons, out of every backup that can be reached, records and files; what is
 * deleted is overwritten in the file. A backup on a drive that is not there is named: it still holds them.
 */
export const deleteFromBackups = async (
  context: Pick<LibraryContext, 'db' | 'paths'>,
  gone: DeletionPlan,
): Promise<{ rewritten: string[]; stillHolding: string[] }> => {
  const rewritten: string[] = []
  const stillHolding: string[] = []
  for (const { file } of backupFiles(context)) {
    try {
      await forgetIn(file, gone, context.paths.incoming)
      rewritten.push(file)
    } catch {
      stillHolding.push(file)
    }
  }
  return { rewritten, stillHolding }
}

const forgetIn = async (file: string, gone: DeletionPlan, incoming: string) => {
  const backup = BackupFile.open(file, 'write')
  const work = path.join(incoming, 'forgetting')
  try {
    fs.rmSync(work, { recursive: true, force: true })
    fs.mkdirSync(work, { recursive: true })
    const names = new Set([...gone.hashes, ...gone.talkIds, ...gone.pictureIds])
    for (const { id } of backup.snapshots()) {
      const database = backup.files(id).find((f) => f.path === 'library.sqlite')
      if (!database) continue
      const copy = path.join(work, 'library.sqlite')
      await backup.writeTo(database.hash, copy)
      for (const hash of scrubCopy(copy, gone)) names.add(hash)
      const hash = await backup.take(copy, { deflate: true })
      backup.sqlite
        .prepare(
          `UPDATE snapshot_file SET hash = ?, byte_length = ? WHERE snapshot_id = ? AND path = 'library.sqlite'`,
        )
        .run(hash, fs.statSync(copy).size, id)
      fs.rmSync(copy, { force: true })
    }
    const drop = backup.sqlite.prepare(`DELETE FROM snapshot_file WHERE path GLOB '*/' || ? || '.*'`)
    backup.sqlite
      .transaction(() => {
        for (const name of names) drop.run(name)
        backup.dropUnused()
      })
      .immediate()
    backup.sqlite.exec('VACUUM')
  } finally {
    backup.close()
    fs.rmSync(work, { recursive: true, force: true })
  }
}
