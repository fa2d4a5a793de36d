import fs from 'node:fs'
import path from 'node:path'
import { expect, it } from 'vitest'
import { LiveSwishes } from '../../renderer/live/live-swishes.ts'
import { findSwishes, loudestWhere } from '../../shared-core/swish/find-swishes.ts'
import { addHiss, chanceFrom } from '../shared-core/moments/synthetic-sound.ts'
import { addRodSwing } from '../shared-core/swish/rod-sound.ts'
import { runFfmpegNow } from './support/make-clip.ts'
import { openWithLesson, takeIn } from './support/temporary-library.ts'

const rate = 48_000
const swing = { diameterM: 0.008, nearM: 0.7, tipM: 1.8, riseSeconds: 0.08, fallSeconds: 0.09 }

const soundOf = (seconds: number, peaks: readonly number[]) => {
  const pcm = new Float32Array(rate * seconds)
  for (const [i, peakSeconds] of peaks.entries()) {
    const own = new Float32Array(2 * rate)
    const whole = { ...swing, peakSeconds: 1, tipMps: 30, distanceM: 3, awayMps: 0, strouhal: 0.198 }
    addRodSwing(own, rate, whole, 0.2, chanceFrom(30 + i))
    const from = Math.round((peakSeconds - 1) * rate)
    for (let k = 0; k < own.length; k++) if (from + k >= 0 && from + k < pcm.length) pcm[from + k]! += own[k]!
  }
  addHiss(pcm, 0.001, chanceFrom(9))
  return pcm
}

it('the swish in a clip is placed on its frame, earlier by the sound’s way to the microphone', async () => {
  const { library, folder, lessonId } = await openWithLesson()
  const pcm = soundOf(2.4, [1.2])
  const raw = path.join(folder, 'sound.raw')
  fs.writeFileSync(raw, Buffer.from(pcm.buffer))
  const file = path.join(folder, 'swing.mp4')
  runFfmpegNow(
    ...['-f', 'lavfi', '-i', 'testsrc2=size=320x180:rate=120:duration=2.4'],
    ...['-f', 'f32le', '-ar', String(rate), '-ac', '1', '-i', raw],
    ...['-pix_fmt', 'yuv420p', '-c:a', 'aac', '-b:a', '128k', file],
  )
  await takeIn(library, lessonId, [file])
  const opened = await library.ask('lesson.open', { lessonId })
  // Real seconds need the true rate, which a test picture does not show.
  await library.ask('clip.update', { id: opened.clips[0]!.id, patch: { captureRate: 120 } })
  const { swishes } = await library.ask('view.swishes', { id: opened.swings[0]!.views[0]!.id })
  expect(swishes).toHaveLength(1)
  // 3 m to the microphone are 9 ms (343 m/s); the loudest is found within 20 ms.
  expect(Math.abs(swishes[0]!.realSeconds - (1.2 - 0.009))).toBeLessThan(0.02)
  expect(Math.abs(swishes[0]!.frame - 120 * (1.2 - 0.009))).toBeLessThan(3.5)
  expect(loudestWhere(swishes[0]!.realSeconds, 1.3).where).toBe('before')
  await library.close()
  fs.rmSync(folder, { recursive: true, force: true })
}, 60_000)

it('swishes heard piece by piece are told once each', () => {
  const peaks = [3, 5.1, 7.4]
  const pcm = soundOf(10, peaks)
  const ear = new LiveSwishes(rate, findSwishes)
  const told: number[] = []
  for (let at = 0; at < pcm.length; at += 2048) {
    for (const swish of ear.hear(pcm.subarray(at, at + 2048))) told.push(swish.atSeconds)
  }
  expect(told).toHaveLength(peaks.length)
  told.forEach((at, i) => expect(Math.abs(at - peaks[i]!)).toBeLessThan(0.03))
}, 60_000)
