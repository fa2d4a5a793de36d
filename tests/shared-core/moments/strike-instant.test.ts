import { describe, expect, test } from 'vitest'
import { strikeInstant } from '../../../shared-core/moments/strike-instant.ts'
import { tempoMeasures } from '../../../shared-core/swing-measures/tempo-measures.ts'
import { chanceFrom, normal } from './synthetic-sound.ts'

const rate = 30
const real = Float64Array.from({ length: 90 }, (_, i) => i / rate)

/** 400 strikes anywhere in their frame, heard with the onset's own error and at times beside another sound. */
const strikes = (delaySeconds: number, onsetSdSeconds: number) => {
  const chance = chanceFrom(20_270_101)
  return Array.from({ length: 400 }, () => {
    const frame = 20 + Math.floor(chance() * 40)
    const within = chance() / rate
    const at = real[frame]! + within + delaySeconds + onsetSdSeconds * normal(chance)
    const sounds = [{ heardAtSeconds: at, weight: 1 }]
    if (chance() < 0.3) sounds.push({ heardAtSeconds: at + 0.05 + 0.2 * chance(), weight: 0.6 })
    return { frame, within, strike: { impact: frame, ball: null, sounds } }
  })
}

describe('when within its frame a ball was struck, by the sound', () => {
  test('is told three times closer than the frame does where the lesson’s delay is known, and its error is what it says', () => {
    const told = strikes(0.012, 0.003).map(({ frame, within, strike }) => {
      const mark = strikeInstant(strike, frame, real, { delaySeconds: 0.012, sdSeconds: 0.0015 })!
      return { off: mark.atSeconds - within, sd: mark.sdSeconds }
    })
    const rms = Math.sqrt(told.reduce((sum, t) => sum + t.off ** 2, 0) / told.length)
    expect(rms).toBeLessThan(1 / rate / Math.sqrt(12) / 2.5)
    const inside = told.filter((t) => Math.abs(t.off) <= 2 * t.sd).length / told.length
    expect(inside).toBeGreaterThan(0.93)
    expect(Math.abs(told.reduce((sum, t) => sum + t.off, 0) / told.length)).toBeLessThan(0.001)
  })

  test('a delay that is only the told distance of the microphone is trusted less, and never leaves the frame', () => {
    for (const { frame, strike } of strikes(0.012, 0.003).slice(0, 50)) {
      const known = strikeInstant(strike, frame, real, { delaySeconds: 0.012, sdSeconds: 0.0015 })!
      const guessed = strikeInstant(strike, frame, real, { delaySeconds: 0.0087 })!
      expect(guessed.sdSeconds).toBeGreaterThan(known.sdSeconds)
      expect(guessed.sdSeconds).toBeLessThanOrEqual(1 / rate / Math.sqrt(12) + 1e-4)
      expect(guessed.atSeconds).toBeGreaterThan(0)
      expect(guessed.atSeconds).toBeLessThan(1 / rate)
    }
  })

  test('a sound that is frames away says nothing', () => {
    const strike = { impact: 30, ball: null, sounds: [{ heardAtSeconds: real[30]! + 0.3, weight: 1 }] }
    expect(strikeInstant(strike, 30, real, { delaySeconds: 0.009 })).toBeNull()
  })

  test('the downswing is measured to it, with its error instead of the frame’s', () => {
    const moments = [
      { name: 'takeaway', frame: 10, how: 'coach', isConfirmed: false },
      { name: 'top', frame: 34, how: 'coach', isConfirmed: false },
      { name: 'impact', frame: 42, how: 'sound+motion', isConfirmed: true },
    ]
    const times = { atSeconds: real, playbackRate: rate, captureRate: rate }
    const alone = tempoMeasures(moments, times, 'file').downswingSeconds!
    const told = tempoMeasures(moments, times, 'file', {
      impact: { atSeconds: 0.03, sdSeconds: 0.003 },
    }).downswingSeconds!
    expect(alone.value).toBeCloseTo(8.5 / rate, 9)
    expect(told.value).toBeCloseTo(8 / rate + 0.03, 9)
    expect(told.sd).toBeLessThan(alone.sd)
  })
})
