import fs from 'node:fs'
import path from 'node:path'
import { z } from 'zod'
import { writeWhole } from './write-whole.ts'
import { keepWord, phrase, type Word } from '../../../shared-core/wording/phrase.ts'

/**
 * Originals that nothing in the library speaks of. No program deletes one on its own: they are moved here, listed, can be
 * taken back into a lesson, and go when the coach says so (or with the student they show).
 */
const entrySchema = z.object({
  /** Name in the folder `set-aside`. */
  name: z.string(),
  kind: z.enum(['clip', 'talk-through', 'picture', 'other']),
  byteLength: z.number().int().nonnegative(),
  setAsideAt: z.string(),
  /** As it is kept (`keepWord`). */
  why: z.string(),
  /** SHA-256 of a clip, by its name; null for anything else. */
  hash: z.string().nullable(),
  /** Students whose lessons it was in; empty if that isn't known. */
  studentIds: z.array(z.string()),
})
export type SetAside = z.infer<typeof entrySchema>

/** After this time the coach is asked whether it may go. */
export const askAfterDays = 90

export const setAsideFolder = (library: string) => path.join(library, 'set-aside')
const listFile = (library: string) => path.join(setAsideFolder(library), 'list.json')

const readList = (library: string): SetAside[] => {
  try {
    const read = z.array(z.unknown()).parse(JSON.parse(fs.readFileSync(listFile(library), 'utf8')))
    return read.flatMap((entry) => entrySchema.safeParse(entry).data ?? [])
  } catch {
    return []
  }
}

const writeList = (library: string, list: readonly SetAside[]) =>
  writeWhole(listFile(library), JSON.stringify(list, null, 1))

const isHash = (text: string) => /^[0-9a-f]{64}$/.test(text)

/** What lies in `set-aside`: the list, and files that are there without being on it. */
export const listSetAside = (library: string): SetAside[] => {
  const folder = setAsideFolder(library)
  if (!fs.existsSync(folder)) return []
  const known = new Map(readList(library).map((entry) => [entry.name, entry]))
  return fs
    .readdirSync(folder, { withFileTypes: true })
    .filter((file) => file.isFile() && file.name !== 'list.json' && !file.name.endsWith('.part'))
    .map(({ name }) => {
      const { size, mtime } = fs.statSync(path.join(folder, name))
      const hash = name.split('.')[0]!
      return (
        known.get(name) ?? {
          name,
          kind: isHash(hash) ? ('clip' as const) : ('other' as const),
          byteLength: size,
          setAsideAt: mtime.toISOString(),
          why: keepWord(phrase('aside.found')),
          hash: isHash(hash) ? hash : null,
          studentIds: [],
        }
      )
    })
}

const freeIn = (folder: string, name: string): string => {
  const { name: stem, ext } = path.parse(name)
  for (let n = 1; ; n += 1) {
    const candidate = n === 1 ? name : `${stem}.${n}${ext}`
    if (!fs.existsSync(path.join(folder, candidate))) return candidate
  }
}

/** Moves files of the library to `set-aside`; what is gone already is passed over. */
export const setAside = (
  library: string,
  files: readonly { file: string; kind: SetAside['kind']; why: Word; studentIds?: readonly string[] }[],
  now: Date,
): number => {
  const there = files.filter(({ file }) => fs.existsSync(file))
  if (there.length === 0) return 0
  const folder = setAsideFolder(library)
  fs.mkdirSync(folder, { recursive: true })
  const list = listSetAside(library)
  for (const { file, kind, why, studentIds = [] } of there) {
    const name = freeIn(folder, path.basename(file))
    const hash = path.basename(file).split('.')[0]!
    const { size } = fs.statSync(file)
    fs.renameSync(file, path.join(folder, name))
    list.push({
      name,
      kind,
      byteLength: size,
      setAsideAt: now.toISOString(),
      why: keepWord(why),
      hash: isHash(hash) ? hash : null,
      studentIds: [...studentIds],
    })
  }
  writeList(library, list)
  return there.length
}

/** The file behind a name of the list; null if there is none such (a name that leaves the folder is none). */
export const setAsideFile = (library: string, name: string): string | null => {
  const entry = listSetAside(library).find((e) => e.name === name)
  return entry ? path.join(setAsideFolder(library), entry.name) : null
}

/** Deletes what `isMeant` names from `set-aside`, for good; what was deleted. */
export const deleteSetAside = (library: string, isMeant: (entry: SetAside) => boolean): SetAside[] => {
  const list = listSetAside(library)
  const gone = list.filter(isMeant)
  if (gone.length === 0) return []
  for (const { name } of gone) fs.rmSync(path.join(setAsideFolder(library), name), { force: true })
  writeList(
    library,
    list.filter((entry) => !gone.includes(entry)),
  )
  return gone
}

/** For deleting a student: everything set aside of these hashes, or of this student. */
export const deleteSetAsideOf = (
  library: string,
  of: { studentId: string | null; hashes: readonly string[] },
): SetAside[] =>
  deleteSetAside(
    library,
    ({ hash, studentIds }) =>
      (hash !== null && of.hashes.includes(hash)) ||
      (of.studentId !== null && studentIds.includes(of.studentId)),
  )
