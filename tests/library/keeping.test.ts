import { createHash } from 'node:crypto'
import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it, vi } from 'vitest'
import { moveLibrary } from '../../electron/library/custody/move.ts'
import { LibraryHost } from '../../electron/library/host.ts'
import { Library } from '../../electron/library/library.ts'
import { choosePlace, chosenPlace, tidyPlace } from '../../electron/library/library-place.ts'
import { isRegistered, registerProcess } from '../../electron/library/process-registry.ts'
import { makeClip } from './support/make-clip.ts'
import { filesBelow, openWithLesson, takeIn, temporaryFolder } from './support/temporary-library.ts'

let made: { root: string; lessonId: string; hash: string }
let root: string
let folder: string
const hash = (file: string) => createHash('sha256').update(fs.readFileSync(file)).digest('hex')

beforeAll(async () => {
  const at = temporaryFolder()
  const { library, lessonId } = await openWithLesson(path.join(at, 'library'))
  const file = path.join(at, 'swing.mp4')
  makeClip(file, { seconds: 0.4, sound: false })
  await takeIn(library, lessonId, [file])
  await library.close()
  made = { root: at, lessonId, hash: hash(file) }
})
afterAll(() => fs.rmSync(made.root, { recursive: true, force: true }))
beforeEach(() => {
  root = temporaryFolder()
  folder = path.join(root, 'library')
  fs.cpSync(path.join(made.root, 'library'), folder, { recursive: true })
})
afterEach(() => fs.rmSync(root, { recursive: true, force: true }))

const open = (at = folder) => new Library({ folder: at, printPdf: null })
const wrong = async (library: Library) =>
  (await library.ask('library.check', {})).lines.filter((line) => !line.ok).map((line) => line.text)
const repair = async (library: Library) => {
  const { jobId } = await library.ask('library.repair', {})
  const job = await library.context.jobs.ended(jobId)
  expect(job.problem).toBeNull()
  return job.result
}
const inClips = (end: string) => path.join(folder, 'clips', `${made.hash}${end}`)

describe('check and repair', () => {
  it('find every missing part, name the clip, and make the parts again', async () => {
    const library = open()
    expect(await wrong(library)).toEqual([])
    const frames = (await library.ask('lesson.open', { lessonId: made.lessonId })).clips[0]!.frameCount
    for (const end of ['.proxy.mp4', '.poster.jpg', '.strip.jpg']) fs.rmSync(inClips(end))
    expect(await wrong(library)).toEqual([
      'proxy, poster, strip missing, can be made again: swing.mp4 (Robin Testing, 2026-05-01)',
    ])
    expect(await repair(library)).toBe('3 working copies and pictures made again')
    expect(await wrong(library)).toEqual([])
    expect((await library.ask('lesson.open', { lessonId: made.lessonId })).clips[0]!.frameCount).toBe(frames)
    await library.close()
  })

  it('bring a damaged clip back from a backup, keep the damaged bytes, and say what is nowhere', async () => {
    const library = open()
    const bytes = fs.readFileSync(inClips('.mp4'))
    bytes[bytes.length >> 1]! ^= 1
    fs.writeFileSync(inClips('.mp4'), bytes)
    expect((await wrong(library))[0]).toBe(
      'clip file differs from its hash: swing.mp4 (Robin Testing, 2026-05-01)',
    )
    expect(await repair(library)).toMatch(/^1 clip is nowhere to be found/)
    expect(fs.readFileSync(inClips('.mp4'))).toEqual(bytes)
    bytes[bytes.length >> 1]! ^= 1
    fs.writeFileSync(inClips('.mp4'), bytes)
    const { jobId } = await library.ask('backup.make', { folder: path.join(root, 'drive') })
    await library.context.jobs.ended(jobId)
    expect((await library.ask('backup.state', {})).damagedClips).toEqual([])
    bytes[bytes.length >> 1]! ^= 1
    fs.writeFileSync(inClips('.mp4'), bytes)
    const again = await library.ask('backup.make', { folder: path.join(root, 'drive') })
    expect((await library.context.jobs.ended(again.jobId)).state).toBe('done')
    expect((await library.ask('backup.state', {})).damagedClips).toEqual(['swing.mp4'])
    expect(await repair(library)).toBe('1 clip brought back')
    expect(hash(inClips('.mp4'))).toBe(made.hash)
    expect(fs.readFileSync(path.join(folder, 'set-aside', path.basename(inClips('.mp4'))))).toEqual(bytes)
    await library.close()
  })
})

