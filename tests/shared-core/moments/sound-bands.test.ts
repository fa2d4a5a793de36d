import { describe, expect, test } from 'vitest'
import { slowPartOf, SoundBandsBuilder, soundSlownessOf } from '../../../shared-core/moments/sound-bands.ts'
import { addHiss, addStrike, addVoice, addWind, chanceFrom } from './synthetic-sound.ts'

const rate = 48_000
const bandsOf = (pcm: Float32Array, fromSeconds = 0) => {
  const builder = new SoundBandsBuilder(rate, fromSeconds)
  builder.push(pcm)
  return builder.finish()
}

/** A range: 4 s with wind, the microphone's own noise, talk and a strike. */
const range = (seed: number, hiss = 0.002): Float32Array => {
  const chance = chanceFrom(seed)
  const pcm = new Float32Array(4 * rate)
  addWind(pcm, rate, 0.03, chance)
  addHiss(pcm, hiss, chance)
  addVoice(pcm, rate, 0.1, 1.5, 0.1, chance)
  addStrike(pcm, rate, 2.6, 0.3, chance)
  return pcm
}

/** The sound played so many times slower, nothing above where it ended: ideal interpolation by a windowed sinc. */
const slowed = (sound: Float32Array, factor: number): Float32Array => {
  const reach = 10
  return Float32Array.from({ length: sound.length * factor }, (_, i) => {
    const middle = Math.floor(i / factor)
    let sum = 0
    for (let k = middle - reach + 1; k <= middle + reach; k++) {
      const x = i / factor - k
      const window = 0.5 + 0.5 * Math.cos((Math.PI * x) / (reach + 1))
      sum += (sound[k] ?? 0) * window * (x === 0 ? 1 : Math.sin(Math.PI * x) / (Math.PI * x))
    }
    return sum
  })
}

const joined = (...parts: Float32Array[]): Float32Array => {
  const out = new Float32Array(parts.reduce((sum, p) => sum + p.length, 0))
  parts.reduce((at, p) => (out.set(p, at), at + p.length), 0)
  return out
}
const cut = (pcm: Float32Array, from: number, to: number) => pcm.subarray(from * rate, to * rate)

describe('how slow a sound is played, by where its frequencies end', () => {
  test.each([4, 8])('a part that is %i times slower is found with its ends and its slowness', (factor) => {
    for (const seed of [1, 2, 3]) {
      const pcm = range(seed)
      const film = joined(cut(pcm, 0, 1.2), slowed(cut(pcm, 1.2, 3.2), factor), cut(pcm, 3.2, 4))
      const part = slowPartOf(bandsOf(film, 10))!
      expect(part.slowness).toBe(factor)
      expect(Math.abs(part.fromSeconds - 11.2)).toBeLessThan(0.06)
      expect(Math.abs(part.toSeconds - (11.2 + 2 * factor))).toBeLessThan(0.06)
    }
  })

  test('a whole track that is slowed says so; one at the speed of life has no part and says that it is', () => {
    for (const seed of [1, 2, 3]) {
      const pcm = range(seed)
      for (const factor of [2, 4, 8]) {
        const bands = bandsOf(slowed(cut(pcm, 0.5, 3.5), factor))
        expect(soundSlownessOf(bands)).toBe(factor)
        expect(slowPartOf(bands)).toBeNull()
      }
      for (const hiss of [0.01, 0.002, 0.0003]) {
        const bands = bandsOf(range(seed, hiss))
        expect(soundSlownessOf(bands)).toBe(1)
        expect(slowPartOf(bands)).toBeNull()
      }
    }
  })

  test('a pause, a muted stretch and a track that only grows quieter are no slow motion', () => {
    const pcm = range(4)
    const muted = joined(cut(pcm, 0, 1), new Float32Array(2 * rate), cut(pcm, 1, 3))
    const quieter = joined(
      cut(pcm, 0, 1),
      cut(pcm, 1, 3).map((v) => v * 0.02),
      cut(pcm, 3, 4),
    )
    for (const film of [muted, quieter, new Float32Array(3 * rate), new Float32Array(0)]) {
      expect(slowPartOf(bandsOf(film))).toBeNull()
      expect(soundSlownessOf(bandsOf(film)) ?? 1).toBe(1)
    }
  })
})
