import { createHash } from 'node:crypto'
import fs from 'node:fs'
import path from 'node:path'
import { afterAll, afterEach, beforeEach, describe, expect, it } from 'vitest'
import { listSetAside, setAsideFolder } from '../../electron/library/custody/set-aside.ts'
import { databaseFile } from '../../electron/library/database/database-file.ts'
import { Library } from '../../electron/library/library.ts'
import { makeClip } from './support/make-clip.ts'
import { openWithLesson, takeIn, temporaryFolder } from './support/temporary-library.ts'

let root: string
let folder: string
beforeEach(() => {
  root = temporaryFolder()
  folder = path.join(root, 'library')
})
afterEach(() => fs.rmSync(root, { recursive: true, force: true }))

const open = (options = {}) => new Library({ folder, printPdf: null, ...options })
const clip = (name: string, rate: number) => {
  const file = path.join(root, name)
  makeClip(file, { seconds: 0.4, rate, sound: false })
  return file
}
const hash = (file: string) => createHash('sha256').update(fs.readFileSync(file)).digest('hex')
/** Hashes of all bytes of originals anywhere in the library's folder. */
const originals = () =>
  new Set(
    ['clips', 'set-aside']
      .map((name) => path.join(folder, name))
      .filter((name) => fs.existsSync(name))
      .flatMap((name) => fs.readdirSync(name).map((file) => path.join(name, file)))
      .filter((file) => !/(proxy\.mp4|\.jpg|list\.json)$/.test(file))
      .map(hash),
  )

/** Made once, copied for each test: a library with two clips, and its database when there was only the first. */
let made: { root: string; lessonId: string; older: string; hashes: string[] } | null = null
const withTwoClips = async () => {
  if (!made) {
    const before = root
    root = temporaryFolder()
    folder = path.join(root, 'library')
    made = { root, ...(await makeTwoClips()) }
    root = before
    folder = path.join(root, 'library')
  }
  fs.cpSync(path.join(made.root, 'library'), folder, { recursive: true })
  return made
}
afterAll(() => made && fs.rmSync(made.root, { recursive: true, force: true }))
const makeTwoClips = async () => {
  const { library, lessonId } = await openWithLesson(folder)
  const files = [clip('one.mp4', 30), clip('two.mp4', 31)]
  await takeIn(library, lessonId, [files[0]!])
  library.context.sqlite.pragma('wal_checkpoint(TRUNCATE)')
  const older = path.join(root, 'older.sqlite')
  fs.copyFileSync(databaseFile(folder), older)
  await takeIn(library, lessonId, [files[1]!])
  await library.ask('lesson.update', { id: lessonId, patch: { title: 'two clips' } })
  await library.close()
  return { lessonId, older, hashes: files.map(hash) }
}
const putBack = (file: string | null) => {
  for (const end of ['', '-wal', '-shm']) fs.rmSync(`${databaseFile(folder)}${end}`, { force: true })
  if (file) fs.copyFileSync(file, databaseFile(folder))
}

describe('records that are not those of the files', () => {
  it.each([
    ['missing', () => putBack(null)],
    ['older', (older: string) => putBack(older)],
    [
      'empty',
      () => {
        putBack(null)
        const library = new Library({ folder: path.join(root, 'new'), printPdf: null })
        library.context.sqlite.pragma('wal_checkpoint(TRUNCATE)')
        fs.copyFileSync(databaseFile(path.join(root, 'new')), databaseFile(folder))
        return library.close()
      },
    ],
    [
      'damaged',
      () => {
        putBack(null)
        fs.writeFileSync(databaseFile(folder), 'this is a letter, not a library. '.repeat(200))
      },
    ],
  ])(
    '%s: said before anything else, nothing is deleted or written, and rebuilding loses no clip',
    async (kind, harm) => {
      const { older, hashes } = await withTwoClips()
      await harm(older)
      const before = fs.existsSync(databaseFile(folder)) ? hash(databaseFile(folder)) : null
      for (let opening = 0; opening < 2; opening += 1) {
        const looking = open()
        expect(looking.trouble).toMatchObject({ kind, clips: 2 })
        expect(await looking.ask('library.state', {})).toMatchObject({ trouble: { kind } })
        await expect(looking.ask('student.create', { name: 'New', side: 'left' })).rejects.toMatchObject({
          code: 'look-only',
        })
        await looking.close()
        expect(originals()).toEqual(new Set(hashes))
      }
      if (kind === 'damaged') expect(hash(databaseFile(folder))).toBe(before)
      if (kind === 'missing') expect(fs.existsSync(databaseFile(folder))).toBe(false)
      const rebuilt = open({ rebuild: true })
      expect(rebuilt.trouble).toBeNull()
      for (const job of rebuilt.context.jobs.list()) await rebuilt.context.jobs.ended(job.id)
      const found = (await rebuilt.ask('roster.list', {})).find((s) => s.name === 'Found clips')
      expect(found!.lessons[0]!.clipCount).toBe(kind === 'older' ? 1 : 2)
      expect(listSetAside(folder).filter((entry) => entry.kind === 'clip')).toEqual([])
      expect(originals()).toEqual(new Set([...hashes, ...(kind === 'damaged' ? [before!] : [])]))
      await rebuilt.close()
      const after = open()
      expect(after.trouble).toBeNull()
      await after.close()
    },
  )

  it('a library on which nothing happened is opened again and again without a word', async () => {
    await withTwoClips()
    for (let n = 0; n < 3; n += 1) {
      const library = open()
      expect(library.trouble).toBeNull()
      await library.close()
    }
    expect(fs.existsSync(setAsideFolder(folder))).toBe(false)
  })
})

