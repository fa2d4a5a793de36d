import { createHash } from 'node:crypto'
import fs from 'node:fs'
import path from 'node:path'
import Database from 'better-sqlite3'
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import { backupState, deleteFromBackups } from '../../electron/library/custody/backups.ts'
import { BackupFile, isLibraryPath } from '../../electron/library/custody/backup-file.ts'
import { makeBackup } from '../../electron/library/custody/make-backup.ts'
import { finishRestore, restoreBackup } from '../../electron/library/custody/restore.ts'
import { outdated } from '../../electron/library/custody/retention.ts'
import { Library } from '../../electron/library/library.ts'
import { sayWord, type Word } from '../../shared-core/wording/phrase.ts'
import { makeClip } from './support/make-clip.ts'
import { openWithLesson, takeIn, temporaryFolder } from './support/temporary-library.ts'

/** A library with two students and three clips, made once and copied for each test. */
let made: { root: string; lessonId: string; studentId: string; otherId: string; hashes: string[] }
let root: string
let folder: string
let drive: string
const hash = (file: string) => createHash('sha256').update(fs.readFileSync(file)).digest('hex')
const open = (options = {}) => new Library({ folder, printPdf: null, ...options })

beforeAll(async () => {
  const at = temporaryFolder()
  const { library, lessonId, studentId } = await openWithLesson(path.join(at, 'library'))
  const other = await library.ask('student.create', { name: 'Zeno Unmistakable', side: 'left' })
  const second = await library.ask('lesson.create', { studentId: other.id, date: '2026-05-02' })
  const files = [30, 31, 32].map((rate) => {
    const file = path.join(at, `${rate}.mp4`)
    makeClip(file, { seconds: 0.4, rate, sound: false })
    return file
  })
  await takeIn(library, lessonId, files.slice(0, 2))
  await takeIn(library, second.id, files.slice(2))
  await library.close()
  made = { root: at, lessonId, studentId, otherId: other.id, hashes: files.map(hash) }
})
afterAll(() => fs.rmSync(made.root, { recursive: true, force: true }))
beforeEach(() => {
  root = temporaryFolder()
  folder = path.join(root, 'library')
  drive = path.join(root, 'drive')
  fs.cpSync(path.join(made.root, 'library'), folder, { recursive: true })
})
afterEach(() => fs.rmSync(root, { recursive: true, force: true }))

const backUp = async (library: Library, to = drive) => {
  const { jobId } = await library.ask('backup.make', { folder: to })
  const job = await library.context.jobs.ended(jobId)
  expect(job.problem).toBeNull()
  return job.result!
}
const restore = (file: string, to: string, snapshotId: string | null = null) =>
  restoreBackup({ file, snapshotId, folder: to, now: new Date('2026-06-01T10:00:00Z') })
const originals = (library: string) =>
  fs
    .readdirSync(path.join(library, 'clips'))
    .filter((name) => /^[0-9a-f]{64}\.mp4$/.test(name))
    .map((name) => hash(path.join(library, 'clips', name)))
    .toSorted()
/** Everything the coach made, as the library tells it. */
const told = async (library: Library) => {
  const roster = await library.ask('roster.list', {})
  const lessons = roster.flatMap((s) => s.lessons)
  return [roster, await Promise.all(lessons.map((l) => library.ask('lesson.open', { lessonId: l.id })))]
}

