import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { SoundEnvelopeBuilder, soundEnvelope } from '../../../shared-core/moments/sound-envelope.ts'
import { strikeCandidates } from '../../../shared-core/moments/strike-sound.ts'
import type { StrikeCandidate } from '../../../shared-core/moments/strike-sound.ts'
import { addHiss, addNeighbour, addStrike, addVoice, addWind, chanceFrom } from './synthetic-sound.ts'

const rates = [8000, 11_025, 16_000, 22_050, 32_000, 44_100, 48_000]

const strongest = (candidates: StrikeCandidate[]): StrikeCandidate | undefined =>
  [...candidates].sort((a, b) => b.strength * b.likeness - a.strength * a.likeness)[0]

/** A range: wind, hiss, talk before and after, a neighbour at a third to two thirds of the loudness. */
const rangeSound = (start: number, rate: number, gain = 0.3) => {
  const chance = chanceFrom(start)
  const pcm = new Float32Array(rate * 4)
  const atSeconds = 1.6 + chance()
  addStrike(pcm, rate, atSeconds, gain, chance, start % 2 ? 'driver' : 'iron')
  addWind(pcm, rate, 0.2 * gain, chance)
  addHiss(pcm, 0.004 * gain, chance)
  addVoice(pcm, rate, 0.1, 1.5, 0.4 * gain, chance)
  addVoice(pcm, rate, 3, 3.9, 0.4 * gain, chance)
  addNeighbour(pcm, rate, 0.3 + chance(), gain * (0.3 + 0.3 * chance()), chance)
  return { pcm, atSeconds }
}

describe('the strike in a sound track', () => {
  test('begins within a millisecond of where it was put, at every sample rate, among wind, voices and a neighbour', () => {
    const errorsMs: number[] = []
    for (const rate of rates) {
      for (let start = 1; start <= 8; start++) {
        const { pcm, atSeconds } = rangeSound(start * 31 + rate, rate)
        const found = strongest(strikeCandidates(soundEnvelope(pcm, rate)))
        errorsMs.push(Math.abs((found?.heardAtSeconds ?? NaN) - atSeconds) * 1000)
      }
    }
    const sorted = [...errorsMs].sort((a, b) => a - b)
    console.log(
      `strike onset, ${errorsMs.length} tracks: median error ${sorted[sorted.length >> 1]!.toFixed(2)} ms, worst ${sorted.at(-1)!.toFixed(2)} ms`,
    )
    for (const error of errorsMs) expect(error).toBeLessThan(1)
  })

  test('is found alike however loud the recording is', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 400 }),
        fc.double({ min: -34, max: 8, noNaN: true }),
        (start, gainDb) => {
          const { pcm } = rangeSound(start, 16_000)
          const factor = 10 ** (gainDb / 20)
          const plain = strongest(strikeCandidates(soundEnvelope(pcm, 16_000)))!
          const scaled = strongest(
            strikeCandidates(
              soundEnvelope(
                pcm.map((v) => v * factor),
                16_000,
              ),
            ),
          )!
          expect(scaled.heardAtSeconds).toBeCloseTo(plain.heardAtSeconds, 4)
          expect(scaled.likeness).toBeCloseTo(plain.likeness, 2)
          expect(scaled.strength / plain.strength / factor).toBeCloseTo(1, 3)
        },
      ),
      { numRuns: 25 },
    )
  })

  test('sounds more like a strike than talk, wind or the echoing neighbour do', () => {
    const own: number[] = []
    const others: number[] = []
    for (let start = 1; start <= 20; start++) {
      const { pcm, atSeconds } = rangeSound(start, 44_100)
      for (const c of strikeCandidates(soundEnvelope(pcm, 44_100))) {
        if (Math.abs(c.heardAtSeconds - atSeconds) < 0.002) own.push(c.likeness)
        else others.push(c.likeness)
      }
    }
    expect(own).toHaveLength(20)
    expect(Math.min(...own)).toBeGreaterThan(0.6)
    expect(others.filter((v) => v > 0.6).length / others.length).toBeLessThan(0.03)
  })

  test('comes out at the real instant when the track is stretched slow motion', () => {
    for (const stretch of [4, 8]) {
      const { pcm, atSeconds } = rangeSound(77, 48_000)
      const slow = new Float32Array(pcm.length * stretch)
      for (let i = 0; i < slow.length; i++) {
        const k = Math.floor(i / stretch)
        const u = i / stretch - k
        slow[i] = pcm[k]! * (1 - u) + (pcm[k + 1] ?? 0) * u
      }
      const found = strongest(strikeCandidates(soundEnvelope(slow, 48_000 * stretch)))!
      expect(Math.abs(found.heardAtSeconds - atSeconds)).toBeLessThan(0.001)
    }
  })

  test('is not heard in silence, in a track shorter than a strike, or in steady noise', () => {
    expect(strikeCandidates(soundEnvelope(new Float32Array(48_000), 48_000))).toEqual([])
    expect(strikeCandidates(soundEnvelope(new Float32Array(5), 48_000))).toEqual([])
    const noise = new Float32Array(96_000)
    addHiss(noise, 0.1, chanceFrom(3))
    expect(
      strikeCandidates(soundEnvelope(noise, 48_000)).filter(
        (c) => c.likeness > 0.3 && c.heardAtSeconds > 0.01,
      ),
    ).toEqual([])
  })

  test('does not depend on how the samples were cut into pieces', () => {
    const { pcm } = rangeSound(5, 22_050)
    const whole = soundEnvelope(pcm, 22_050)
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 1, max: 30_000 }), { minLength: 1, maxLength: 20 }),
        (lengths) => {
          const builder = new SoundEnvelopeBuilder(22_050)
          let at = 0
          for (const length of lengths) {
            builder.push(pcm.subarray(at, at + length))
            at += length
          }
          builder.push(pcm.subarray(at))
          expect(builder.finish()).toEqual(whole)
        },
      ),
      { numRuns: 20 },
    )
  })

  test('refuses a sample rate that cannot be', () => {
    for (const rate of [0, -1, NaN, Infinity]) {
      expect(() => soundEnvelope(new Float32Array(10), rate)).toThrow('sample rate')
    }
  })

  test('gives finite numbers for any samples, broken ones too', () => {
    fc.assert(
      fc.property(
        fc.array(fc.oneof(fc.double({ min: -1, max: 1 }), fc.constant(NaN)), { maxLength: 3000 }),
        (samples) => {
          for (const c of strikeCandidates(soundEnvelope(Float32Array.from(samples), 8000))) {
            for (const value of Object.values(c)) expect(Number.isFinite(value)).toBe(true)
          }
        },
      ),
      { numRuns: 40 },
    )
  })
})
