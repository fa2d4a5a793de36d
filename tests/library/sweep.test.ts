import { createHash } from 'node:crypto'
import fs from 'node:fs'
import path from 'node:path'
import { afterEach, expect, test } from 'vitest'
import { listSetAside } from '../../electron/library/custody/set-aside.ts'
import { Library } from '../../electron/library/library.ts'
import { makeClip } from './support/make-clip.ts'
import { openWithLesson, takeIn, temporaryFolder } from './support/temporary-library.ts'

const folders: string[] = []
afterEach(() => {
  for (const folder of folders.splice(0)) fs.rmSync(folder, { recursive: true, force: true })
})

const strayText = 'of a clip that is gone'
const inSetAside = (folder: string) => listSetAside(folder).map((entry) => entry.name)

/** A library with one lesson, and in it a clip file that nothing speaks of. */
const withStrayFile = async () => {
  const { library, folder, lessonId } = await openWithLesson(path.join(temporaryFolder(), 'library'))
  folders.push(path.dirname(folder))
  await library.close()
  const stray = path.join(folder, 'clips', `${'0'.repeat(64)}.mp4`)
  fs.writeFileSync(stray, strayText)
  return { folder, lessonId, stray, name: path.basename(stray) }
}

test('clip files that nothing speaks of are set aside on opening, or later where the window must not wait for it', async () => {
  const { folder, stray, name } = await withStrayFile()
  const { library: other } = await openWithLesson(folder)
  await other.close()
  expect(fs.existsSync(stray)).toBe(false)
  expect(inSetAside(folder)).toEqual([name])
  fs.writeFileSync(stray, strayText)
  const later = new Library({ folder, sweepAfterMs: 50 })
  expect(fs.existsSync(stray)).toBe(true)
  await expect.poll(() => fs.existsSync(stray), { timeout: 10_000 }).toBe(false)
  await later.close()
  // The second one of the same name takes nothing's place.
  expect(inSetAside(folder)).toHaveLength(2)
  for (const kept of inSetAside(folder)) {
    expect(fs.readFileSync(path.join(folder, 'set-aside', kept), 'utf8')).toBe(strayText)
  }
})

test('nothing is swept while a clip is taken in: its files are there before its rows', async () => {
  const { folder, lessonId, stray, name } = await withStrayFile()
  const file = path.join(path.dirname(folder), 'swing.mp4')
  makeClip(file, { seconds: 0.5 })
  const wasThereAt: Record<string, boolean> = {}
  const library = new Library({
    folder,
    sweepAfterMs: 0,
    emit: (event, body) => {
      if (event !== 'job.changed' || !('step' in body)) return
      if (body.state === 'running') wasThereAt[body.step] = fs.existsSync(stray)
    },
  })
  const [job] = await takeIn(library, lessonId, [file])
  expect(job!.problem).toBeNull()
  expect(wasThereAt).toMatchObject({ reading: true, thumbnails: true, sound: true })
  await expect.poll(() => fs.existsSync(stray), { timeout: 10_000 }).toBe(false)
  expect(inSetAside(folder)).toEqual([name])
  expect(fs.readdirSync(path.join(folder, 'clips')).length).toBeGreaterThanOrEqual(3)
  await library.close()
})

test('a clip removed from its lesson is set aside once that can no longer be undone, and knows whose it was', async () => {
  const { library, folder, lessonId, studentId } = await openWithLesson(
    path.join(temporaryFolder(), 'library'),
  )
  folders.push(path.dirname(folder))
  const file = path.join(path.dirname(folder), 'swing.mp4')
  makeClip(file, { seconds: 0.5, sound: false })
  await takeIn(library, lessonId, [file])
  const { clips } = await library.ask('lesson.open', { lessonId })
  await library.ask('clip.remove', { id: clips[0]!.id })
  await library.close()
  const again = new Library({ folder, printPdf: null })
  expect(listSetAside(folder)).toEqual([])
  again.context.sqlite.exec('DELETE FROM edit')
  await again.close()
  await new Library({ folder, printPdf: null }).close()
  expect(listSetAside(folder)).toMatchObject([
    { kind: 'clip', hash: clips[0]!.hash, studentIds: [studentId] },
  ])
  expect(fs.readFileSync(path.join(folder, 'set-aside', inSetAside(folder)[0]!))).toEqual(
    fs.readFileSync(file),
  )
})

test('what was set aside is taken back into a lesson, and goes after 90 days only by the coach’s word', async () => {
  const { library, folder, lessonId } = await openWithLesson(path.join(temporaryFolder(), 'library'))
  folders.push(path.dirname(folder))
  const file = path.join(path.dirname(folder), 'swing.mp4')
  makeClip(file, { seconds: 0.5, sound: false })
  await library.close()
  const hash = createHash('sha256').update(fs.readFileSync(file)).digest('hex')
  const other = 'f'.repeat(64)
  fs.copyFileSync(file, path.join(folder, 'clips', `${hash}.mp4`))
  fs.writeFileSync(path.join(folder, 'clips', `${other}.mp4`), strayText)
  await new Library({ folder, printPdf: null }).close()
  // Three months and more later, opened again and again.
  const later = () => new Date(Date.now() + 91 * 24 * 3600 * 1000)
  for (let n = 0; n < 2; n += 1) await new Library({ folder, printPdf: null, now: later }).close()
  expect(inSetAside(folder).toSorted()).toEqual([`${hash}.mp4`, `${other}.mp4`].toSorted())
  const after = new Library({ folder, printPdf: null, now: later })
  const listed = await after.ask('setAside.list', {})
  expect(listed.map((entry) => entry.isOld)).toEqual([true, true])
  const checked = await after.ask('library.check', {})
  expect(checked.lines.map((line) => line.text).join()).toMatch(/set aside: 2 files/)

  const { jobId } = await after.ask('setAside.takeBack', { name: `${hash}.mp4`, lessonId })
  expect(await after.context.jobs.ended(jobId)).toMatchObject({ state: 'done', problem: null })
  const { clips } = await after.ask('lesson.open', { lessonId })
  expect(clips.map((clip) => clip.hash)).toEqual([hash])
  expect(fs.readFileSync(path.join(folder, 'clips', `${hash}.mp4`))).toEqual(fs.readFileSync(file))
  expect(inSetAside(folder)).toEqual([`${other}.mp4`])

  const gone = await after.ask('setAside.delete', { names: [`${other}.mp4`, '../library.sqlite'] })
  expect(gone).toEqual({ filesDeleted: 1, bytes: strayText.length })
  expect(inSetAside(folder)).toEqual([])
  await after.close()
  expect(fs.existsSync(path.join(folder, 'library.sqlite'))).toBe(true)
  const early = new Library({ folder, printPdf: null })
  fs.writeFileSync(path.join(folder, 'set-aside', 'a film.mp4'), strayText)
  expect(await early.ask('setAside.list', {})).toMatchObject([{ name: 'a film.mp4', isOld: false }])
  await early.close()
})
