import { spawnSync } from 'node:child_process'
import fs from 'node:fs'
import path from 'node:path'
import { expect, it } from 'vitest'
import { runFfmpegNow } from '../library/support/make-clip.ts'
import { temporaryFolder } from '../library/support/temporary-library.ts'
import { addHiss, chanceFrom } from '../shared-core/moments/synthetic-sound.ts'
import { addRodSwing } from '../shared-core/swish/rod-sound.ts'

it('leadside swishes finds the swish in a clip, its frame, its place and the speed of a stick of known diameter', () => {
  const folder = temporaryFolder()
  const rate = 48_000
  const pcm = new Float32Array(2.4 * rate)
  const swing = {
    diameterM: 0.008,
    nearM: 0.7,
    tipM: 1.8,
    peakSeconds: 1.2,
    riseSeconds: 0.08,
    fallSeconds: 0.09,
  }
  const heard = { tipMps: 30, distanceM: 3, awayMps: 0, strouhal: 0.198 }
  addRodSwing(pcm, rate, { ...swing, ...heard }, 0.2, chanceFrom(30))
  addHiss(pcm, 0.001, chanceFrom(9))
  const raw = path.join(folder, 'sound.raw')
  fs.writeFileSync(raw, Buffer.from(pcm.buffer))
  const file = path.join(folder, 'swing.mp4')
  runFfmpegNow(
    ...['-f', 'lavfi', '-i', 'testsrc2=size=320x180:rate=60:duration=2.4'],
    ...['-f', 'f32le', '-ar', String(rate), '-ac', '1', '-i', raw],
    ...['-pix_fmt', 'yuv420p', '-c:a', 'aac', '-b:a', '128k', file],
  )
  const args = ['swishes', file, '--diameter-mm', '8', '--bottom-frame', '80', '--json']
  const { stdout } = spawnSync(process.execPath, ['electron/cli/index.ts', ...args], { encoding: 'utf8' })
  const { swishes } = JSON.parse(stdout) as {
    swishes: { realSeconds: number; frame: number; loudest: { where: string }; stickSpeedMps: number }[]
  }
  expect(swishes).toHaveLength(1)
  // The sound's way of 3 m takes 9 ms (343 m/s); the loudest is found within 20 ms.
  expect(Math.abs(swishes[0]!.realSeconds - 1.191)).toBeLessThan(0.02)
  expect(Math.abs(swishes[0]!.frame - 71)).toBeLessThanOrEqual(2)
  expect(swishes[0]!.loudest.where).toBe('before')
  expect(Math.abs(swishes[0]!.stickSpeedMps / 30 - 1)).toBeLessThan(0.15)
  fs.rmSync(folder, { recursive: true, force: true })
}, 60_000)