describe('a backup', () => {
  it('gives everything back in a new place: records, originals, what is playable made from them', async () => {
    const library = open()
    await library.ask('lesson.update', { id: made.lessonId, patch: { note: 'lead side firmer' } })
    const before = await told(library)
    const file = await backUp(library)
    await library.close()
    expect(fs.readdirSync(drive)).toEqual([path.basename(file)])
    const elsewhere = path.join(root, 'elsewhere', 'library')
    expect(await restore(file, elsewhere)).toMatchObject({ aside: null })
    expect(originals(elsewhere)).toEqual(made.hashes.toSorted())
    const restored = new Library({ folder: elsewhere, printPdf: null })
    expect(restored.trouble).toBeNull()
    expect(await told(restored)).toEqual(before)
    await restored.close()
    expect(fs.readdirSync(path.join(root, 'elsewhere'))).toEqual(['library'])
  })

  it('adds only what is new, and each of them can be restored', async () => {
    const library = open()
    const file = await backUp(library)
    const first = fs.statSync(file).size
    await library.ask('lesson.update', { id: made.lessonId, patch: { title: 'second' } })
    await backUp(library)
    const grown = fs.statSync(file).size - first
    const clipBytes = originals(folder).length * fs.statSync(path.join(made.root, '30.mp4')).size
    expect(grown).toBeLessThan(0.5 * first)
    expect(clipBytes).toBeGreaterThan(0)
    const contents = new Database(file, { readonly: true })
    expect(contents.prepare('SELECT count(*) AS n FROM content').get()).toEqual({
      n: contents.prepare('SELECT count(DISTINCT hash) AS n FROM snapshot_file').pluck().get(),
    })
    contents.close()
    const [newer, older] = await library.ask('backup.look', { file })
    await library.close()
    for (const [snapshot, title] of [
      [newer, 'second'],
      [older, ''],
    ] as const) {
      const to = path.join(root, `from-${snapshot!.id}`)
      await restore(file, to, snapshot!.id)
      const restored = new Library({ folder: to, printPdf: null })
      expect((await restored.ask('lesson.open', { lessonId: made.lessonId })).lesson.title).toBe(title)
      await restored.close()
    }
  })

  it('restored over a library sets that one aside as it was', async () => {
    const library = open()
    const file = await backUp(library)
    await library.ask('lesson.update', { id: made.lessonId, patch: { title: 'made after the backup' } })
    await library.close()
    const { aside } = await restore(file, folder)
    const restored = open()
    expect(restored.trouble).toBeNull()
    expect((await restored.ask('lesson.open', { lessonId: made.lessonId })).lesson.title).toBe('')
    await restored.close()
    const old = new Library({ folder: aside!, printPdf: null })
    expect((await old.ask('lesson.open', { lessonId: made.lessonId })).lesson.title).toBe(
      'made after the backup',
    )
    await old.close()
  })

  it('is not restored over a library that is open, over other files, or from a damaged or foreign file', async () => {
    const library = open()
    const file = await backUp(library)
    await expect(restore(file, folder)).rejects.toMatchObject({ code: 'library-in-use' })
    await library.close()
    const others = path.join(root, 'pictures')
    fs.mkdirSync(others)
    fs.writeFileSync(path.join(others, 'holiday.jpg'), 'x')
    await expect(restore(file, others)).rejects.toMatchObject({ code: 'not-a-library' })
    expect(fs.readdirSync(others)).toEqual(['holiday.jpg'])
    const letter = path.join(root, 'letter.leadside-backup')
    fs.writeFileSync(letter, 'dear coach '.repeat(1000))
    await expect(restore(letter, path.join(root, 'x'))).rejects.toMatchObject({ code: 'not-a-backup' })
    const sqlite = new Database(file)
    const clip = sqlite.prepare(`SELECT hash FROM snapshot_file WHERE path LIKE 'clips/%.mp4'`).pluck().get()
    sqlite.prepare('UPDATE chunk SET bytes = zeroblob(length(bytes)) WHERE hash = ?').run(clip)
    sqlite.close()
    await expect(restore(file, path.join(root, 'x'))).rejects.toMatchObject({ code: 'backup-damaged' })
    expect(fs.existsSync(path.join(root, 'x'))).toBe(false)
    expect(fs.existsSync(path.join(root, 'x.restoring'))).toBe(false)
  })

  it('names no file outside the library, whatever is written in it', async () => {
    const library = open()
    const file = await backUp(library)
    await library.close()
    const sqlite = new Database(file)
    sqlite.exec(
      `UPDATE snapshot_file SET path = '../../outside.mp4'
       WHERE path = (SELECT min(path) FROM snapshot_file WHERE path LIKE 'clips/%.mp4')`,
    )
    sqlite.close()
    await expect(restore(file, path.join(root, 'deep', 'x'))).rejects.toMatchObject({
      code: 'backup-damaged',
    })
    expect(fs.existsSync(path.join(root, 'outside.mp4'))).toBe(false)
    for (const path of [
      '/etc/passwd',
      'clips/../../x',
      '..',
      'clips\\..\\x',
      'library.sqlite/..',
      'other/x.mp4',
    ]) {
      expect(isLibraryPath(path), path).toBe(false)
    }
  })

  it('cut off between setting aside and moving in is finished on the next opening', async () => {
    const library = open()
    const file = await backUp(library)
    await library.close()
    await restore(file, path.join(root, 'whole'))
    fs.renameSync(path.join(root, 'whole'), `${folder}.restoring`)
    fs.writeFileSync(path.join(`${folder}.restoring`, 'restored-whole'), '')
    fs.renameSync(folder, `${folder} (set aside)`)
    finishRestore(folder)
    const restored = open()
    expect(restored.trouble).toBeNull()
    expect(await restored.ask('roster.list', {})).toHaveLength(2)
    await restored.close()
  })

  it('whose writing was cut off is read as it was before, and goes on in the same file', async () => {
    const library = open()
    const file = await backUp(library)
    // As a kill in the middle of writing leaves it: the file and SQLite's journal beside it.
    const writing = new Database(file)
    writing.exec(`BEGIN IMMEDIATE; UPDATE snapshot SET made_at = 'half-written'`)
    const left = path.join(root, 'left')
    fs.mkdirSync(left)
    const kept = ['', '-journal'].map((end) => [`${file}${end}`, path.join(left, path.basename(file) + end)])
    for (const [from, to] of kept) fs.copyFileSync(from!, to!)
    writing.exec('ROLLBACK')
    const [before] = BackupFile.open(file).snapshots()
    writing.close()
    for (const [to, from] of kept) fs.copyFileSync(from!, to!)
    expect(await backUp(library)).toBe(file)
    await library.close()
    const inLeft = kept[0]![1]!
    const backup = BackupFile.open(inLeft)
    expect(backup.snapshots()).toEqual([before])
    backup.close()
    await restore(inLeft, path.join(root, 'back'))
    expect(originals(path.join(root, 'back'))).toEqual(made.hashes.toSorted())
  })

  it('says that there is no room, and leaves the earlier ones as they were', async () => {
    const library = open()
    const file = await backUp(library)
    const before = hash(file)
    fs.writeFileSync(path.join(folder, 'talk-throughs', 'new.mp4'), Buffer.alloc(1000))
    const real = fs.readSync
    const spy = (...args: Parameters<typeof fs.readSync>) => {
      void args
      throw Object.assign(new Error('database or disk is full'), { code: 'SQLITE_FULL' })
    }
    fs.readSync = spy as typeof fs.readSync
    try {
      const { jobId } = await library.ask('backup.make', { folder: drive })
      const job = await library.context.jobs.ended(jobId)
      expect(job).toMatchObject({ state: 'failed', problem: { what: 'there is no room for the backup' } })
    } finally {
      fs.readSync = real
    }
    expect(hash(file)).toBe(before)
    await library.close()
  })

  it('that was cut off while its file was begun goes on in the same file', async () => {
    fs.mkdirSync(drive)
    const file = path.join(drive, 'Leadside.leadside-backup')
    // As a kill leaves it: pages of the first step written, and the journal that takes them back to nothing.
    const begun = new Database(path.join(root, 'begun.sqlite'))
    begun.pragma('journal_mode = DELETE')
    begun.pragma('cache_size = 1')
    begun.pragma('cache_spill = 1')
    begun.exec('BEGIN IMMEDIATE; CREATE TABLE about (key TEXT, value TEXT)')
    for (let i = 0; i < 200; i += 1) begun.exec(`INSERT INTO about VALUES ('${i}', '${'x'.repeat(900)}')`)
    fs.copyFileSync(path.join(root, 'begun.sqlite'), file)
    fs.copyFileSync(path.join(root, 'begun.sqlite-journal'), `${file}-journal`)
    begun.exec('ROLLBACK')
    begun.close()
    expect(fs.statSync(file).size).toBeGreaterThan(0)
    const library = open()
    expect(await backUp(library)).toBe(file)
    await library.close()
    expect(fs.readdirSync(drive)).toEqual(['Leadside.leadside-backup'])
  })

  it('counts only once it was read back: what the drive made of it meanwhile is noticed', async () => {
    const library = open()
    const first = await backUp(library)
    await library.ask('lesson.update', { id: made.lessonId, patch: { note: 'after the first' } })
    let isHurt = false
    const say = (step: Word) => {
      if (sayWord(step) !== 'reading it back' || isHurt) return
      isHurt = true
      const file = new Database(first)
      file
        .prepare(
          `UPDATE chunk SET bytes = zeroblob(length(bytes)) WHERE hash =
             (SELECT hash FROM snapshot_file WHERE path = 'library.sqlite' ORDER BY rowid DESC LIMIT 1)`,
        )
        .run()
      file.close()
    }
    const run = {
      id: 'hurt',
      lessonId: null,
      task: { folder: drive },
      signal: new AbortController().signal,
      say,
      show: () => {},
    }
    await expect(makeBackup(library.context, run)).rejects.toMatchObject({ code: 'backup-damaged' })
    expect(isHurt).toBe(true)
    const file = BackupFile.open(first)
    expect(file.snapshots().map((s) => s.isVerified)).toEqual([true])
    file.close()
    // The next one is whole again.
    await library.close()
    const again = open()
    await backUp(again)
    await again.close()
    const back = path.join(root, 'back')
    await restore(first, back)
    expect(originals(back)).toEqual(made.hashes.toSorted())
  })

  it('made every day to the chosen folder, and never in the place of a drive that is not there', async () => {
    let now = new Date('2026-06-01T08:00:00Z')
    const library = open({ dailyBackup: true, now: () => now })
    await library.ask('settings.set', { backupFolder: drive })
    const jobs = () => library.context.jobs.list().filter((job) => job.kind === 'backup')
    const passes = async (hours: number) => {
      now = new Date(now.getTime() + hours * 3600_000)
      const before = jobs().length
      await expect.poll(() => jobs().length > before, { timeout: 4000 }).toBe(true)
      await library.context.jobs.ended(jobs().at(-1)!.id)
    }
    now = new Date(now.getTime() + 3600_000)
    await new Promise((resolve) => setTimeout(resolve, 2500))
    expect(jobs()).toEqual([])
    fs.mkdirSync(drive)
    await passes(1)
    await passes(24)
    expect(jobs().map((job) => job.state)).toEqual(['done', 'done'])
    const file = path.join(drive, 'Leadside.leadside-backup')
    expect(await library.ask('backup.look', { file })).toHaveLength(2)
    now = new Date(now.getTime() + 15 * 24 * 3600_000)
    expect(backupState(library.context).isOverdue).toBe(true)
    await library.close()
  })

  it('takes the place of copies from before a change of the records', async () => {
    fs.writeFileSync(path.join(folder, 'library.before-6.sqlite'), 'older records')
    const library = open()
    expect((await library.ask('backup.state', {})).copies).toEqual(['library.before-6.sqlite'])
    await backUp(library)
    expect((await library.ask('backup.state', {})).copies).toEqual([])
    await library.close()
  })

  it('forgets a student: no byte of name or clip is left in it, and the others can still be restored', async () => {
    const library = open()
    const file = await backUp(library)
    await library.ask('lesson.update', { id: made.lessonId, patch: { title: 'kept' } })
    await backUp(library)
    const gone = made.hashes[2]!
    const clip = fs.readFileSync(path.join(made.root, '32.mp4'))
    const middle = clip.subarray(clip.length >> 1, (clip.length >> 1) + 64)
    expect(fs.readFileSync(file).includes(middle)).toBe(true)
    const lessons = (await library.ask('roster.list', {})).find((s) => s.id === made.otherId)!.lessons
    const done = await deleteFromBackups(library.context, {
      studentId: made.otherId,
      lessonIds: lessons.map((l) => l.id),
      hashes: [gone],
      talkIds: [],
      pictureIds: [],
      jobIds: [],
      recordings: [],
      packages: [],
      lessonFiles: [],
    })
    expect(done).toEqual({ rewritten: [file], stillHolding: [] })
    await library.close()
    const bytes = fs.readFileSync(file)
    expect(bytes.includes(middle)).toBe(false)
    expect(bytes.includes('Zeno Unmistakable')).toBe(false)
    expect(bytes.includes(gone)).toBe(false)
    const backup = BackupFile.open(file)
    const ids = backup.snapshots().map((s) => s.id)
    backup.close()
    expect(ids).toHaveLength(2)
    for (const id of ids) {
      const to = path.join(root, id)
      await restore(file, to, id)
      expect(originals(to)).toEqual(made.hashes.slice(0, 2).toSorted())
      expect(fs.readFileSync(path.join(to, 'library.sqlite')).includes('Zeno Unmistakable')).toBe(false)
      const restored = new Library({ folder: to, printPdf: null })
      expect((await restored.ask('roster.list', {})).map((s) => s.name)).toEqual(['Robin Testing'])
      await restored.close()
    }
  })
})

