import fs from 'node:fs'
import path from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import type { Library } from '../../electron/library/library.ts'
import { runFfmpegNow } from './support/make-clip.ts'
import { openWithLesson, takeIn, temporaryFolder } from './support/temporary-library.ts'

/** Clips of one camera in which no swing tells how fast they were filmed: pieces of an address. */
const demo = path.resolve(import.meta.dirname, '../../demo-media/swing-11.mp4')
let folder: string
let library: Library
let lessonId: string

const address = (name: string, fromSeconds: number, size = '480:270') => {
  const file = path.join(folder, `${name}.mp4`)
  const coded = ['-c:v', 'libx264', '-preset', 'ultrafast', '-crf', '26', '-pix_fmt', 'yuv420p', '-an']
  const picture = ['-vf', `fps=30,scale=${size}`]
  runFfmpegNow('-ss', String(fromSeconds), '-t', '0.4', '-i', demo, ...picture, ...coded, file)
  return file
}
const howOf = async () =>
  Object.fromEntries(
    (await library.ask('lesson.open', { lessonId })).clips.map((c) => [
      c.fileName.replace('.mp4', ''),
      `${c.captureRate} ${c.captureRateHow}`,
    ]),
  )

beforeAll(async () => {
  folder = temporaryFolder()
  ;({ library, lessonId } = await openWithLesson(path.join(folder, 'library')))
  await takeIn(library, lessonId, [address('a', 0), address('b', 0.05), address('small', 0.1, '240:136')])
}, 60_000)
afterAll(async () => {
  await library.close()
  fs.rmSync(folder, { recursive: true, force: true })
})

test('one answer is told for the camera’s other clips in the same step, and one undo takes all of it back', async () => {
  const asked = { a: '30 assumed', b: '30 assumed', small: '30 assumed' }
  expect(await howOf()).toEqual(asked)
  const { clips } = await library.ask('lesson.open', { lessonId })
  const a = clips.find((c) => c.fileName === 'a.mp4')!
  await library.ask('clip.update', { id: a.id, patch: { captureRate: 120 } })
  expect(await howOf()).toEqual({ a: '120 coach', b: '120 coach', small: '30 assumed' })
  await library.ask('edits.undo', { lessonId })
  expect(await howOf()).toEqual(asked)
  await library.ask('edits.redo', { lessonId })
  expect(await howOf()).toMatchObject({ a: '120 coach', b: '120 coach' })
})

test('a clip that arrives later is not asked about again, and other changes of a clip tell nothing of the rest', async () => {
  await takeIn(library, lessonId, [address('c', 0.15), address('small too', 0.2, '240:136')])
  expect(await howOf()).toMatchObject({ c: '120 coach', 'small too': '30 assumed' })
  const { clips } = await library.ask('lesson.open', { lessonId })
  const small = clips.find((c) => c.fileName === 'small.mp4')!
  await library.ask('clip.update', { id: small.id, patch: { tiltDeg: 2 } })
  expect(await howOf()).toMatchObject({ small: '30 assumed', 'small too': '30 assumed' })
})
