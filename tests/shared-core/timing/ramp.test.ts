import { describe, expect, test } from 'vitest'
import { frameAfter, realSecondsBetween } from '../../../shared-core/timing/clip-clock.ts'
import { rampOf, realInstant, realTimes } from '../../../shared-core/timing/ramp.ts'

/** File times of frames shown for `gaps[i]` seconds each. */
const timesOf = (gaps: number[]): number[] => gaps.reduce((all, gap) => [...all, all.at(-1)! + gap], [0])
const ramp = timesOf([
  ...Array.from({ length: 60 }, () => 1 / 240),
  ...Array.from({ length: 120 }, () => 1 / 30),
  ...Array.from({ length: 60 }, () => 1 / 240),
])

describe('a slow-motion ramp', () => {
  test('is told from the stretches of short and long gaps, with the rate of the short ones', () => {
    const found = rampOf(ramp)!
    expect(found.captureRate).toBeCloseTo(240, 6)
    expect(found.slowness).toBeCloseTo(8, 6)
  })

  test('runs at its camera’s rate throughout, whatever the file shows', () => {
    const clip = { atSeconds: ramp, playbackRate: 52, captureRate: 240 }
    for (const [from, to] of [
      [0, 60],
      [60, 180],
      [30, 200],
    ] as const) {
      expect(realSecondsBetween(clip, from, to)).toBeCloseTo((to - from) / 240, 9)
    }
    expect(frameAfter(clip, 70, 0.1)).toBe(94)
    const real = realTimes(ramp, 1)
    expect(realInstant(ramp, real, ramp[100]!)).toBeCloseTo(100 / 240, 9)
  })

  test('is not seen in an even clip, in one with dropped frames, or in a wandering clock', () => {
    const even = Array.from({ length: 200 }, (_, i) => i / 30)
    expect(rampOf(even)).toBeNull()
    expect(rampOf(even.filter((_, i) => i % 7 !== 3))).toBeNull()
    expect(rampOf(even.map((t, i) => t + (i % 3) * 0.006))).toBeNull()
    expect(rampOf([])).toBeNull()
  })

  test('is not seen where a camera fell behind in poor light: then the times are true', () => {
    for (const [fast, slow] of [
      [60, 20],
      [60, 15],
      [30, 15],
      [120, 60],
    ] as const) {
      const fell = timesOf([
        ...Array.from({ length: 90 }, () => 1 / fast),
        ...Array.from({ length: 90 }, () => 1 / slow),
      ])
      expect(rampOf(fell), `${fast} to ${slow}`).toBeNull()
    }
  })
})

describe('a film of one rate that is slow motion in a part only', () => {
  const even = Array.from({ length: 300 }, (_, i) => 5 + i / 30)
  const clip = {
    atSeconds: even,
    playbackRate: 30,
    captureRate: 240,
    slowPart: { fromSeconds: 2, toSeconds: 8 },
  }

  test('is as fast as life before and after it, and slow within', () => {
    expect(realSecondsBetween(clip, 0, 60)).toBeCloseTo(2, 9)
    expect(realSecondsBetween(clip, 60, 240)).toBeCloseTo(6 / 8, 9)
    expect(realSecondsBetween(clip, 240, 299)).toBeCloseTo(59 / 30, 9)
    expect(realSecondsBetween(clip, 30, 120)).toBeCloseTo(1 + 2 / 8, 9)
    expect(frameAfter(clip, 60, 0.5)).toBe(180)
  })

  test('told to be another, the same film is another: kept clocks are not mixed up', () => {
    expect(realSecondsBetween({ ...clip, slowPart: null }, 0, 60)).toBeCloseTo(2 / 8, 9)
    expect(realSecondsBetween({ ...clip, captureRate: 120 }, 60, 240)).toBeCloseTo(6 / 4, 9)
    expect(realSecondsBetween(clip, 0, 60)).toBeCloseTo(2, 9)
  })
})
