import { describe, expect, test } from 'vitest'
import { madeLesson, tallyDelays } from '../../scripts/worlds/sound-delay.ts'
import { chanceFrom } from '../shared-core/moments/synthetic-sound.ts'
import { soundDelayOf } from '../../shared-core/moments/sound-delay.ts'

describe('how late a lesson’s sound is, in 120 made lessons with the microphone 0.5 to 60 m off and late tracks', () => {
  const chance = chanceFrom(20_270_103)
  const lessons = Array.from({ length: 120 }, () => madeLesson(chance))
  const many = lessons.filter((l) => l.strikes.length >= 6)

  test('is told right or not at all, and mostly told from six strikes on', () => {
    const all = tallyDelays(lessons)
    console.log(
      'sound delays of made lessons:',
      JSON.stringify({ right: all.right, wrong: all.wrong, none: all.none }),
    )
    expect(all.wrong).toBeLessThanOrEqual(2)
    expect(all.right).toBeGreaterThanOrEqual(90)
    expect(tallyDelays(many).right).toBeGreaterThanOrEqual(0.85 * many.length)
  })

  test('lies within twice the error said of it in 19 of 20', () => {
    const { z } = tallyDelays(many)
    expect(z.filter((one) => Math.abs(one) <= 2).length).toBeGreaterThanOrEqual(0.93 * z.length)
  })

  test('is not told from two strikes, nor where every strike tells another', () => {
    expect(soundDelayOf(lessons.find((l) => l.strikes.length >= 6)!.strikes.slice(0, 2))).toBeNull()
    const scattered = Array.from({ length: 8 }, (_, i) => ({
      fromSeconds: 2,
      toSeconds: 2.033,
      sounds: [{ heardAtSeconds: 2.02 + 0.07 * i, weight: 1 }],
    }))
    expect(soundDelayOf(scattered)).toBeNull()
  })
})
