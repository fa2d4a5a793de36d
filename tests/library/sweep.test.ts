import fs from 'node:fs'
import path from 'node:path'
import { afterEach, expect, test } from 'vitest'
import { Library } from '../../electron/library/library.ts'
import { makeClip } from './support/make-clip.ts'
import { openWithLesson, takeIn, temporaryFolder } from './support/temporary-library.ts'

const folders: string[] = []
afterEach(() => {
  for (const folder of folders.splice(0)) fs.rmSync(folder, { recursive: true, force: true })
})

/** A library with one lesson, and in it a clip file that nothing speaks of. */
const withStrayFile = async () => {
  const { library, folder, lessonId } = await openWithLesson(path.join(temporaryFolder(), 'library'))
  folders.push(path.dirname(folder))
  await library.close()
  const stray = path.join(folder, 'clips', `${'0'.repeat(64)}.mp4`)
  fs.writeFileSync(stray, 'of a clip that is gone')
  return { folder, lessonId, stray }
}

test('clip files that nothing speaks of go on opening, or later where the window must not wait for it', async () => {
  const { folder, stray } = await withStrayFile()
  const later = new Library({ folder, sweepAfterMs: 50 })
  expect(fs.existsSync(stray)).toBe(true)
  await expect.poll(() => fs.existsSync(stray), { timeout: 10_000 }).toBe(false)
  fs.writeFileSync(stray, 'of a clip that is gone')
  await later.close()
  await new Library({ folder }).close()
  expect(fs.existsSync(stray)).toBe(false)
})

test('nothing is swept while a clip is taken in: its files are there before its rows', async () => {
  const { folder, lessonId, stray } = await withStrayFile()
  const file = path.join(path.dirname(folder), 'swing.mp4')
  makeClip(file, { seconds: 0.5 })
  const wasThereAt: Record<string, boolean> = {}
  const library = new Library({
    folder,
    sweepAfterMs: 0,
    emit: (name, body) => {
      if (name !== 'job.changed' || !('step' in body)) return
      if (body.state === 'running') wasThereAt[body.step] = fs.existsSync(stray)
    },
  })
  const [job] = await takeIn(library, lessonId, [file])
  expect(job!.problem).toBeNull()
  expect(wasThereAt).toMatchObject({ reading: true, thumbnails: true, sound: true })
  await expect.poll(() => fs.existsSync(stray), { timeout: 10_000 }).toBe(false)
  expect(fs.readdirSync(path.join(folder, 'clips')).length).toBeGreaterThanOrEqual(3)
  expect((await library.ask('library.check', {})).isSound).toBe(true)
  await library.close()
})
