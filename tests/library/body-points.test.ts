import fs from 'node:fs'
import path from 'node:path'
import { eq } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { LessonReport } from '../../shared-core/report/lesson-report.ts'
import { jointCount, jointIndex } from '../../shared-core/body/joints.ts'
import { shiftFields } from '../../shared-core/body/body-track.ts'
import * as t from '../../electron/library/database/schema.ts'
import { readTrack } from '../../electron/library/queries/body-of-clip.ts'
import type { Library } from '../../electron/library/library.ts'
import { openWithLesson, takeIn } from './support/temporary-library.ts'

interface Truth {
  captureRate: number
  swings: { moments: Record<string, { frame: number }> }[]
}
const truth = JSON.parse(
  fs.readFileSync(path.join(import.meta.dirname, '../../demo-media/swing-02.truth.json'), 'utf8'),
) as Truth
const clipFile = path.join(import.meta.dirname, '../../demo-media/swing-02.mp4')

// The thread has a low priority: beside other work it takes its time.
describe('body points of a clip', { timeout: 600_000 }, () => {
  let library: Library
  let folder = ''
  let lessonId = ''
  let clipId = ''

  beforeAll(async () => {
    ;({ library, folder, lessonId } = await openWithLesson())
    await takeIn(library, lessonId, [clipFile])
    clipId = (await library.ask('lesson.open', { lessonId })).clips[0]!.id
  })
  afterAll(async () => {
    await library.close()
    fs.rmSync(folder, { recursive: true, force: true })
  })

  const measures = async () =>
    ((await library.ask('lesson.report', { lessonId })) as LessonReport).measures!.swings[0]!

  test('a cancelled reading leaves nothing; a whole one gives numbers, a brace, and stays when read again', async () => {
    expect((await library.ask('body.points', { clipId })).frames).toEqual([])
    const first = (await library.ask('body.read', { lessonId })).jobIds[0]!
    await expect(library.ask('body.read', { lessonId })).resolves.toEqual({ jobIds: [] })
    await library.ask('job.cancel', { id: first })
    expect((await library.context.jobs.ended(first)).state).toBe('cancelled')
    expect((await library.ask('body.points', { clipId })).frames).toEqual([])

    // What the coach marked stays.
    const finish = (await library.ask('lesson.open', { lessonId })).swings[0]!.views[0]!.moments.find(
      (m) => m.name === 'finish',
    )!
    const marked = finish.frame
    await library.ask('moment.move', { id: finish.id, frame: marked + 3 })

    // Hands that are followed by their look alone are lost in the backswing.
    const [view] = (await library.ask('lesson.open', { lessonId })).swings[0]!.views
    const hands = await library.ask('follow.begin', {
      viewId: view!.id,
      name: 'hands',
      frame: 50,
      x: 403,
      y: 236,
    })
    await library.context.jobs.ended(hands.jobId)
    const handsNow = async () => (await library.ask('follow.list', { clipId }))[0]!
    expect((await handsNow()).lost.length).toBeGreaterThan(0)
    const foundByLook = (await handsNow()).frames.length

    const second = (await library.ask('body.read', { lessonId })).jobIds[0]!
    expect(await library.context.jobs.ended(second)).toMatchObject({ state: 'done', problem: null })
    const { frames, points } = await library.ask('body.points', { clipId })
    expect(frames.length).toBeGreaterThan(50)
    // Once the body is read they are followed anew by themselves, and its arms carry them on.
    await expect.poll(async () => (await handsNow()).frames.length, { timeout: 60_000 }).toBeGreaterThan(400)
    expect(foundByLook).toBeLessThan(300)
    expect(points).toHaveLength(frames.length * jointCount * 3)
    // How the hands go from frame to frame is kept beside them, for the slow half of the swing at least.
    const clip = (await library.ask('lesson.open', { lessonId })).clips[0]!
    const { mediaHash } = library.context.db.select().from(t.clip).where(eq(t.clip.id, clip.id)).get()!
    const { shifts } = readTrack(library.context.db, mediaHash)
    expect(shifts).toHaveLength(frames.length * shiftFields)
    expect(shifts!.filter(Number.isFinite).length / shiftFields).toBeGreaterThan(frames.length / 3)

    const { values } = await measures()
    // The invented swing's own truth: demo-media/swing-02.truth.json, in the picture within the model's error.
    expect(values.leadKneeImpactDeg!.value).toBeGreaterThan(140)
    expect(values.leadKneeImpactDeg!.value).toBeLessThan(180)
    expect(Math.abs(values.headAlongImpactWidths!.value)).toBeLessThan(0.5)
    // The invented swing's own moments, read off its drawing: demo-media/swing-02.truth.json.
    const moments = (await library.ask('lesson.open', { lessonId })).swings[0]!.views[0]!.moments
    const byBody = moments.filter((one) => one.how === 'body')
    expect(byBody.map((m) => m.name)).toEqual(expect.arrayContaining(['takeaway', 'top']))
    for (const m of byBody) {
      expect(m).toMatchObject({ isConfirmed: false })
      expect(m.confidence).toBeLessThanOrEqual(0.95)
    }
    const offSeconds = (name: string) =>
      Math.abs(moments.find((m) => m.name === name)!.frame - truth.swings[0]!.moments[name]!.frame) /
      truth.captureRate
    expect(offSeconds('top')).toBeLessThanOrEqual(0.025)
    expect(offSeconds('takeaway')).toBeLessThanOrEqual(0.05)
    expect(moments.find((m) => m.name === 'finish')).toMatchObject({ frame: marked + 3, how: 'coach' })
    // The hands' way that the arms gave is a step of its own.
    await library.ask('edits.undo', { lessonId })
    expect((await handsNow()).frames.length).toBe(foundByLook)
    // One step to take back: what the motion had said stands again.
    await library.ask('edits.undo', { lessonId })
    const before = (await library.ask('lesson.open', { lessonId })).swings[0]!.views[0]!.moments
    expect(before.filter((m) => m.how === 'body')).toEqual([])
    await library.ask('edits.redo', { lessonId })
    await library.ask('edits.redo', { lessonId })
  })

  test('a point set by hand stands, survives undo of itself and a new reading, and its number follows', async () => {
    const { frames } = await library.ask('body.points', { clipId })
    const impact = (await library.ask('lesson.open', { lessonId })).swings[0]!.views[0]!.moments.find(
      (m) => m.name === 'impact',
    )!.frame
    expect(frames).toContain(impact)
    const before = (await measures()).values.leadKneeImpactDeg!.value
    const at = async () => {
      // Read again, more frames are there: dense round the moments as they stand now.
      const { frames: now, points } = await library.ask('body.points', { clipId })
      const i = (now.indexOf(impact) * jointCount + jointIndex('leftKnee')) * 3
      return points.slice(i, i + 3)
    }
    const was = await at()
    await library.ask('body.correct', {
      clipId,
      frame: impact,
      joint: 'leftKnee',
      x: was[0]! + 20,
      y: was[1]!,
    })
    expect(await at()).toEqual([Math.fround(was[0]! + 20), Math.fround(was[1]!), 1])
    expect(Math.abs((await measures()).values.leadKneeImpactDeg!.value - before)).toBeGreaterThan(3)

    const again = (await library.ask('body.read', { lessonId })).jobIds[0]!
    await library.context.jobs.ended(again)
    expect((await at())[2]).toBe(1)

    await library.ask('edits.undo', { lessonId })
    expect(await at()).toEqual(was)
  })

  test('deleting the student leaves no point behind', async () => {
    const { student } = await library.ask('lesson.open', { lessonId })
    await library.ask('student.deleteForGood', { id: student.id, typedName: 'Robin Testing' })
    const count = (table: string) =>
      library.context.sqlite.prepare(`SELECT count(*) FROM ${table}`).pluck().get()
    expect([count('body_points'), count('body_correction')]).toEqual([0, 0])
  })
})