describe('a student deleted for good while the first backup is written', () => {
  /** Every content of a backup, whether a backup consists of it or not, unpacked. */
  const contents = async (file: string): Promise<Buffer> => {
    const backup = BackupFile.open(file)
    const all: Buffer[] = [fs.readFileSync(file)]
    const rows = backup.sqlite.prepare('SELECT hash FROM content').all() as { hash: string }[]
    for (const { hash } of rows) for await (const bytes of backup.read(hash)) all.push(bytes)
    backup.close()
    return Buffer.concat(all)
  }

  it.each(
    ['copying clips', 'keeping the records', 'reading it back'].flatMap((step) =>
      ['the same', 'another'].map((whose) => [step, whose] as const),
    ),
  )('at "%s", by %s window: the backup comes, without the student', async (step, whose) => {
    let deletion: Promise<{ stays: unknown[] }> | null = null
    const other = whose === 'another' ? open() : null
    const library = open({
      emit: (name: string, body: { kind?: string; step?: string }) => {
        if (name !== 'job.changed' || body.kind !== 'backup' || body.step !== step || deletion) return
        deletion = (other ?? library).ask('student.deleteForGood', {
          id: made.otherId,
          typedName: 'Zeno Unmistakable',
        })
      },
    })
    const { jobId } = await library.ask('backup.make', { folder: drive })
    await library.context.jobs.ended(jobId)
    expect(deletion).not.toBeNull()
    expect((await deletion!).stays).toEqual([])
    const job = await library.context.jobs.ended(jobId)
    expect(job).toMatchObject({ state: 'done', problem: null })
    const bytes = await contents(job.result!)
    const clip = fs.readFileSync(path.join(made.root, '32.mp4'))
    expect(bytes.includes(clip.subarray(clip.length >> 1, (clip.length >> 1) + 64))).toBe(false)
    expect(bytes.includes('Zeno Unmistakable')).toBe(false)
    expect(bytes.includes('Robin Testing')).toBe(true)
    expect(library.context.jobs.list().filter((j) => j.state !== 'done')).toEqual([])
    await library.close()
    await other?.close()
  })
})

