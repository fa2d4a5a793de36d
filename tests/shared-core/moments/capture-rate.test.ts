import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { guessCaptureRate, playbackRateOf } from '../../../shared-core/moments/capture-rate.ts'
import { MotionCurveBuilder } from '../../../shared-core/moments/motion-curve.ts'
import { evenTimes, sceneFrames, usualScene } from './synthetic-scene.ts'
import { chanceFrom } from './synthetic-sound.ts'

const curveOf = (rate: number, stretch: number, start: number) => {
  const chance = chanceFrom(start)
  const impactSeconds = 1.5 + chance()
  const scene = usualScene({
    impactSeconds,
    topSeconds: impactSeconds - 0.22 - 0.12 * chance(),
    width: 84,
    height: 112,
    ballRadius: 1.3,
    mirrored: chance() < 0.5,
    start,
  })
  const builder = new MotionCurveBuilder()
  for (const frame of sceneFrames(scene, evenTimes(rate, impactSeconds + 1.3), stretch)) builder.push(frame)
  return builder.finish()
}

describe('the rate at which a clip was filmed', () => {
  test.each([
    [30, 30],
    [25, 25],
    [60, 60],
    [120, 30],
    [240, 30],
    [240, 60],
  ])('%d frames/s played at %d is told from the motion alone, or left open', (captureRate, playbackRate) => {
    let right = 0
    for (let start = 1; start <= 3; start++) {
      const curve = curveOf(captureRate, captureRate / playbackRate, start)
      const guess = guessCaptureRate({ playbackRate, curve })
      if (guess.captureRate === captureRate) {
        right++
        expect(captureRate === playbackRate ? ['container', 'assumed'] : ['motion']).toContain(guess.how)
      } else expect(guess).toMatchObject({ captureRate: playbackRate, how: 'assumed' })
    }
    expect(right).toBeGreaterThanOrEqual(1)
  })

  test('is taken from the tag of the camera before anything else', () => {
    expect(
      guessCaptureRate({ playbackRate: 30, tags: { 'com.android.capture.fps': '240.000000' } }),
    ).toMatchObject({
      captureRate: 240,
      how: 'tag',
    })
    expect(
      guessCaptureRate({ playbackRate: 29.97, tags: { 'COM.ANDROID.CAPTURE.FPS': '30' } }),
    ).toMatchObject({
      captureRate: 29.97,
      how: 'tag',
    })
  })

  test('is not taken from a tag that makes no sense', () => {
    for (const value of ['', 'fast', '0', '-240', '1e9', '12']) {
      const guess = guessCaptureRate({ playbackRate: 30, tags: { 'com.android.capture.fps': value } })
      expect(guess).toMatchObject({ captureRate: 30, how: 'assumed' })
    }
  })

  test('is the playback rate, and called assumed, when the picture stands still', () => {
    const builder = new MotionCurveBuilder()
    for (let index = 0; index < 60; index++) {
      builder.push({
        index,
        atSeconds: index / 30,
        pixels: new Uint8Array(100).fill(90),
        width: 10,
        height: 10,
      })
    }
    expect(guessCaptureRate({ playbackRate: 30, curve: builder.finish() })).toMatchObject({
      captureRate: 30,
      how: 'assumed',
    })
  })

  test('is the playback rate of a file that plays fast', () => {
    expect(guessCaptureRate({ playbackRate: 240 })).toMatchObject({ captureRate: 240, how: 'container' })
  })
})

describe('the rate at which a clip plays', () => {
  test('is the usual rate behind timestamps rounded to milliseconds or to 600ths', () => {
    for (const rate of [24, 25, 30, 50, 60, 120, 240]) {
      for (const ticks of [1000, 600, 90_000]) {
        const times = Array.from({ length: 20 * rate }, (_, i) => Math.round((i / rate) * ticks) / ticks)
        expect(playbackRateOf(times)).toBe(rate)
      }
    }
    const ntsc = Array.from({ length: 900 }, (_, i) => (i * 1001) / 30_000)
    expect(playbackRateOf(ntsc)).toBeCloseTo(29.97, 4)
  })

  test('is the usual rate when single frames were dropped', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), (start) => {
        const chance = chanceFrom(start)
        const times = Array.from({ length: 120 }, (_, i) => i / 30).filter(() => chance() > 0.07)
        expect(playbackRateOf(times)).toBe(30)
      }),
      { numRuns: 50 },
    )
  })

  test('is the usual rate when frames come unevenly, and the mean when they come evenly at an odd rate', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), (start) => {
        const chance = chanceFrom(start)
        const times = Array.from({ length: 90 }, (_, i) => (i + 0.5 * chance()) / 30).filter(
          () => chance() > 0.04,
        )
        expect(playbackRateOf(times)).toBe(30)
      }),
      { numRuns: 50 },
    )
    expect(playbackRateOf(Array.from({ length: 90 }, (_, i) => i / 28.5))).toBeCloseTo(28.5, 6)
  })

  test('is unknown for one frame or frames at one instant', () => {
    expect(playbackRateOf([])).toBeNull()
    expect(playbackRateOf([1])).toBeNull()
    expect(playbackRateOf([1, 1, 1])).toBeNull()
  })
})
