import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { frameAtOrBefore } from '../../../shared-core/moments/frame-at.ts'

describe('the frame at an instant', () => {
  test('is the last one whose timestamp is not after it, at any spacing of frames', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0.001, max: 0.2, noNaN: true }), { minLength: 1, maxLength: 200 }),
        fc.double({ min: -0.1, max: 1.1, noNaN: true }),
        (gaps, share) => {
          let at = 0
          const times = gaps.map((gap) => (at += gap))
          const instant = share * at
          const slow = times.filter((t) => t <= instant + 1e-6).length - 1
          expect(frameAtOrBefore(times, instant)).toBe(Math.max(0, slow))
        },
      ),
    )
  })

  test('of a timestamp itself is that frame, though decimals were rounded', () => {
    const times = Array.from({ length: 300 }, (_, i) => (i * 1001) / 30000)
    times.forEach((t, i) => expect(frameAtOrBefore(times, Number(t.toFixed(7)))).toBe(i))
  })
})
