import fs from 'node:fs'
import path from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { Library } from '../../electron/library/library.ts'
import type { Swing } from '../../shared-core/model/entities.ts'
import { makeClip } from './support/make-clip.ts'
import { openWithLesson, takeIn, temporaryFolder } from './support/temporary-library.ts'

/** A spring and an autumn lesson of one student, and a lesson of another, each with one clip and its impact marked. */
let folder: string
let library: Library
let spring: string
let autumn: string
let swings: { spring: Swing; autumn: Swing; other: Swing }

const swingOf = async (lessonId: string, name: string): Promise<Swing> => {
  const file = path.join(folder, `${name}.mp4`)
  makeClip(file, { seconds: 1, rate: 60, extra: name === 'spring' ? [] : ['-vf', 'hflip'] })
  const [job] = await takeIn(library, lessonId, [file])
  expect(job!.problem).toBeNull()
  const [swing] = (await library.ask('lesson.open', { lessonId })).swings
  await library.ask('moment.place', { viewId: swing!.views[0]!.id, name: 'impact', frame: 30 })
  return (await library.ask('lesson.open', { lessonId })).swings[0]!
}

const comparison = (first: Swing, second: Swing, lessonId: string) => ({
  id: null,
  lessonId,
  name: 'Spring and autumn',
  firstViewId: first.views[0]!.id,
  secondViewId: second.views[0]!.id,
  lockedOn: 'impact',
  arrangement: 'beside' as const,
  opacity: 0.5,
  isStretched: false,
  mirrorSecond: false,
})

beforeAll(async () => {
  folder = temporaryFolder()
  const opened = await openWithLesson(path.join(folder, 'library'))
  library = opened.library
  spring = opened.lessonId
  autumn = (await library.ask('lesson.create', { studentId: opened.studentId, date: '2026-10-01' })).id
  const { id: otherStudent } = await library.ask('student.create', { name: 'Kim Testing', side: 'left' })
  const { id: other } = await library.ask('lesson.create', { studentId: otherStudent, date: '2026-10-02' })
  swings = {
    spring: await swingOf(spring, 'spring'),
    autumn: await swingOf(autumn, 'autumn'),
    other: await swingOf(other, 'other'),
  }
})

afterAll(async () => {
  await library.close()
  fs.rmSync(folder, { recursive: true, force: true })
})

describe('a comparison of lessons apart', () => {
  it('brings the other lesson’s picture with it, as that lesson has it now', async () => {
    await library.ask('comparison.save', comparison(swings.spring, swings.autumn, autumn))
    const opened = await library.ask('lesson.open', { lessonId: autumn })
    expect(opened.comparisons).toHaveLength(1)
    expect(opened.guests).toEqual([
      {
        lesson: { id: spring, date: '2026-05-01', title: '' },
        blockName: 'Baseline',
        swing: swings.spring,
        clip: (await library.ask('lesson.open', { lessonId: spring })).clips[0],
        shot: null,
      },
    ])
    expect(await library.ask('view.asGuest', { id: swings.spring.views[0]!.id })).toEqual(opened.guests[0])
    // Neither the other lesson nor the list of swings knows of it.
    expect(opened.swings).toHaveLength(1)
    expect((await library.ask('lesson.open', { lessonId: spring })).guests).toEqual([])
    await library.ask('moment.place', { viewId: swings.spring.views[0]!.id, name: 'top', frame: 10 })
    const again = await library.ask('lesson.open', { lessonId: autumn })
    expect(again.guests[0]!.swing.views[0]!.moments.map((m) => m.name)).toEqual(['top', 'impact'])
  })

  it('is refused for another student’s swing, and in a lesson that neither swing is of', async () => {
    await expect(
      library.ask('comparison.save', comparison(swings.autumn, swings.other, autumn)),
    ).rejects.toMatchObject({ code: 'other-student' })
    await expect(
      library.ask('comparison.save', comparison(swings.spring, swings.spring, autumn)),
    ).rejects.toMatchObject({ code: 'bad-input' })
  })

  it('goes into the hand-over with the day of the other lesson’s swing', async () => {
    const preview = await library.ask('handOver.preview', { lessonId: autumn })
    expect(preview.html).toContain('Spring and autumn')
    expect(preview.html).toMatch(/left Swing 1 · Baseline, Friday 1 May 2026, right Swing 1 · Baseline/)
  })

  it('goes with the other lesson’s swing and comes back with it; undoing across does not trip', async () => {
    const kept = async () => (await library.ask('lesson.open', { lessonId: autumn })).comparisons.length
    expect(await kept()).toBe(1)
    await library.ask('clip.remove', { id: swings.spring.views[0]!.clipId })
    expect(await kept()).toBe(0)
    await library.ask('edits.undo', { lessonId: spring })
    expect(await kept()).toBe(1)
    await library.ask('edits.undo', { lessonId: autumn })
    expect(await kept()).toBe(0)
    await library.ask('clip.remove', { id: swings.spring.views[0]!.clipId })
    await library.ask('edits.redo', { lessonId: autumn })
    expect(await kept()).toBe(0)
    await library.ask('edits.undo', { lessonId: spring })
    expect((await library.ask('lesson.open', { lessonId: spring })).swings).toHaveLength(1)
  })
})