describe('one file taken in twice at once', () => {
  const partsOf = (name: string) =>
    fs.readdirSync(path.join(folder, 'clips')).filter((file) => file.startsWith(name)).length

  it('into one lesson, and into two, keeps one set of parts, and says which was there already', async () => {
    const { library, lessonId, studentId } = await openWithLesson(folder)
    const { id: second } = await library.ask('lesson.create', { studentId, date: '2026-05-02' })
    const file = clip('swing.mp4', 30)
    const { jobIds: same } = await library.ask('clips.add', { lessonId, files: [file, file] })
    const { jobIds: other } = await library.ask('clips.add', { lessonId: second, files: [file] })
    const jobs = await Promise.all([...same, ...other].map((id) => library.context.jobs.ended(id)))
    expect(jobs.map((j) => [j.state, j.result?.replace(/ as .*/, '')]).toSorted()).toEqual([
      ['done', 'added'],
      ['done', 'added'],
      ['done', 'already in this lesson'],
    ])
    await library.context.jobs.idle()
    expect(partsOf(hash(file))).toBe(4)
    expect((await library.ask('library.check', {})).lines.filter((line) => !line.ok)).toEqual([])
    await library.close()
  })

  it('by two processes keeps one set of parts', async () => {
    const { library, lessonId, studentId } = await openWithLesson(folder)
    const { id: second } = await library.ask('lesson.create', { studentId, date: '2026-05-02' })
    const file = clip('swing.mp4', 30)
    const there = new Library({ folder, printPdf: null })
    const [here, away] = await Promise.all([takeIn(library, lessonId, [file]), takeIn(there, second, [file])])
    expect([here[0]!.result, away[0]!.result]).toEqual(['added', 'added'])
    expect(partsOf(hash(file))).toBe(4)
    await there.close()
    await library.close()
  })

  it('one that fails takes nothing away that another made', async () => {
    const { library, lessonId } = await openWithLesson(folder)
    const file = clip('swing.mp4', 30)
    const original = path.join(folder, 'clips', `${hash(file)}.mp4`)
    fs.copyFileSync(file, original)
    const { jobIds } = await library.ask('clips.add', { lessonId, files: [file] })
    library.context.sqlite.exec(
      `CREATE TEMP TRIGGER refuse BEFORE INSERT ON main.clip BEGIN SELECT RAISE(FAIL, 'refused for the test'); END`,
    )
    expect((await library.context.jobs.ended(jobIds[0]!)).state).toBe('failed')
    expect(fs.existsSync(original)).toBe(true)
    expect(partsOf(hash(file))).toBe(1)
    await library.close()
  })
})

describe('while the library is open', () => {
  it('and its folder goes, the next edit is refused, not acknowledged; and works again when the folder is back', async () => {
    const { library, lessonId } = await openWithLesson(folder)
    const places: unknown[] = []
    await library.close()
    const watched = open({
      emit: (name: string, body: unknown) => name === 'library.place' && places.push(body),
    })
    await watched.ask('lesson.update', { id: lessonId, patch: { title: 'before' } })
    const away = path.join(root, 'away')
    fs.renameSync(folder, away)
    await expect(
      watched.ask('lesson.update', { id: lessonId, patch: { title: 'lost?' } }),
    ).rejects.toMatchObject({
      code: 'folder-gone',
      toDo: expect.stringContaining('Connect the drive again') as string,
    })
    expect(places).toEqual([{ isThere: false, isReplaced: false }])
    fs.renameSync(away, folder)
    await watched.ask('lesson.update', { id: lessonId, patch: { title: 'after' } })
    expect(places).toHaveLength(2)
    await watched.close()
    const again = open()
    expect((await again.ask('lesson.open', { lessonId })).lesson.title).toBe('after')
    await again.close()
  })

  it('closing it with its folder gone is no error either', async () => {
    const { library } = await openWithLesson(folder)
    fs.renameSync(folder, path.join(root, 'away'))
    await library.close()
    expect(fs.existsSync(folder)).toBe(false)
  })
})
