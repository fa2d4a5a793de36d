import fc from 'fast-check'
import { expect, test } from 'vitest'
import { msFromImpact } from '../../../shared-core/timing/clip-clock.ts'
import { signedMs } from '../../../shared-core/timing/signed-ms.ts'

test('whatever a clip’s times are, milliseconds from impact are a signed number or a dash', () => {
  const times = fc.record({
    atSeconds: fc.array(
      fc.oneof(fc.double({ min: 0, max: 1e5, noNaN: true }), fc.constantFrom(NaN, Infinity)),
      {
        maxLength: 40,
      },
    ),
    playbackRate: fc.double({ min: 1e-3, max: 1e4, noNaN: true }),
    captureRate: fc.double({ min: 1e-3, max: 1e4, noNaN: true }),
  })
  fc.assert(
    fc.property(times, fc.nat(60), fc.nat(60), (clip, impact, frame) => {
      expect(signedMs(msFromImpact(clip, impact, frame))).toMatch(/^(0|–|[+−]\d+(\.\d)?)$/)
    }),
  )
})

test('tenths below ten, whole ones above, no sign on nothing', () => {
  expect([4.16, -4.16, 12.4, -1250.4, 0.04, -0.04].map(signedMs)).toEqual([
    ...['+4.2', '−4.2', '+12', '−1250', '0', '0'],
  ])
  expect([Infinity, -Infinity, NaN].map(signedMs)).toEqual(['–', '–', '–'])
})
