import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { weighed } from '../../../shared-core/moments/impact-chance.ts'
import { ratesOf, swingsOfFilm } from '../../../shared-core/moments/read-swings.ts'

/** How fast a picture of a swing changes at `t` seconds from the takeaway: back in 0.85 s, the turn, down in 0.26 s, settling. */
const change = (t: number): number => {
  if (t < 0) return 0
  if (t < 0.85) return 1.6 * Math.sin((Math.PI * t) / 0.85)
  if (t < 1.11) return 9 * ((t - 0.85) / 0.26) ** 1.5
  return 9 * Math.exp(-(t - 1.11) / 0.16)
}

/** A reading of 48 frames to a second of life, each shown for `stretch` / 48 s: nobody says how fast it was filmed. */
const readingOf = (stretch: number) => {
  const frames = 170
  const near = Float32Array.from({ length: frames }, (_, i) => change(i / 48 - 1) + 0.01)
  return {
    curve: {
      atSeconds: Float64Array.from({ length: frames }, (_, i) => (i * stretch) / 48),
      near,
      far: near,
    },
    spots: [],
    swept: [],
    ballLies: 0,
    width: 160,
    height: 120,
  }
}

describe('moments without knowing how fast it was filmed', () => {
  test.each([1.6, 2.4, 5, 8])(
    'takeaway and top are said on the same frames when shown %s times slower',
    (stretch) => {
      const reading = readingOf(stretch)
      const rates = ratesOf(reading, { tags: {}, claimedRate: null, bands: null })
      const [swing] = swingsOfFilm(reading, rates, {
        candidates: [],
        isThere: false,
        delaySeconds: 0,
        audioLateSeconds: 0,
      })
      const frame = (name: string) => swing?.moments.find((m) => m.name === name)?.frame ?? NaN
      expect(Math.abs(frame('takeaway') - 48)).toBeLessThanOrEqual(3)
      expect(Math.abs(frame('top') - (1 + 0.85) * 48)).toBeLessThanOrEqual(2)
    },
  )
})

describe('claims of which at most one is true', () => {
  const chances = fc.array(fc.double({ min: 0.001, max: 0.98, noNaN: true }), { minLength: 1, maxLength: 6 })

  test('one alone keeps its chance; together they never come to more than one; order is kept', () => {
    fc.assert(
      fc.property(chances, (own) => {
        const together = weighed(own)
        if (own.length === 1) expect(together[0]).toBeCloseTo(own[0]!, 9)
        expect(together.reduce((a, b) => a + b, 0)).toBeLessThanOrEqual(1 + 1e-9)
        together.forEach((p, i) => {
          expect(p).toBeLessThanOrEqual(own[i]! + 1e-9)
          own.forEach((q, k) => q > own[i]! && expect(together[k]!).toBeGreaterThan(p))
        })
      }),
    )
  })
})
