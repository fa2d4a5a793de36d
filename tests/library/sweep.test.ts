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
