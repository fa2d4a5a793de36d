import fs from 'node:fs'
import path from 'node:path'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { Library } from '../../electron/library/library.ts'
import { runFfmpegNow } from './support/make-clip.ts'
import { takeIn, temporaryFolder } from './support/temporary-library.ts'

let folder: string
let library: Library
let lessonId: string
beforeEach(async () => {
  folder = temporaryFolder()
  library = new Library({ folder: path.join(folder, 'library') })
  const { id: studentId } = await library.ask('student.create', { name: 'Robin Testing', side: 'right' })
  lessonId = (await library.ask('lesson.create', { studentId, date: '2026-05-01' })).id
})
afterEach(async () => {
  await library.close()
  fs.rmSync(folder, { recursive: true, force: true })
})

let count = 0
const addPhoto = async (club: string | null, id: string | null = null) => {
  count += 1
  const file = path.join(folder, `photo ${count}.jpg`)
  runFfmpegNow('-f', 'lavfi', '-i', `testsrc2=size=640x480,hue=h=${20 * count}`, '-frames:v', '1', file)
  const { jobIds } = await library.ask('clips.add', { lessonId, files: [file], stillKind: 'face' })
  expect((await library.context.jobs.ended(jobIds[0]!)).problem).toBeNull()
  const { clips } = await library.ask('lesson.open', { lessonId })
  const { id: clipId, width, height } = clips.find((c) => c.fileName === `photo ${count}.jpg`)!
  const photo = {
    ...{ lessonId, club, clipId, pictureId: null, width, height },
    ...{ toeX: 100, toeY: 200, heelX: 500, heelY: 210, lengthMm: 110 },
  }
  return { ...photo, ...(await library.ask('facePhoto.save', { id, ...photo })) }
}
const photos = async () => (await library.ask('lesson.open', { lessonId })).facePhotos
const fileOf = (clipId: string) => library.ask('media.resolve', { of: 'clip', clipId, kind: 'poster' })

describe('a photo of the face', () => {
  it('is kept with its marks, one for each club of a lesson, and undone like any edit', async () => {
    const driver = await addPhoto('driver')
    const iron = await addPhoto('7-iron')
    expect(await photos()).toEqual(expect.arrayContaining([driver, iron]))
    const later = await addPhoto('driver')
    expect((await photos()).map((p) => p.id).toSorted()).toEqual([iron.id, later.id].toSorted())
    await library.ask('edits.undo', { lessonId })
    expect((await photos()).map((p) => p.id).toSorted()).toEqual([driver.id, iron.id].toSorted())
  })

  it('is one of the still pictures: it goes with that and comes back with it, and goes with the lesson', async () => {
    const photo = await addPhoto('driver')
    const { swings, clips } = await library.ask('lesson.open', { lessonId })
    expect(clips.map((c) => c.stillKind)).toEqual(['face'])
    await library.ask('swing.remove', { ids: [swings[0]!.id] })
    await library.ask('clip.remove', { id: photo.clipId })
    expect(await photos()).toEqual([])
    await library.close()
    library = new Library({ folder: path.join(folder, 'library') })
    await library.ask('edits.undo', { lessonId })
    await library.ask('edits.undo', { lessonId })
    expect(await photos()).toEqual([photo])
    const { file } = await fileOf(photo.clipId)
    expect(fs.existsSync(file)).toBe(true)
    await library.ask('lesson.deleteForGood', { id: lessonId })
    expect(fs.existsSync(file)).toBe(false)
  })

  it('must be a picture, and of this lesson', async () => {
    const clip = path.join(folder, 'swing.mp4')
    runFfmpegNow('-f', 'lavfi', '-i', 'testsrc2=size=320x240:d=0.5', clip)
    await takeIn(library, lessonId, [clip])
    const film = (await library.ask('lesson.open', { lessonId })).clips[0]!
    const { id: _id, ...photo } = await addPhoto('driver')
    const refused = { code: 'bad-input' }
    await expect(
      library.ask('facePhoto.save', { ...photo, id: null, clipId: film.id }),
    ).rejects.toMatchObject(refused)
    await expect(library.ask('facePhoto.save', { ...photo, id: null, clipId: null })).rejects.toMatchObject(
      refused,
    )
    const { id: other } = await library.ask('student.create', { name: 'Someone', side: 'right' })
    const { id: elsewhere } = await library.ask('lesson.create', { studentId: other, date: '2026-05-02' })
    await expect(
      library.ask('facePhoto.save', { ...photo, id: null, lessonId: elsewhere }),
    ).rejects.toMatchObject(refused)
    await expect(addPhoto('driver', 'not-there')).rejects.toMatchObject({ code: 'gone' })
  })
})
