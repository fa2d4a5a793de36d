import { expect, test } from 'vitest'
import { cylinderSpeedMps, cylinderToneHz, strouhalNumber } from '../../shared-core/swish/cylinder-tone.ts'

// St = 0.2 from Re 300 to 1e5 within 10 % (Blevins, Flow-Induced Vibration, fig. 3-3; from memory); Strouhal's own 0.185 (1878).
test.each([1e3, 1e4, 1e5])('a cylinder’s Strouhal number at Re = %d is 0.2 within 0.02', (reynolds) => {
  expect(Math.abs(strouhalNumber(reynolds) - 0.2)).toBeLessThan(0.02)
})

// Worked example: f = 0.2 · 30 / 0.008 = 750 Hz.
test('a rod of 8 mm at 30 m/s sounds at 750 Hz within 2 %, and its tone gives the speed back', () => {
  const hz = cylinderToneHz(30, 0.008)
  expect(Math.abs(hz / 750 - 1)).toBeLessThan(0.02)
  expect(cylinderSpeedMps(hz, 0.008)).toBeCloseTo(30, 3)
})
