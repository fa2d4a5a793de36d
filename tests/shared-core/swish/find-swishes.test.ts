import { describe, expect, test } from 'vitest'
import { run } from '../../../scripts/worlds/swish.ts'
import { findSwishes, loudestWhere } from '../../../shared-core/swish/find-swishes.ts'
import { addHiss, chanceFrom } from '../moments/synthetic-sound.ts'
import { addRodSwing } from './rod-sound.ts'

test('swishes of rods from 15 to 45 m/s are found, their speed within 15 %, and other sounds are none', () => {
  const told = run({ small: true, seed: 11, print: () => {} })
  expect(told.found / told.of).toBeGreaterThanOrEqual(0.8)
  expect(told.within / told.found).toBeGreaterThanOrEqual(0.9)
  expect(told.opposite).toBe(0)
  expect(told.falsely).toBe(0)
}, 60_000)

const rod = (tipMps: number) => {
  const rate = 16_000
  const pcm = new Float32Array(2 * rate)
  const swing = {
    diameterM: 0.008,
    nearM: 0.7,
    tipM: 1.8,
    peakSeconds: 1,
    riseSeconds: 0.08,
    fallSeconds: 0.09,
  }
  addRodSwing(pcm, rate, { ...swing, tipMps, distanceM: 3, awayMps: 0, strouhal: 0.198 }, 0.2, chanceFrom(3))
  addHiss(pcm, 0.001, chanceFrom(4))
  return findSwishes(pcm, rate)
}

describe('one rod', () => {
  test('faster is higher and louder', () => {
    const [slow] = rod(20)
    const [fast] = rod(40)
    expect(fast!.pitchHz / slow!.pitchHz).toBeGreaterThan(1.6)
    // Power with the sixth of the speed: 18 dB for twice of it.
    expect(fast!.levelDb - slow!.levelDb).toBeGreaterThan(12)
    expect(fast!.levelDb - slow!.levelDb).toBeLessThan(24)
  })

  test('in a track that was slowed with its picture it is as high as it was', () => {
    const rate = 16_000
    const pcm = new Float32Array(8 * rate)
    const swing = {
      diameterM: 0.008,
      nearM: 0.7,
      tipM: 1.8,
      peakSeconds: 1,
      riseSeconds: 0.08,
      fallSeconds: 0.09,
    }
    // Four times as many samples a real second, played as if there were one time as many.
    addRodSwing(
      pcm,
      4 * rate,
      { ...swing, tipMps: 30, distanceM: 3, awayMps: 0, strouhal: 0.198 },
      0.2,
      chanceFrom(3),
    )
    addHiss(pcm, 0.001, chanceFrom(4))
    const [swish] = findSwishes(pcm, rate * 4)
    expect(swish!.atSeconds).toBeCloseTo(1, 1)
    expect(swish!.pitchHz).toBeGreaterThan(500)
    expect(swish!.pitchHz).toBeLessThan(850)
  })
})

test('no sound and silence hold no swish', () => {
  expect(findSwishes(new Float32Array(0), 48_000)).toEqual([])
  expect(findSwishes(new Float32Array(48_000), 48_000)).toEqual([])
})

test('before, at and after the bottom', () => {
  expect(loudestWhere(1, 1.05).where).toBe('before')
  expect(loudestWhere(1, 1.01).where).toBe('at')
  expect(loudestWhere(1, 0.9)).toEqual({ where: 'after', bySeconds: expect.closeTo(0.1, 6) })
})