describe('a backup that a deletion holds up', () => {
  it('waits, also for whoever opens the library next, and is made afterwards; one that the coach stopped is not', async () => {
    let begun: () => void = () => {}
    const library = open({
      emit: (name: string, body: { kind?: string; step?: string }) => {
        if (name === 'job.changed' && body.kind === 'backup' && body.step === 'copying the records') begun()
      },
    })
    const { jobs, sqlite } = library.context
    const begin = () => new Promise<void>((resolve) => (begun = resolve))
    let beginning = begin()
    const { jobId } = await library.ask('backup.make', { folder: drive })
    await beginning
    const goOn = await jobs.hold('backup')
    expect(jobs.get(jobId).state).toBe('waiting')
    // One that is asked for meanwhile waits, too.
    const later = await library.ask('backup.make', { folder: drive })
    expect(jobs.get(later.jobId).state).toBe('waiting')
    const left = sqlite.prepare(`SELECT attempts FROM job WHERE id = ?`).pluck().get(jobId)
    expect(left).toBe(0)
    goOn()
    for (const id of [jobId, later.jobId]) expect(await jobs.ended(id)).toMatchObject({ state: 'done' })
    beginning = begin()
    const third = await library.ask('backup.make', { folder: drive })
    await beginning
    jobs.cancel(third.jobId)
    const goOnAgain = await jobs.hold('backup')
    expect(jobs.get(third.jobId).state).toBe('cancelled')
    goOnAgain()
    await library.close()
  })
})

