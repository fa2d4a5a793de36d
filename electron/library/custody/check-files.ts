import fs from 'node:fs'
import path from 'node:path'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'
import { hashOf } from '../media/copy.ts'
import { backupState } from './backups.ts'
import { listSetAside } from './set-aside.ts'
import { localDay } from '../../../shared-core/model/local-day.ts'
import { said } from '../../../shared-core/wording/phrase.ts'

/** What is wrong with the files of one clip. */
export interface FileFault {
  hash: string
  /** The original is gone, or is not what its hash says. */
  original: 'missing' | 'differs' | null
  /** Working copy and pictures that are not there. */
  parts: ('proxy' | 'poster' | 'strip')[]
}

type Checked = Pick<LibraryContext, 'db' | 'sqlite' | 'paths' | 'folder' | 'now'>

/** Compares every clip's files with the records; `say` is told how far it is. */
export const fileFaults = async (
  { db, paths }: Checked,
  say: (share: number) => void = () => {},
  signal?: AbortSignal,
): Promise<FileFault[]> => {
  const all = db.select().from(t.media).all()
  const faults: FileFault[] = []
  for (const [i, { hash, extension, hasProxy }] of all.entries()) {
    say(i / all.length)
    const file = paths.original(hash, extension)
    const original = !fs.existsSync(file)
      ? 'missing'
      : (await hashOf(file, { signal })) === hash
        ? null
        : 'differs'
    const parts = (['proxy', 'poster', 'strip'] as const).filter(
      (part) => (part !== 'proxy' || hasProxy) && !fs.existsSync(paths[part](hash)),
    )
    if (original !== null || parts.length > 0) faults.push({ hash, original, parts })
  }
  return faults
}

const clipName = ({ sqlite }: Checked, hash: string): string => {
  const row = sqlite
    .prepare(
      `SELECT c.file_name AS name, l.date, s.name AS student FROM clip c JOIN lesson l ON l.id = c.lesson_id
       JOIN student s ON s.id = l.student_id WHERE c.media_hash = ? ORDER BY l.date LIMIT 1`,
    )
    .get(hash) as { name: string; date: string; student: string } | undefined
  return row
    ? said('check.clipOf', { clip: row.name, student: row.student, day: row.date })
    : said('name.clipNumbered', { name: hash.slice(0, 8) })
}

/** Lines of `check` about what is kept: files by their hashes, talk-throughs, pictures, what was set aside, backups. */
export const keepingLines = async (context: Checked): Promise<{ ok: boolean; text: string }[]> => {
  const { db, paths, folder } = context
  const lines: { ok: boolean; text: string }[] = []
  const faults = await fileFaults(context)
  for (const { hash, original, parts } of faults) {
    const name = clipName(context, hash)
    if (original === 'missing') lines.push({ ok: false, text: said('check.clipMissing', { clip: name }) })
    if (original === 'differs') lines.push({ ok: false, text: said('check.clipDiffers', { clip: name }) })
    if (parts.length > 0) {
      lines.push({ ok: false, text: said('check.partsMissing', { parts: parts.join(', '), clip: name }) })
    }
  }
  const total = db.select({ hash: t.media.hash }).from(t.media).all().length
  const bad = faults.filter((fault) => fault.original !== null).length
  lines.push({ ok: bad === 0, text: said('check.clipFiles', { good: total - bad, all: total }) })
  for (const { fileName, name } of db.select().from(t.talkThrough).all()) {
    if (!fs.existsSync(path.join(paths.talks, fileName))) {
      lines.push({ ok: false, text: said('check.talkMissing', { talk: name || fileName }) })
    }
  }
  for (const { id, extension } of db.select().from(t.coachPicture).all()) {
    if (!fs.existsSync(paths.coachPicture(id, extension))) {
      lines.push({ ok: false, text: said('check.pictureMissing', { file: `${id}${extension}` }) })
    }
  }
  const aside = listSetAside(folder)
  const bytes = aside.reduce((sum, { byteLength }) => sum + byteLength, 0)
  lines.push({
    ok: true,
    text: aside.length
      ? said('check.setAside', { files: aside.length, megabytes: (bytes / 1e6).toFixed(1) })
      : said('check.nothingSetAside'),
  })
  const { lastMadeAt, isOverdue } = backupState(context)
  lines.push({
    ok: !isOverdue,
    text: lastMadeAt
      ? said('check.lastBackup', { day: localDay(new Date(lastMadeAt)) })
      : said('check.noBackup'),
  })
  return lines
}
