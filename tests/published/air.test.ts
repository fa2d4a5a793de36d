import { describe, expect, test } from 'vitest'
import {
  airOf,
  moistAirDensity,
  quickMoistAirDensity,
  saturationPressurePa,
  standardAtmosphere,
  viscosityPaS,
} from '../../shared-core/flight/air.ts'

describe('standard atmosphere (ISO 2533 / US Standard Atmosphere 1976)', () => {
  // Formula with constants found at the source; the rows are computed from it for the reference sheet.
  test.each([
    [0, 288.15, 101325, 1.225],
    [500, 284.9, 95461, 1.16727],
    [1000, 281.65, 89875, 1.11164],
    [2000, 275.15, 79495, 1.00649],
  ])('%d m: %d K, %d Pa, %d kg/m³', (height, kelvin, pascal, density) => {
    const air = standardAtmosphere(height)
    expect(air.temperatureC + 273.15).toBeCloseTo(kelvin, 6)
    expect(Math.abs(air.pressurePa - pascal)).toBeLessThan(1)
    expect(air.densityKgM3).toBeCloseTo(density, 5)
  })

  test('the printed table (geometric height, from memory) within 0.02 %', () => {
    for (const [height, density] of [
      [500, 1.1673],
      [1000, 1.1117],
      [2000, 1.0066],
    ] as const) {
      expect(Math.abs(standardAtmosphere(height).densityKgM3 / density - 1)).toBeLessThan(2e-4)
    }
  })

  test('the density law as another page prints it, 1.225 (1 − h/44329)^4.255876 (found)', () => {
    for (const height of [250, 1500, 3000]) {
      const law = 1.225 * (1 - height / 44329) ** 4.255876
      expect(standardAtmosphere(height).densityKgM3).toBeCloseTo(law, 3)
    }
  })
})

describe('moist air (CIPM-2007: Picard et al., Metrologia 45 (2008) 149; constants second-hand)', () => {
  const rows = [
    [0, 0, 1.2931, 611.2],
    [15, 0, 1.2255, 1705.7],
    [20, 50, 1.1993, 2339.2],
    [25, 50, 1.1773, 3169.8],
    [30, 80, 1.15, 4246.8],
    [35, 50, 1.1338, 5628.9],
  ] as const

  test.each(rows)('%d °C, %d %%: %d kg/m³', (t, humidity, density) => {
    // One unit of the printed last digit: the 0 °C row sits on the rounding edge (1.29305).
    expect(Math.abs(moistAirDensity(t, 101325, humidity) - density)).toBeLessThan(1e-4)
  })

  test.each(rows)('saturation at %d °C', (t, _humidity, _density, saturation) => {
    expect(Math.abs(saturationPressurePa(t) - saturation)).toBeLessThan(0.06)
  })

  test('saturation agrees with steam tables (handbook values, from memory) within 0.1 %', () => {
    for (const [t, pascal] of [
      [0.01, 611.66],
      [20, 2339],
      [40, 7384],
    ] as const) {
      expect(Math.abs(saturationPressurePa(t) / pascal - 1)).toBeLessThan(1e-3)
    }
  })

  test('the quick form is within 0.2 % of it', () => {
    for (let t = 0; t <= 40; t += 5) {
      for (const humidity of [0, 50, 100]) {
        const ratio = quickMoistAirDensity(t, 101325, humidity) / moistAirDensity(t, 101325, humidity)
        expect(Math.abs(ratio - 1)).toBeLessThan(2e-3)
      }
    }
  })

  test("the distance standard's air, 75 °F, 30.00 inHg, 50 % (conditions from memory), is 1.185 kg/m³", () => {
    const air = airOf({ temperatureC: (75 - 32) / 1.8, pressureHpa: 30 * 33.86389, humidityPercent: 50 })
    expect(air.densityKgM3).toBeCloseTo(1.185, 3)
  })
})

test("Sutherland's law gives the standard atmosphere's 1.789e-5 Pa s at 15 °C (table value, from memory)", () => {
  expect(viscosityPaS(15)).toBeCloseTo(1.789e-5, 8)
})
