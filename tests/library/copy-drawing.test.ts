import path from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { shapes } from '../../shared-core/drawing/shapes.ts'
import { makeClip } from './support/make-clip.ts'
import { openWithLesson, takeIn } from './support/temporary-library.ts'

/** Drawings copied to a swing whose clip has another size. */
let made: Awaited<ReturnType<typeof openWithLesson>>
let views: { id: string; clipId: string }[]

beforeAll(async () => {
  made = await openWithLesson()
  const { library, folder, lessonId } = made
  const files = ['small', 'large', 'upright'].map((name) => path.join(folder, `${name}.mp4`))
  makeClip(files[0]!)
  makeClip(files[1]!, { extra: ['-vf', 'scale=640:360'] })
  makeClip(files[2]!, { extra: ['-vf', 'scale=180:320,setsar=1'] })
  await takeIn(library, lessonId, files)
  const { swings, clips } = await library.ask('lesson.open', { lessonId })
  const named = (name: string) => clips.find((clip) => clip.fileName === `${name}.mp4`)!.id
  const all = swings.flatMap((swing) => swing.views)
  views = ['small', 'large', 'upright'].map((name) => all.find((view) => view.clipId === named(name))!)
})
afterAll(() => made.library.close())

const circle = (x: number, y: number, radius: number, widthPx = 4) =>
  shapes.circle.create(
    [
      { x, y },
      { x: x + radius, y },
    ],
    { tone: 'apricot', widthPx, isDashed: false },
  )

const copied = async (to: number) => {
  const { library, lessonId } = made
  const shape = circle(80, 45, 20)
  const { id } = await library.ask('drawing.add', {
    ...{ viewId: views[0]!.id, momentId: null, fromFrame: 3, toFrame: 3 },
    shape,
  })
  const { ids } = await library.ask('drawing.copyTo', { ids: [id], viewId: views[to]!.id })
  const lesson = await library.ask('lesson.open', { lessonId })
  const drawings = lesson.swings.flatMap((s) => s.views.flatMap((v) => v.drawings))
  return { shape, copy: drawings.find((d) => d.id === ids[0])! }
}

test('a copy to a picture twice as large is twice as large and at the same place in it', async () => {
  const { copy } = await copied(1)
  expect(copy.shape).toMatchObject(circle(160, 90, 40, 8))
})

test('a copy to an upright picture is scaled to fit and keeps its way from the middle', async () => {
  const { copy } = await copied(2)
  // 320 pixels across become 180.
  const factor = 180 / 320
  expect(copy.shape).toMatchObject(circle(90 - 80 * factor, 160 - 45 * factor, 20 * factor, 4 * factor))
})

test('a copy to a picture of the same size is the same shape', async () => {
  const { shape, copy } = await copied(0)
  expect(copy.shape).toEqual(shape)
})
