import { describe, expect, test } from 'vitest'
import { soundDelaySeconds, soundSpeedMps } from '../../shared-core/flight/air.ts'

describe('speed of sound (textbook)', () => {
  test.each([
    [0, 331.3],
    [10, 337.3],
    [20, 343.2],
    [30, 349.0],
  ])('%d °C: %d m/s by the root form', (t, speed) => {
    expect(soundSpeedMps(t)).toBeCloseTo(speed, 1)
  })

  test('the linear form 331.3 + 0.606 t agrees within 0.5 m/s from 0 to 30 °C', () => {
    for (let t = 0; t <= 30; t++) {
      expect(Math.abs(soundSpeedMps(t) - (331.3 + 0.606 * t))).toBeLessThan(0.55)
    }
  })
})

// Computed for the reference sheet as d / 343 m/s; 343.2 m/s at 20 °C differs by less than 0.02 ms.
test.each([
  [2, 5.83, 1.4],
  [4, 11.66, 2.8],
  [6, 17.49, 4.2],
])(
  'the strike reaches a microphone %d m away %d ms late, %d frames at 240 a second',
  (distance, ms, frames) => {
    expect(Math.abs(soundDelaySeconds(distance) * 1000 - ms)).toBeLessThan(0.02)
    expect(soundDelaySeconds(distance) * 240).toBeCloseTo(frames, 1)
  },
)
