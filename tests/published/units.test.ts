import { describe, expect, test } from 'vitest'
import { convert } from '../../shared-core/units.ts'

// International yard and pound agreement 1959, as printed in NIST SP 811 Appendix B; exact by definition.
const exact: [number, Parameters<typeof convert>[1], Parameters<typeof convert>[2], number][] = [
  [1, 'mph', 'm/s', 0.44704],
  [1, 'mph', 'km/h', 1.609344],
  [1, 'yd', 'm', 0.9144],
  [1, 'ft', 'm', 0.3048],
  [1, 'in', 'mm', 25.4],
  [1.68, 'in', 'mm', 42.672],
  [1, 'oz', 'g', 28.349523125],
  [1, 'lb', 'kg', 0.45359237],
  [212, 'F', 'C', 100],
  [32, 'F', 'C', 0],
  [-40, 'F', 'C', -40],
  [0, 'K', 'C', -273.15],
  [1, 'rev/s', 'rpm', 60],
  [1, 'mmHg', 'Pa', 133.322387415],
]

describe('units against their definitions', () => {
  test.each(exact)('%d %s in %s', (value, from, to, result) => {
    expect(convert(value, from, to)).toBeCloseTo(result, 9)
  })

  test('1 rpm is 2π/60 rad/s', () => {
    expect(convert(1, 'rpm', 'rad/s')).toBeCloseTo(0.10471976, 8)
  })

  // Pairs printed by the governing bodies and press beside each other (second-hand): rounding only.
  test.each([
    [176, 78.7],
    [183, 81.8],
    [173.9, 77.7],
  ])('%d mph is printed as %d m/s', (mph, mps) => {
    expect(convert(mph, 'mph', 'm/s')).toBeCloseTo(mps, 1)
  })

  test('1.620 oz is the 45.93 g of the rules (Equipment Rules Part 4)', () => {
    expect(convert(1.62, 'oz', 'g')).toBeCloseTo(45.93, 2)
  })

  test('250 ft/s and 2 % is 77.7 m/s (initial-velocity limit, second-hand)', () => {
    expect(convert(255, 'ft/s', 'm/s')).toBeCloseTo(77.7, 1)
  })
})
