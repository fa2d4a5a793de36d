import fs from 'node:fs'
import path from 'node:path'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { Library } from '../../electron/library/library.ts'
import { runFfmpegNow } from './support/make-clip.ts'
import { temporaryFolder } from './support/temporary-library.ts'

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

const addPhoto = async (club: string | null, id: string | null = null) => {
  const file = path.join(folder, 'face.jpg')
  runFfmpegNow('-y', '-f', 'lavfi', '-i', 'testsrc2=size=640x480', '-frames:v', '1', file)
  const picture = await library.ask('coachPicture.add', { file, use: 'face' })
  const photo = {
    lessonId,
    club,
    pictureId: picture.id,
    width: picture.width,
    height: picture.height,
    toeX: 100,
    toeY: 200,
    heelX: 500,
    heelY: 210,
    lengthMm: 110,
  }
  return { ...photo, ...(await library.ask('facePhoto.save', { id, ...photo })) }
}
const photos = async () => (await library.ask('lesson.open', { lessonId })).facePhotos
const fileOf = (clipId: string) => library.ask('media.resolve', { of: 'coach', clipId, kind: 'poster' })

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

  it('stays on the disk while an undo may bring it back, and goes with the lesson', async () => {
    const photo = await addPhoto('driver')
    await library.ask('facePhoto.remove', { id: photo.id })
    await library.close()
    library = new Library({ folder: path.join(folder, 'library') })
    await library.ask('edits.undo', { lessonId })
    expect(await photos()).toEqual([photo])
    const { file } = await fileOf(photo.pictureId)
    expect(fs.existsSync(file)).toBe(true)
    await library.ask('facePhoto.remove', { id: photo.id })
    await library.ask('lesson.deleteForGood', { id: lessonId })
    expect(fs.existsSync(file)).toBe(false)
  })

  it('must be a picture, and of this lesson', async () => {
    const clip = path.join(folder, 'swing.mp4')
    runFfmpegNow('-f', 'lavfi', '-i', 'testsrc2=size=320x240:d=0.2', clip)
    await expect(library.ask('coachPicture.add', { file: clip, use: 'face' })).rejects.toMatchObject({
      code: 'bad-picture',
    })
    await expect(addPhoto('driver', 'not-there')).rejects.toMatchObject({ code: 'gone' })
  })
})
