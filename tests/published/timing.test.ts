import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  framesInSeconds,
  msFromImpact,
  realSeconds,
  secondsOfFrames,
  slowness,
} from '../../shared-core/timing/real-time.ts'
import { frameSdSeconds, tempo as tempoOf } from '../../shared-core/timing/tempo.ts'

/** Tempo of marks on whole frames, each true within half a frame. */
const tempo = (
  frames: { takeawayFrame: number; topFrame: number; impactFrame: number },
  captureRate: number,
) => {
  const mark = (frame: number) => ({
    atSeconds: frame / captureRate,
    sdSeconds: frameSdSeconds(1 / captureRate),
  })
  const found = tempoOf({
    takeaway: mark(frames.takeawayFrame),
    top: mark(frames.topFrame),
    impact: mark(frames.impactFrame),
  })
  return (
    found && {
      ratio: found.ratio.value,
      ratioSd: found.ratio.sd,
      backswingSeconds: found.backswingSeconds.value,
      downswingSeconds: found.downswingSeconds.value,
    }
  )
}

describe('capture arithmetic (computed)', () => {
  test('240 frames/s played at 30 is 8 times slow', () => {
    expect(slowness(240, 30)).toBe(8)
    expect(realSeconds(2, slowness(240, 30))).toBe(0.25)
  })

  test('a downswing of 0.27 s lasts 8.1, 16.2, 32.4, 64.8 frames at 30, 60, 120, 240', () => {
    expect([30, 60, 120, 240].map((rate) => Number(framesInSeconds(0.27, rate).toFixed(6)))).toEqual([
      8.1, 16.2, 32.4, 64.8,
    ])
  })

  test('contact of 0.45 ms (0.40 to 0.50, Smits & Ogg 2004: found in the source) lasts 0.11 frame at 240', () => {
    expect(framesInSeconds(0.45e-3, 240)).toBeCloseTo(0.11, 2)
  })

  test('a ball at 67 m/s moves 0.28 m a frame at 240, a head at 45 m/s 0.19 m', () => {
    expect(67 * secondsOfFrames(1, 240)).toBeCloseTo(0.28, 2)
    expect(45 * secondsOfFrames(1, 240)).toBeCloseTo(0.19, 2)
  })

  test('milliseconds from impact are real ones however the file plays', () => {
    // Ten frames before impact at 240 frames/s: 41.667 ms, in a file that plays at 30.
    expect(msFromImpact(1 - 10 / 30, 1, slowness(240, 30))).toBeCloseTo(-1000 * (10 / 240), 9)
    fc.assert(
      fc.property(
        fc.integer({ min: -500, max: 500 }),
        fc.constantFrom(30, 60, 120, 240),
        fc.constantFrom(24, 30, 60, 240),
        (frames, capture, playback) => {
          expect(msFromImpact(frames / playback, 0, slowness(capture, playback))).toBeCloseTo(
            1000 * secondsOfFrames(frames, capture),
            6,
          )
        },
      ),
    )
  })

  test('a rate that is no rate is refused', () => {
    for (const rate of [0, -30, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(() => slowness(rate, 30)).toThrow(RangeError)
    }
  })
})

describe('tempo', () => {
  // Grober & Cholewicki (Yale), quoting an earlier broadcast-video study at 30 frames/s (found in the source).
  test('tour frames 24 and 8 at 30 frames/s are 0.80 s and 0.27 s, three to one', () => {
    const { ratio, backswingSeconds, downswingSeconds } = tempo(
      { takeawayFrame: 10, topFrame: 34, impactFrame: 42 },
      30,
    )!
    expect(ratio).toBeCloseTo(3, 9)
    expect(backswingSeconds).toBeCloseTo(0.8, 9)
    expect(downswingSeconds).toBeCloseTo(0.27, 2)
  })

  test('the range 21/7 to 30/10 frames is 0.70/0.23 to 1.00/0.33 s', () => {
    const fast = tempo({ takeawayFrame: 0, topFrame: 21, impactFrame: 28 }, 30)!
    const slow = tempo({ takeawayFrame: 0, topFrame: 30, impactFrame: 40 }, 30)!
    expect(
      [fast.backswingSeconds, fast.downswingSeconds, slow.backswingSeconds, slow.downswingSeconds].map((s) =>
        s.toFixed(2),
      ),
    ).toEqual(['0.70', '0.23', '1.00', '0.33'])
  })

  // Computed by the propagation of three uniform marks: 24/8 6.1 %, 48/16 3.1 %, 96/32 1.5 %, 192/64 0.8 %.
  test.each([
    [24, 8, 6.1],
    [48, 16, 3.1],
    [96, 32, 1.5],
    [192, 64, 0.8],
  ])('the ratio of %i and %i frames is known to %f %%', (back, down, percent) => {
    const { ratio, ratioSd } = tempo({ takeawayFrame: 0, topFrame: back, impactFrame: back + down }, 30)!
    expect((100 * ratioSd) / ratio).toBeCloseTo(percent, 1)
  })

  test('24 and 8 frames are 3.0 ± 0.18', () => {
    expect(tempo({ takeawayFrame: 0, topFrame: 24, impactFrame: 32 }, 30)!.ratioSd).toBeCloseTo(0.18, 2)
  })

  test('the stated uncertainty is what marks rounded to whole frames really do to the ratio', () => {
    // Independent of the formula: true instants at random fractions of a frame, marked on the nearest frame.
    fc.assert(
      fc.property(
        fc.integer({ min: 60, max: 120 }),
        fc.integer({ min: 20, max: 40 }),
        fc.integer({ min: 0, max: 1000 }),
        (back, down, salt) => {
          const fraction = (k: number, step: number) => (k * step + salt / 1000) % 1
          const errors: number[] = []
          for (let k = 0; k < 4000; k++) {
            const [a, b, c] = [
              fraction(k, Math.SQRT2),
              fraction(k, Math.sqrt(3)),
              fraction(k, Math.sqrt(5)),
            ] as const
            const ratio = tempo(
              {
                takeawayFrame: Math.round(a),
                topFrame: Math.round(back + b),
                impactFrame: Math.round(back + down + c),
              },
              30,
            )!.ratio
            errors.push(ratio / ((back + b - a) / (down + c - b)) - 1)
          }
          const sd = Math.sqrt(errors.reduce((s, e) => s + e * e, 0) / errors.length)
          const { ratio, ratioSd } = tempo(
            { takeawayFrame: 0, topFrame: back, impactFrame: back + down },
            30,
          )!
          expect(sd / (ratioSd / ratio)).toBeGreaterThan(0.93)
          expect(sd / (ratioSd / ratio)).toBeLessThan(1.07)
        },
      ),
      { numRuns: 15 },
    )
  })

  test('marks out of order give no tempo', () => {
    expect(tempo({ takeawayFrame: 5, topFrame: 5, impactFrame: 9 }, 30)).toBeNull()
    expect(tempo({ takeawayFrame: 0, topFrame: 9, impactFrame: 9 }, 30)).toBeNull()
  })
})
