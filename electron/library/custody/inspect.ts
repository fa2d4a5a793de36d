import fs from 'node:fs'
import path from 'node:path'
import type { Sqlite } from '../database/open.ts'
import { databaseFile } from '../database/database-file.ts'
import { markBeside, markOf } from './mark.ts'
import { phrase, sayWord, type Phrase } from '../../../shared-core/wording/phrase.ts'

/**
 * A library whose records can't be those of its files. Nothing is written, tidied or deleted in it until the coach has
 * chosen: restore a backup, rebuild from the files, or only look.
 */
export interface Trouble {
  kind: 'missing' | 'damaged' | 'empty' | 'older'
  /** Originals in `clips/`. */
  clips: number
  /** Those of them that the records don't know. */
  unknownClips: number
}

const isPart = (name: string) => /\.(proxy\.mp4|poster\.jpg|strip\.jpg)$/.test(name)

/** Originals in `clips/`, by file name. */
export const originalsIn = (folder: string): string[] => {
  const clips = path.join(folder, 'clips')
  if (!fs.existsSync(clips)) return []
  return fs.readdirSync(clips).filter((name) => /^[0-9a-f]{64}\./.test(name) && !isPart(name))
}

/** The database is not there, but what it kept is. */
export const isMissing = (folder: string): boolean => {
  const file = databaseFile(folder)
  const isThere = fs.existsSync(file) && fs.statSync(file).size > 0
  return !isThere && (originalsIn(folder).length > 0 || markBeside(folder) !== null)
}

/** Looks at an opened database and the files beside it; null if they go together. */
export const troubleOf = (sqlite: Sqlite, folder: string): Trouble | null => {
  const originals = originalsIn(folder)
  const known = new Set(
    (sqlite.prepare('SELECT hash FROM media').all() as { hash: string }[]).map((m) => m.hash),
  )
  const unknownClips = originals.filter((name) => !known.has(name.slice(0, 64))).length
  const found = { clips: originals.length, unknownClips }
  const { students } = sqlite.prepare('SELECT count(*) AS students FROM student').get() as {
    students: number
  }
  if (students === 0 && known.size === 0 && unknownClips > 0) return { kind: 'empty', ...found }
  const beside = markBeside(folder)
  const own = markOf(sqlite)
  if (beside && (beside.id !== own.id || beside.sequence > own.sequence)) return { kind: 'older', ...found }
  return null
}

/** The trouble in a sentence for the coach. */
export const troubleWords = ({ kind, clips, unknownClips }: Trouble): string =>
  sayWord(troublePhrase(kind, clips, unknownClips))

const troublePhrase = (kind: Trouble['kind'], clips: number, unknown: number): Phrase => {
  if (kind !== 'older') return phrase(`trouble.${kind}`, { clips })
  return unknown > 0 ? phrase('trouble.olderThanFiles', { unknown, clips }) : phrase('trouble.older')
}
