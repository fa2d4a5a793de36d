import fs from 'node:fs'
import path from 'node:path'
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it, onTestFinished } from 'vitest'
import { tally } from '../../scripts/tally.mjs'
import { BackupFile } from '../../electron/library/custody/backup-file.ts'
import { moveLibrary } from '../../electron/library/custody/move.ts'
import { restoreBackup } from '../../electron/library/custody/restore.ts'
import { Library } from '../../electron/library/library.ts'
import { makeClip } from './support/make-clip.ts'
import { smallDisk, type SmallDisk } from './support/small-disk.ts'
import { filesBelow, openWithLesson, takeIn, temporaryFolder } from './support/temporary-library.ts'
import { agreed } from './support/agreed.ts'

/** A disk that is really full, at every stage: the coach is told so, and nothing that was acknowledged is lost. */
const megabytes = 24
const mounted = smallDisk(megabytes)
if (typeof mounted === 'string') console.log(`skipped "a disk that is full": ${mounted}`)
else mounted.remove()

const full = { code: 'disk-full' }
/** No programmer's words, and the cause by name. */
const expectTrueCause = (problem: { what: string } | null) => {
  expect(problem?.what).toMatch(/no room|so full/)
  expect(problem?.what).not.toMatch(/unexpected|ENOSPC|SQLITE|undefined/)
}