describe('which backups are kept', () => {
  const daily = (days: number) =>
    Array.from({ length: days }, (_, i) => {
      const madeAt = new Date(2026, 11, 31 - i, 18).toISOString()
      return { id: madeAt, madeAt }
    })

  it('the last of 7 days, 4 weeks and 12 months, and in any case the newest three', () => {
    const all = daily(500)
    const gone = new Set(outdated(all))
    const left = all.filter((b) => !gone.has(b.id))
    expect(left[0]).toBe(all[0])
    expect(left.slice(0, 7)).toEqual(all.slice(0, 7))
    const months = new Set(left.map((b) => b.madeAt.slice(0, 7)))
    expect(months.size).toBe(12)
    expect(left.length).toBeLessThanOrEqual(7 + 4 + 12)
    // One day later, nothing more goes than what a day makes needless.
    expect(outdated(left).length).toBe(0)
    expect(outdated(all.slice(0, 1))).toEqual([])
  })

  it('made day by day, there is at every time one of each of the last 7 days and 12 months', () => {
    let kept: { id: string; madeAt: string }[] = []
    for (const backup of daily(400).toReversed()) {
      kept = [...kept, backup]
      const gone = new Set(outdated(kept))
      kept = kept.filter((b) => !gone.has(b.id))
    }
    const days = kept
      .map((b) => b.madeAt.slice(0, 10))
      .toSorted()
      .toReversed()
    expect(days.slice(0, 7)).toEqual(daily(7).map((b) => b.madeAt.slice(0, 10)))
    expect(new Set(days.map((d) => d.slice(0, 7))).size).toBe(12)
  })
})
