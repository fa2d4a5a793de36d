import fs from 'node:fs'
import path from 'node:path'
import { Library } from '../../electron/library/library.ts'
import { makeClip } from '../library/support/make-clip.ts'
import { takeIn } from '../library/support/temporary-library.ts'

export const shotCount = 300
export const blockNames = ['As came', 'Soft shoulders', 'Firm lead side']

/**
 * A lesson with 300 shots in three blocks, two clubs, two clips that belong to none of them yet, and one cue; made by the
 * library's own calls.
 */
export const libraryWithManySwings = async (folder: string) => {
  const library = new Library({ folder: path.join(folder, 'library'), printPdf: null })
  const { id: studentId } = await library.ask('student.create', { name: 'Robin Testing', side: 'right' })
  const { id: lessonId } = await library.ask('lesson.create', {
    studentId,
    date: '2026-05-01',
    title: 'Long one',
  })
  const rows = Array.from({ length: shotCount }, (_, i) => {
    const block = blockNames[Math.floor((i * blockNames.length) / shotCount)]!
    const club = i % 3 === 2 ? '7 Iron' : 'Driver'
    return [club, (88 + (i % 7)).toFixed(1), (126 + (i % 11)).toFixed(1), 200 + (i % 13), block].join(',')
  })
  const file = path.join(folder, 'shots.csv')
  fs.writeFileSync(file, ['Club,Club Speed (mph),Ball Speed (mph),Carry (yd),Block', ...rows, ''].join('\n'))
  await library.ask('shots.add', { lessonId, file })
  const clips = ['first.mp4', 'second.mp4'].map((name) => path.join(folder, name))
  makeClip(clips[0]!, { rate: 30 })
  makeClip(clips[1]!, { rate: 30, extra: ['-vf', 'hflip'] })
  await takeIn(library, lessonId, clips)
  const lesson = () => library.ask('lesson.open', { lessonId })
  for (const swing of (await lesson()).swings.filter((s) => s.views.length > 0 && s.shotId !== null)) {
    await library.ask('pair.set', { swingId: swing.id, shotId: null, refit: false })
  }
  const view = (await lesson()).swings.find((s) => s.views.length > 0)!.views[0]!
  const { id: momentId } = await library.ask('moment.place', { viewId: view.id, name: 'top', frame: 3 })
  await library.ask('cue.add', { momentId, kind: 'grip', strength: 2, x: null, y: null, note: '' })
  await library.close()
  return { lessonId, studentId }
}
