import { describe, expect, test } from 'vitest'
import { ballDeparture } from '../../../shared-core/moments/ball-departure.ts'
import { frameAtOrBefore } from '../../../shared-core/moments/frame-at.ts'
import { MotionCurveBuilder } from '../../../shared-core/moments/motion-curve.ts'
import { swingBursts } from '../../../shared-core/moments/swing-bursts.ts'
import { evenTimes, sceneFrames, usualScene } from './synthetic-scene.ts'
import type { Scene } from './synthetic-scene.ts'
import { chanceFrom } from './synthetic-sound.ts'

const small = (changes: Partial<Scene>): Scene =>
  usualScene({ width: 120, height: 160, ballRadius: 1.8, ...changes })

describe('the ball leaving its place', () => {
  test('names the last frame before it moves, within one frame, at every rate and spacing of frames', () => {
    let exact = 0
    let all = 0
    for (const rate of [25, 30, 60, 120]) {
      for (let start = 1; start <= 4; start++) {
        const chance = chanceFrom(start * 7 + rate)
        const impactSeconds = 1.2 + chance()
        const scene = small({
          impactSeconds,
          start,
          mirrored: start % 2 === 0,
          noise: 1 + chance() * 3,
          ground: 70 + 60 * chance(),
        })
        let times = evenTimes(rate, impactSeconds + 0.8, impactSeconds - 0.8)
        if (start > 2) times = times.map((t) => t + ((chance() - 0.5) * 0.7) / rate)
        const frames = [...sceneFrames(scene, times)]
        const expected = impactSeconds + (chance() - 0.5) * 0.3
        const found = ballDeparture(frames, times, expected)
        const error = (found?.frame ?? NaN) - frameAtOrBefore(times, impactSeconds)
        expect(Math.abs(error)).toBeLessThanOrEqual(1)
        expect(found!.confidence).toBeGreaterThan(0.4)
        all++
        if (error === 0) exact++
      }
    }
    console.log(`ball departure: ${exact} of ${all} scenes on the very frame, all within one`)
  })

  test('is not seen when the ball stays (a practice swing) or there is none', () => {
    for (const changes of [{ struck: false }, { hasBall: false }]) {
      for (let start = 1; start <= 4; start++) {
        const scene = small({ impactSeconds: 1.3, start, ...changes })
        const times = evenTimes(60, 2.2, 0.4)
        const found = ballDeparture([...sceneFrames(scene, times)], times, 1.3)
        expect(found?.confidence ?? 0).toBeLessThan(0.35)
      }
    }
  })

  test('is not seen without enough frames on both sides', () => {
    const scene = small({ impactSeconds: 1.3 })
    const times = evenTimes(30, 1.35, 0.5)
    expect(ballDeparture([...sceneFrames(scene, times)], times, 1.3)).toBeNull()
    expect(ballDeparture([], [], 1)).toBeNull()
  })
})

describe('the motion of a swing', () => {
  test('gives top and takeaway near where they are, and the strike near the greatest change', () => {
    for (const [rate, stretch] of [
      [30, 1],
      [60, 1],
      [120, 4],
    ] as const) {
      for (let start = 1; start <= 3; start++) {
        const scene = small({ impactSeconds: 2 + 0.2 * start, start })
        const times = evenTimes(rate, scene.impactSeconds + 1.4)
        const builder = new MotionCurveBuilder()
        for (const frame of sceneFrames(scene, times, stretch)) builder.push(frame)
        const bursts = swingBursts(builder.finish(), stretch)
        const [burst] = bursts.sort((a, b) => b.clearness * b.height - a.clearness * a.height)
        expect(Math.abs(burst!.peakSeconds - scene.impactSeconds)).toBeLessThan(0.15)
        expect(Math.abs(times[burst!.top!]! - scene.topSeconds)).toBeLessThan(0.06)
        expect(Math.abs(times[burst!.takeaway!]! - scene.takeawaySeconds)).toBeLessThan(0.13)
        expect(Math.abs(times[burst!.finish!]! - scene.finishSeconds)).toBeLessThan(0.15)
        expect(burst!.clearness).toBeGreaterThan(0.5)
      }
    }
  })

  test('finds no burst in a still picture, in noise or in a clip of a few frames', () => {
    const noisy = small({ impactSeconds: 100 })
    const builder = new MotionCurveBuilder()
    for (const frame of sceneFrames(noisy, evenTimes(30, 2))) builder.push(frame)
    expect(swingBursts(builder.finish(), 1)).toEqual([])
    expect(swingBursts(new MotionCurveBuilder().finish(), 1)).toEqual([])
  })

  test('refuses frames of changing size', () => {
    const builder = new MotionCurveBuilder()
    builder.push({ index: 0, atSeconds: 0, pixels: new Uint8Array(6), width: 3, height: 2 })
    expect(() =>
      builder.push({ index: 1, atSeconds: 1, pixels: new Uint8Array(8), width: 4, height: 2 }),
    ).toThrow('another size')
  })
})