describe('another place, another machine', () => {
  it('a library that was moved opens as it was', async () => {
    const before = open()
    const lesson = await before.ask('lesson.open', { lessonId: made.lessonId })
    await before.close()
    const to = path.join(root, 'another user', 'Lessons')
    await moveLibrary(folder, to)
    expect(fs.existsSync(folder)).toBe(false)
    const after = open(to)
    expect(after.trouble).toBeNull()
    expect(await after.ask('lesson.open', { lessonId: made.lessonId })).toEqual(lesson)
    expect(await wrong(after)).toEqual([])
    const { clips } = lesson
    const played = await after.ask('media.resolve', { clipId: clips[0]!.id, kind: 'play' })
    expect(played.file.startsWith(to)).toBe(true)
    await after.close()
  })

  /** A folder on another file system than the tests' own; memory is one on Linux. */
  const elsewhere = '/dev/shm'
  const isElsewhere = fs.existsSync(elsewhere) && fs.statSync(elsewhere).dev !== fs.statSync(os.tmpdir()).dev
  if (!isElsewhere) console.log(`moving to another disk is not tried: ${elsewhere} is none here`)

  it.runIf(isElsewhere)(
    'moved to another disk, every file is copied and compared, and the old folder goes',
    async () => {
      const other = fs.mkdtempSync(path.join(elsewhere, 'leadside-'))
      try {
        const before = open()
        const lesson = await before.ask('lesson.open', { lessonId: made.lessonId })
        await before.close()
        const to = path.join(other, 'Lessons')
        const steps: string[] = []
        await moveLibrary(folder, to, (step) => steps.push(step))
        expect(new Set(steps)).toEqual(new Set(['copying']))
        expect(fs.existsSync(folder)).toBe(false)
        expect(fs.readdirSync(other)).toEqual(['Lessons'])
        expect(fs.statSync(path.join(to, 'library.sqlite')).mode & 0o777).toBe(0o600)
        const after = open(to)
        expect(after.trouble).toBeNull()
        expect(await after.ask('lesson.open', { lessonId: made.lessonId })).toEqual(lesson)
        expect(await wrong(after)).toEqual([])
        await after.close()
      } finally {
        fs.rmSync(other, { recursive: true, force: true })
      }
    },
  )

  it.runIf(isElsewhere)(
    'stopped on the way to another disk, it is where it was and nothing is there',
    async () => {
      const other = fs.mkdtempSync(path.join(elsewhere, 'leadside-'))
      const opened: string[] = []
      const host = new LibraryHost({
        folder,
        printPdf: null,
        emit: (name, body) => {
          if (name === 'library.opened') opened.push((body as { folder: string }).folder)
          // At its first word.
          if (name === 'library.progress') void host.ask('library.stop', {}, null)
        },
        choosePlace: (to) => choosePlace(to, path.join(root, 'profile')),
      })
      try {
        const moved = await host.ask('library.move', { folder: path.join(other, 'Lessons') }, null)
        expect(moved).toEqual({ isStopped: true })
        expect(opened).toEqual([folder])
        expect(fs.readdirSync(other)).toEqual([])
        expect(chosenPlace(path.join(root, 'profile'))).toBe(folder)
        expect(await host.ask('roster.list', {}, null)).toHaveLength(1)
        expect(await wrong(host.library)).toEqual([])
      } finally {
        await host.close()
        fs.rmSync(other, { recursive: true, force: true })
      }
    },
  )

  it('restoring that is stopped leaves the library as it was', async () => {
    const before = open()
    const { jobId } = await before.ask('backup.make', { folder: path.join(root, 'drive') })
    const { result } = await before.context.jobs.ended(jobId)
    await before.ask('lesson.update', { id: made.lessonId, patch: { title: 'made since' } })
    await before.close()
    const host = new LibraryHost({
      folder,
      printPdf: null,
      emit: (name) => {
        if (name === 'library.progress') void host.ask('library.stop', {}, null)
      },
      choosePlace: null,
    })
    expect(await host.ask('library.restore', { file: result! }, null)).toEqual({
      aside: null,
      isStopped: true,
    })
    expect((await host.ask('lesson.open', { lessonId: made.lessonId }, null)).lesson.title).toBe('made since')
    expect(fs.readdirSync(root).toSorted()).toEqual(['drive', 'library'])
    await host.close()
  })

  it('copied to another machine, under another user and host, it opens and goes on: no place of the old one matters', async () => {
    const before = open()
    const gone = '/Users/somebody else/Films'
    await before.ask('settings.set', { ffmpegPath: `${gone}/ffmpeg`, backupFolder: gone, coachName: 'Alex' })
    const lesson = await before.ask('lesson.open', { lessonId: made.lessonId })
    before.context.sqlite
      .prepare(
        `INSERT INTO hand_over (id, lesson_id, written_at, folder, zip, byte_length, draft, consent_said_by, remarks)
         VALUES ('h', ?, '2026-05-02T10:00:00Z', ?, ?, 5, '{}', NULL, '[]')`,
      )
      .run(made.lessonId, `${gone}/x`, `${gone}/x.zip`)
    before.context.sqlite
      .prepare(
        `INSERT INTO job (id, kind, lesson_id, label, task, state, created_at) VALUES
         ('j', 'hand-over', ?, 'Hand-over', ?, 'failed', '2026-05-02T10:00:00Z')`,
      )
      .run(made.lessonId, JSON.stringify({ lessonId: made.lessonId, folder: gone, consentSaidBy: null }))
    await before.close()
    const there = path.join(root, 'home', 'other user', 'Documents', 'Copied library')
    fs.cpSync(folder, there, { recursive: true })
    // The old machine had it open until a while ago, and was switched off.
    const left = path.join(there, 'in-use', '3f0d1f3e-0000-4000-8000-000000000000')
    fs.mkdirSync(path.dirname(left), { recursive: true })
    fs.writeFileSync(
      left,
      JSON.stringify({ host: `not-${os.hostname()}`, pid: process.pid, startedAt: 'then' }),
    )
    const longAgo = new Date(Date.now() - 10 * 60_000)
    fs.utimesSync(left, longAgo, longAgo)
    fs.rmSync(folder, { recursive: true })
    const after = open(there)
    expect(after.trouble).toBeNull()
    expect(await after.ask('lesson.open', { lessonId: made.lessonId })).toEqual(lesson)
    expect(await wrong(after)).toEqual([])
    const { file } = await after.ask('media.resolve', { clipId: lesson.clips[0]!.id, kind: 'play' })
    expect(file.startsWith(there)).toBe(true)
    const another = path.join(root, 'another.mp4')
    makeClip(another, { seconds: 0.4, rate: 25, sound: false })
    const [job] = await takeIn(after, made.lessonId, [another])
    expect(job).toMatchObject({ state: 'done', result: 'added' })
    expect((await after.ask('deletion.look', { lessonId: made.lessonId })).packages).toEqual([
      { folder: `${gone}/x`, isThere: false },
    ])
    await after.close()
  })

  it('is not moved into itself, onto other files, or away from under another Leadside', async () => {
    await expect(moveLibrary(folder, path.join(folder, 'inside'))).rejects.toMatchObject({
      code: 'same-place',
    })
    await expect(moveLibrary(folder, folder)).rejects.toMatchObject({ code: 'same-place' })
    fs.mkdirSync(path.join(root, 'full'))
    fs.writeFileSync(path.join(root, 'full', 'x'), '')
    await expect(moveLibrary(folder, path.join(root, 'full'))).rejects.toMatchObject({ code: 'not-empty' })
    const library = open()
    await expect(moveLibrary(folder, path.join(root, 'new'))).rejects.toMatchObject({
      code: 'library-in-use',
    })
    await library.close()
    await open().close()
  })

  it('moved by the window it goes on there, and the place is remembered', async () => {
    const opened: string[] = []
    const host = new LibraryHost({
      folder,
      printPdf: null,
      emit: (name, body) => name === 'library.opened' && opened.push((body as { folder: string }).folder),
      choosePlace: (to) => choosePlace(to, path.join(root, 'profile')),
    })
    const to = path.join(root, 'moved')
    await host.ask('library.move', { folder: to }, null)
    expect(opened).toEqual([to])
    expect(chosenPlace(path.join(root, 'profile'))).toBe(to)
    expect(await host.ask('roster.list', {}, null)).toHaveLength(1)
    await expect(host.ask('library.use', { folder: root }, null)).rejects.toMatchObject({
      code: 'not-a-library',
    })
    expect(await host.ask('roster.list', {}, null)).toHaveLength(1)
    await host.close()
  })

  describe('moving that was cut off', () => {
    const arrange = () => {
      const [to, profile] = ['moved', 'profile'].map((name) => path.join(root, name)) as [string, string]
      choosePlace(folder, profile, to)
      return { to, profile }
    }

    it('before the library had arrived: it is where it was, and the half-made copy is gone', () => {
      const { to, profile } = arrange()
      fs.cpSync(path.join(folder, 'clips'), path.join(`${to}.moving`, 'clips'), { recursive: true })
      tidyPlace(profile)
      expect(chosenPlace(profile)).toBe(folder)
      expect(fs.readdirSync(root).toSorted()).toEqual(['library', 'profile'])
    })

    it('while the old folder was taken away: it is where it has arrived, and the rest of the old one goes', async () => {
      const { to, profile } = arrange()
      fs.cpSync(folder, to, { recursive: true })
      fs.rmSync(path.join(folder, 'library.sqlite'))
      expect(chosenPlace(profile)).toBe(to)
      tidyPlace(profile)
      expect(chosenPlace(profile)).toBe(to)
      expect(fs.readdirSync(root).toSorted()).toEqual(['moved', 'profile'])
      const after = open(to)
      expect(after.trouble).toBeNull()
      expect(await wrong(after)).toEqual([])
      await after.close()
    })

    it('another library that was put at the new place meanwhile is not taken for it, and not touched', async () => {
      const { to, profile } = arrange()
      const other = new Library({ folder: to, printPdf: null })
      await other.ask('student.create', { name: 'Someone Else', side: 'left' })
      await other.close()
      // As the same files in both: a size says nothing of whose they are.
      fs.cpSync(path.join(folder, 'clips'), path.join(to, 'clips'), { recursive: true })
      const [ours, theirs] = [filesBelow(folder), filesBelow(to)]
      expect(chosenPlace(profile)).toBe(folder)
      tidyPlace(profile)
      expect(chosenPlace(profile)).toBe(folder)
      expect([filesBelow(folder), filesBelow(to)]).toEqual([ours, theirs])
      const after = open()
      expect(await wrong(after)).toEqual([])
      await after.close()
    })

    it('a file that is not at the new place stays at the old one', () => {
      const { to, profile } = arrange()
      fs.cpSync(folder, to, { recursive: true })
      fs.writeFileSync(path.join(folder, 'clips', 'only here.mp4'), 'x')
      tidyPlace(profile)
      expect(fs.readdirSync(path.join(folder, 'clips'))).toEqual(['only here.mp4'])
    })
  })

  it('what a restore that was cut off has left goes, unless one is under way', async () => {
    const left = `${folder}.restoring`
    fs.cpSync(path.join(folder, 'clips'), path.join(left, 'clips'), { recursive: true })
    const registration = registerProcess(left)
    await open().close()
    expect(fs.existsSync(left)).toBe(true)
    registration.unregister()
    await open().close()
    expect(fs.existsSync(left)).toBe(false)
  })

  it('a job that another machine left is taken up here once that machine has been silent for a while', async () => {
    const first = open()
    const id = first.context.jobs.add('repair', null, 'Repair', {})
    await first.context.jobs.ended(id)
    const there = path.join(folder, 'in-use', '3f0d1f3e-0000-4000-8000-000000000000')
    first.context.sqlite
      .prepare(`UPDATE job SET state = 'running', owner = ? WHERE id = ?`)
      .run(path.basename(there), id)
    await first.close()
    const who = { host: `not-${os.hostname()}`, pid: process.pid, startedAt: 'then' }
    fs.writeFileSync(there, JSON.stringify(who))
    const second = open()
    expect(second.takenUp).toEqual([])
    expect(() => second.context.jobs.cancel(id)).toThrow(/another Leadside/)
    await second.close()
    const longAgo = new Date(Date.now() - 10 * 60_000)
    fs.utimesSync(there, longAgo, longAgo)
    const third = open()
    expect(third.takenUp).toEqual([id])
    expect((await third.context.jobs.ended(id)).state).toBe('done')
    await third.close()
  })

  it('the end of a job that could not be written counts, and is written as soon as it can be', async () => {
    const library = open()
    const { sqlite, jobs } = library.context
    // What SQLite answers on a full disk, to this one write.
    sqlite.exec(`CREATE TEMP TRIGGER no_room BEFORE UPDATE OF state ON job WHEN new.state = 'done'
      BEGIN SELECT RAISE(ABORT, 'database or disk is full'); END`)
    const id = jobs.add('repair', null, 'Repair', {})
    expect((await jobs.ended(id)).state).toBe('done')
    expect(jobs.get(id).state).toBe('done')
    const kept = () => sqlite.prepare('SELECT state FROM job WHERE id = ?').pluck().get(id)
    expect(kept()).toBe('running')
    sqlite.exec('DROP TRIGGER no_room')
    await vi.waitFor(() => expect(kept()).toBe('done'), { timeout: 20_000 })
    await library.close()
  })

  it('a process number that was given out again is not the process that had it', () => {
    const inUse = path.join(folder, 'in-use')
    fs.mkdirSync(inUse, { recursive: true })
    fs.writeFileSync(
      path.join(inUse, 'x'),
      JSON.stringify({ host: os.hostname(), pid: process.pid, startedAt: 'an earlier process' }),
    )
    expect(isRegistered(folder, 'x')).toBe(false)
    const library = open()
    expect(isRegistered(folder, library.context.processId)).toBe(true)
    expect(library.context.jobs.list().every((job) => job.state !== 'running')).toBe(true)
  })
})