describe.skipIf(typeof mounted === 'string')('a disk that is full', () => {
  let elsewhere: string
  let clip: string
  let long: string
  let disk: SmallDisk
  let faults = 0

  beforeAll(() => {
    elsewhere = temporaryFolder()
    clip = path.join(elsewhere, 'clip.mp4')
    makeClip(clip, { seconds: 0.5 })
    // Its proxy, with a key frame every few frames, is a good deal larger than the file itself.
    long = path.join(elsewhere, 'long.mp4')
    makeClip(long, { seconds: 2.5, rate: 60 })
  })
  beforeEach(() => {
    disk = smallDisk(megabytes) as SmallDisk
  })
  afterEach(() => {
    faults += 1
    disk.remove()
  })
  afterAll(() => {
    tally('faults injected', faults)
    console.log(`full disks: ${faults} stages, each with its cause said and nothing acknowledged lost`)
    fs.rmSync(elsewhere, { recursive: true, force: true })
  })

  const onDisk = async () => {
    const opened = await openWithLesson(path.join(disk.folder, 'library'))
    onTestFinished(() => opened.library.close().catch(() => {}))
    return opened
  }

  it('refuses edits as long as it lasts, keeps those before, and takes the next when there is room', async () => {
    const { library, lessonId, folder } = await onDisk()
    const kept: string[] = []
    for (const size of [10, 5000, 50_000]) {
      const { id } = await library.ask('student.create', { name: `kept ${size}`, side: 'left' })
      kept.push(id)
    }
    disk.fillTo(0)
    let refused = 0
    for (let n = 0; n < 200; n += 1) {
      const asked = library.ask('student.create', { name: `${n} ${'x'.repeat(100)}`, side: 'right' })
      await asked.then(
        ({ id }) => kept.push(id),
        (error: unknown) => {
          refused += 1
          expect(error).toMatchObject(full)
          expectTrueCause(error as { what: string })
        },
      )
    }
    expect(refused).toBeGreaterThan(100)
    await expect(
      library.ask('lesson.update', { id: lessonId, patch: { note: 'n'.repeat(19_000) } }),
    ).rejects.toMatchObject(full)
    disk.relieve()
    await library.ask('lesson.update', { id: lessonId, patch: { note: 'room again' } })
    await library.close()
    const after = new Library({ folder, printPdf: null })
    const there = new Set((await after.ask('roster.list', {})).map((s) => s.id))
    expect(kept.filter((id) => !there.has(id))).toEqual([])
    expect((await after.ask('lesson.open', { lessonId })).lesson.note).toBe('room again')
    await after.close()
  })

  it('opens a library nevertheless, or says why not; nothing of it changes', async () => {
    const { library, folder, lessonId } = await onDisk()
    await library.ask('lesson.update', { id: lessonId, patch: { note: 'before' } })
    await library.close()
    disk.fillTo(0)
    try {
      const again = new Library({ folder, printPdf: null })
      expect((await again.ask('lesson.open', { lessonId })).lesson.note).toBe('before')
      await again.close()
    } catch (error) {
      expectTrueCause(error as { what: string })
    }
    disk.relieve()
    const after = new Library({ folder, printPdf: null })
    expect((await after.ask('lesson.open', { lessonId })).lesson.note).toBe('before')
    await after.close()
  })

  // Room for nothing, for a part of the copy, for the copy but not its working copy.
  it.each([0, 40_000, 1.15])(
    'holds no clip with %s of its size free, says so, and leaves nothing half there',
    async (room) => {
      const { library, lessonId, folder } = await onDisk()
      disk.fillTo(room < 10 ? fs.statSync(long).size * room : room)
      await takeIn(library, lessonId, [long]).catch((error: unknown) => expect(error).toMatchObject(full))
      const failed = library.context.jobs.list().filter((job) => job.state === 'failed')
      for (const job of failed) expectTrueCause(job.problem)
      for (const job of library.context.jobs.list()) expect(job.state).toMatch(/^(done|failed)$/)
      disk.relieve()
      expect(filesBelow(path.join(folder, 'incoming'))).toEqual([])
      const { clips } = await library.ask('lesson.open', { lessonId })
      const originals = filesBelow(path.join(folder, 'clips')).filter((name) =>
        /^[0-9a-f]{64}\.mp4$/.test(name),
      )
      expect(originals).toHaveLength(clips.length)
      // Something was refused or failed, and with room it is done.
      expect(failed.length + 1 - clips.length).toBeGreaterThan(0)
      for (const { id } of failed) await library.ask('job.retry', { id })
      await takeIn(library, lessonId, [long])
      expect(library.context.jobs.list().filter((job) => job.state !== 'done')).toEqual([])
      expect((await library.ask('lesson.open', { lessonId })).clips).toHaveLength(1)
      const { lines } = await library.ask('library.check', {})
      expect(lines.filter((line) => !line.ok)).toEqual([])
    },
  )

  it('holds no new backup, and the one before is whole', async () => {
    const { library, lessonId } = await openWithLesson(path.join(elsewhere, 'backed-up'))
    const { jobId } = await library.ask('backup.make', { folder: disk.folder })
    expect(await library.context.jobs.ended(jobId)).toMatchObject({ state: 'done' })
    await takeIn(library, lessonId, [long])
    disk.fillTo(100_000)
    const again = await library.ask('backup.make', { folder: disk.folder })
    const job = await library.context.jobs.ended(again.jobId)
    expect(job.state).toBe('failed')
    expectTrueCause(job.problem)
    const backup = BackupFile.open(path.join(disk.folder, 'Leadside.leadside-backup'))
    expect(backup.integrity()).toBe('ok')
    expect(backup.snapshots().filter((s) => s.isVerified)).toHaveLength(1)
    backup.close()
    await library.close()
  })

  it('takes no restored library, and leaves none half there', async () => {
    const { library, lessonId } = await openWithLesson(path.join(elsewhere, 'to-restore'))
    await takeIn(library, lessonId, [long])
    const { jobId } = await library.ask('backup.make', { folder: path.join(elsewhere, 'backups') })
    expect(await library.context.jobs.ended(jobId)).toMatchObject({ state: 'done' })
    await library.close()
    disk.fillTo(200_000)
    const target = path.join(disk.folder, 'restored')
    await expect(
      restoreBackup({
        file: path.join(elsewhere, 'backups', 'Leadside.leadside-backup'),
        folder: target,
        snapshotId: null,
        now: new Date('2026-06-01'),
      }),
    ).rejects.toMatchObject(full)
    expect(filesBelow(disk.folder).filter((name) => name !== '.filling')).toEqual([])
  })

  it('takes no library that is moved to it; that is where it was', async () => {
    const from = path.join(elsewhere, 'to-move')
    const { library, lessonId } = await openWithLesson(from)
    await takeIn(library, lessonId, [long])
    await library.close()
    const before = filesBelow(from)
    disk.fillTo(200_000)
    await expect(moveLibrary(from, path.join(disk.folder, 'moved'))).rejects.toMatchObject(full)
    expect(filesBelow(disk.folder).filter((name) => name !== '.filling')).toEqual([])
    expect(filesBelow(from)).toEqual(before)
  })

  it('gets no half hand-over', async () => {
    const { library, lessonId } = await openWithLesson(path.join(elsewhere, `handed-over`))
    await takeIn(library, lessonId, [clip])
    for (const room of [0, 20_000]) {
      disk.fillTo(room)
      const { jobId } = await library.ask('handOver.write', {
        lessonId,
        folder: path.join(disk.folder, 'out'),
        consentSaidBy: 'the test',
      })
      const job = await library.context.jobs.ended(jobId)
      expect(job.state).toBe('failed')
      expectTrueCause(job.problem)
      expect(filesBelow(disk.folder).filter((name) => name !== '.filling')).toEqual([])
    }
    await library.close()
  })

  it('gets no half lesson file for a colleague, and takes none in; with room both are done', async () => {
    const consent = agreed('')
    const { library, lessonId, studentId } = await openWithLesson(path.join(elsewhere, 'given'))
    await library.ask('student.consent', { id: studentId, consent })
    await takeIn(library, lessonId, [clip])
    const out = path.join(disk.folder, 'out')
    const onDiskNow = () => filesBelow(disk.folder).filter((name) => name !== '.filling' && name !== 'out')
    const give = async () => {
      const { jobId } = await library.ask('lessonFile.give', { studentId, lessonIds: null, folder: out })
      return library.context.jobs.ended(jobId)
    }
    // Room for nothing, for a part of the film, for all of it but the end.
    const size = fs.statSync(clip).size
    for (const room of [0, 8192, size - 4096]) {
      disk.fillTo(room)
      const job = await give()
      expect(job.state).toBe('failed')
      expectTrueCause(job.problem)
      // Of the folder that was chosen, not of the library's own disk.
      expect(job.problem!.what).toMatch(/lesson file/)
      expect(onDiskNow()).toEqual([])
    }
    expect((await library.ask('deletion.look', { studentId })).lessonFiles).toEqual([])
    disk.relieve()
    const given = await give()
    expect(given.problem).toBeNull()
    expect(onDiskNow()).toHaveLength(1)
    await library.close()

    const file = path.join(elsewhere, 'given.leadside-lesson')
    fs.copyFileSync(given.result!, file)
    const { library: theirs, folder } = await onDisk()
    const before = filesBelow(path.join(folder, 'clips'))
    for (const room of [0, 20_000]) {
      disk.fillTo(room)
      await theirs.ask('lessonFile.take', { file, studentId: null }).then(
        async ({ jobId }) => expectTrueCause((await theirs.context.jobs.ended(jobId)).problem),
        (error: unknown) => expect(error).toMatchObject(full),
      )
      expect(await theirs.ask('roster.list', {})).toHaveLength(1)
      expect(filesBelow(path.join(folder, 'clips'))).toEqual(before)
      expect(filesBelow(path.join(folder, 'incoming'))).toEqual([])
    }
    disk.relieve()
    const { jobId } = await theirs.ask('lessonFile.take', { file, studentId: null })
    expect(await theirs.context.jobs.ended(jobId)).toMatchObject({ state: 'done', problem: null })
    expect(await theirs.ask('roster.list', {})).toHaveLength(2)
    const { lines } = await theirs.ask('library.check', {})
    expect(lines.filter((line) => !line.ok)).toEqual([])
  })

  it('still lets a student be deleted for good', async () => {
    const { library, lessonId, studentId, folder } = await onDisk()
    await takeIn(library, lessonId, [clip])
    disk.fillTo(0)
    const receipt = await library.ask('student.deleteForGood', { id: studentId, typedName: 'Robin Testing' })
    expect(receipt.clips).toBe(1)
    expect(filesBelow(path.join(folder, 'clips'))).toEqual([])
    expect(await library.ask('roster.list', {})).toEqual([])
    disk.relieve()
    await library.close()
    const after = new Library({ folder, printPdf: null })
    expect(await after.ask('roster.list', {})).toEqual([])
    const { lines } = await after.ask('library.check', {})
    expect(lines.filter((line) => !line.ok)).toEqual([])
    await after.close()
  })
})
