import fs from 'node:fs'
import path from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { Library } from '../../electron/library/library.ts'
import { soundDelayOfCamera } from '../../electron/library/queries/sound-delay.ts'
import { runFfmpegNow } from './support/make-clip.ts'
import { openWithLesson, takeIn, temporaryFolder } from './support/temporary-library.ts'

/**
 * A lesson whose sound comes 60 ms later than with the microphone at 3 m (as from 23 m, or from a track that runs late), in clips of the
 * demo with their own truth. Some of them show no ball: their impact rests on the sound alone.
 */
const demo = path.resolve(import.meta.dirname, '../../demo-media')
const lateSeconds = 0.06
let folder: string
let library: Library
let lessonId: string

const truthOf = (name: string) =>
  JSON.parse(fs.readFileSync(path.join(demo, `${name}.truth.json`), 'utf8')) as {
    microphoneM: number
    captureRate: number
    swings: { moments: { impact: { frame: number } } }[]
  }

/** A clip of the demo with its sound late, as it is or without the ground and the ball on it. */
const late = (name: string, as: string, isBallCut: boolean) => {
  const file = path.join(folder, `${as}.mp4`)
  const picture = isBallCut
    ? ['-vf', 'crop=iw:ih*0.6:0:0', '-c:v', 'libx264', '-preset', 'ultrafast', '-crf', '24']
    : ['-c:v', 'copy']
  const sound = ['-af', `adelay=${1000 * lateSeconds}:all=1`, '-c:a', 'aac', '-b:a', '128k']
  runFfmpegNow(
    '-i',
    path.join(demo, fs.existsSync(path.join(demo, `${name}.mp4`)) ? `${name}.mp4` : `${name}.mov`),
    '-fps_mode',
    'passthrough',
    ...picture,
    ...sound,
    file,
  )
  return file
}

const impactOf = async (fileName: string) => {
  const lesson = await library.ask('lesson.open', { lessonId })
  const clip = lesson.clips.find((c) => c.fileName === fileName)!
  const view = lesson.swings.flatMap((s) => s.views).find((v) => v.clipId === clip.id)!
  return view.moments.find((m) => m.name === 'impact')!
}
const errorOf = async (fileName: string, name: string) =>
  (await impactOf(fileName)).frame - truthOf(name).swings[0]!.moments.impact.frame

beforeAll(async () => {
  folder = temporaryFolder()
  ;({ library, lessonId } = await openWithLesson(path.join(folder, 'library')))
})
afterAll(async () => {
  await library.close()
  fs.rmSync(folder, { recursive: true, force: true })
})

describe('how late a lesson’s sound is comes from ball and sound of its clips together', () => {
  test('before any ball was seen, an impact by sound alone is as late as the sound', async () => {
    await takeIn(library, lessonId, [
      late('swing-17', 'no ball 1', true),
      late('swing-06', 'no ball 2', true),
    ])
    for (const [file, name] of [
      ['no ball 1.mp4', 'swing-17'],
      ['no ball 2.mp4', 'swing-06'],
    ] as const) {
      expect((await impactOf(file)).how).toBe('sound')
      expect(await errorOf(file, name)).toBeGreaterThanOrEqual(3)
    }
    await library.ask('moment.confirm', { id: (await impactOf('no ball 1.mp4')).id })
    expect(soundDelayOfCamera(library.context.db, lessonId, 'other')).toBeNull()
  })

  test('three seen balls tell it; what was taken in before moves, but for what the coach confirmed', async () => {
    const confirmed = (await impactOf('no ball 1.mp4')).frame
    const seen = ['swing-01', 'swing-03', 'swing-05', 'swing-19']
    await takeIn(
      library,
      lessonId,
      seen.map((name) => late(name, name, false)),
    )
    for (const name of seen) expect(Math.abs(await errorOf(`${name}.mp4`, name))).toBeLessThanOrEqual(1)
    const delay = soundDelayOfCamera(library.context.db, lessonId, 'other')!
    expect(delay.strikes).toBeGreaterThanOrEqual(3)
    const expected = lateSeconds + truthOf('swing-01').microphoneM / 343
    expect(Math.abs(delay.delaySeconds - expected)).toBeLessThan(Math.max(0.008, 2 * delay.sdSeconds))
    expect(Math.abs(await errorOf('no ball 2.mp4', 'swing-06'))).toBeLessThanOrEqual(1)
    expect((await impactOf('no ball 1.mp4')).frame).toBe(confirmed)
  })

  test('and a clip without a ball that comes later is read with it', async () => {
    await takeIn(library, lessonId, [late('swing-13', 'later', true)])
    expect(Math.abs(await errorOf('later.mp4', 'swing-13'))).toBeLessThanOrEqual(1)
  })

  test('the coach is told the estimate and how many strikes it rests on; a distance of the coach’s own goes before it', async () => {
    const { delays } = await library.ask('lesson.soundDelays', { lessonId })
    expect(delays.map((d) => d.camera)).toEqual(['other'])
    expect(delays[0]!.strikes).toBeGreaterThanOrEqual(3)
    expect(Math.abs(delays[0]!.delayMs - 69)).toBeLessThan(8)
    expect(delays[0]!.distanceM).toBeCloseTo((delays[0]!.delayMs / 1000) * 343.2, 0)
    const moved = async () => Math.abs(await errorOf('no ball 2.mp4', 'swing-06'))
    expect(await moved()).toBeLessThanOrEqual(1)
    await library.ask('lesson.update', { id: lessonId, patch: { micDistanceM: 3 } })
    expect(soundDelayOfCamera(library.context.db, lessonId, 'other')!.delaySeconds).toBeCloseTo(3 / 343.2, 4)
    expect(await moved()).toBeGreaterThanOrEqual(3)
    expect((await library.ask('lesson.soundDelays', { lessonId })).delays).toEqual(delays)
    await library.ask('lesson.update', { id: lessonId, patch: { isMicTold: false } })
    expect(await moved()).toBeLessThanOrEqual(1)
  })
})
