import { Problem } from '../problem.ts'

/** What the ball flies through. */
export interface Air {
  densityKgM3: number
  /** Dynamic viscosity. */
  viscosityPaS: number
  temperatureC: number
}

/** What a coach knows about the day. Everything may be missing. */
export interface AirConditions {
  temperatureC?: number | null
  /**
   * Air pressure. Without an altitude: as a barometer at the place reads it. With an altitude: as the weather
   * report gives it, reduced to sea level; it is then brought to the altitude.
   */
  pressureHpa?: number | null
  altitudeM?: number | null
  /** Relative humidity, 0 to 100. */
  humidityPercent?: number | null
}

const zeroCelsiusK = 273.15

/**
 * Dry standard atmosphere, troposphere (ISO 2533 / US Standard Atmosphere 1976; constants of the sheet, found
 * at the source). @param altitudeM geopotential height, −500 to 11,000 m
 */
export function standardAtmosphere(altitudeM: number): {
  temperatureC: number
  pressurePa: number
  densityKgM3: number
} {
  const kelvin = 288.15 - 0.0065 * altitudeM
  const pressurePa = 101325 * (kelvin / 288.15) ** 5.25588
  return { temperatureC: kelvin - zeroCelsiusK, pressurePa, densityKgM3: pressurePa / (287.05287 * kelvin) }
}

/** Saturation pressure of water over water, Pa; CIPM-2007 (A1.1), T in kelvin. */
export function saturationPressurePa(temperatureC: number): number {
  const kelvin = temperatureC + zeroCelsiusK
  return Math.exp(1.2378847e-5 * kelvin ** 2 - 1.9121316e-2 * kelvin + 33.93711047 - 6.3431645e3 / kelvin)
}

/**
 * Density of moist air by CIPM-2007 (Picard, Davis, Gläser, Fujii, Metrologia 45 (2008) 149–155; constants
 * second-hand, two public codes agree), with 0.0004 mole fraction of CO₂. The formula is stated for 15 to
 * 27 °C and 600 to 1100 hPa; outside it is an extrapolation, good enough for a ball.
 * @param humidityPercent 0 to 100
 */
export function moistAirDensity(temperatureC: number, pressurePa: number, humidityPercent: number): number {
  const t = temperatureC
  const kelvin = t + zeroCelsiusK
  const p = pressurePa
  const enhancement = 1.00062 + 3.14e-8 * p + 5.6e-7 * t ** 2
  const xv = ((humidityPercent / 100) * enhancement * saturationPressurePa(t)) / p
  const compressibility =
    1 -
    (p / kelvin) *
      (1.58123e-6 -
        2.9331e-8 * t +
        1.1043e-10 * t ** 2 +
        (5.707e-6 - 2.051e-8 * t) * xv +
        (1.9898e-4 - 2.376e-6 * t) * xv ** 2) +
    (p / kelvin) ** 2 * (1.83e-11 - 0.765e-8 * xv ** 2)
  return ((p * 0.02896546) / (compressibility * 8.314472 * kelvin)) * (1 - xv * (1 - 0.01801528 / 0.02896546))
}

/**
 * Density of moist air, quick form: ideal gases, Magnus form of Alduchov & Eskridge 1996 (from memory) for the
 * saturation pressure. Within 0.2 % of CIPM-2007 from 0 to 40 °C.
 */
export function quickMoistAirDensity(
  temperatureC: number,
  pressurePa: number,
  humidityPercent: number,
): number {
  const kelvin = temperatureC + zeroCelsiusK
  const vapourPa =
    (humidityPercent / 100) * 610.94 * Math.exp((17.625 * temperatureC) / (temperatureC + 243.04))
  return (pressurePa - vapourPa) / (287.05 * kelvin) + vapourPa / (461.5 * kelvin)
}

/** Dynamic viscosity of air, Pa s: Sutherland's law as in the US Standard Atmosphere 1976 (from memory). */
export function viscosityPaS(temperatureC: number): number {
  const kelvin = temperatureC + zeroCelsiusK
  return (1.458e-6 * kelvin ** 1.5) / (kelvin + 110.4)
}

/** Speed of sound in dry air, m/s: 331.3 √(1 + t/273.15), textbook. */
export const soundSpeedMps = (temperatureC: number): number =>
  331.3 * Math.sqrt(1 + temperatureC / zeroCelsiusK)

/** How long the sound of a strike takes to a microphone so far away, seconds. */
export const soundDelaySeconds = (distanceM: number, temperatureC = 20): number =>
  distanceM / soundSpeedMps(temperatureC)

/** Standard air: dry, 15 °C, 1013.25 hPa, 1.225 kg/m³ (ISO 2533, sea level). */
export const standardAir: Air = {
  densityKgM3: standardAtmosphere(0).densityKgM3,
  viscosityPaS: viscosityPaS(15),
  temperatureC: 15,
}

const inRange = (name: string, value: number, low: number, high: number, unit: string) => {
  if (!(value >= low && value <= high)) {
    throw new Problem('air-out-of-range', { name, value, unit, low, high })
  }
}

/**
 * The air of a day. Nothing given: standard air. Only an altitude: the standard atmosphere there. Otherwise
 * CIPM-2007; a missing temperature is the standard atmosphere's at that altitude, a missing pressure likewise,
 * a missing humidity is taken as 50 % (0 to 100 % changes a drive by about 2 m, so it hardly matters).
 * @throws Problem `air-out-of-range`
 */
export function airOf(conditions: AirConditions = {}): Air {
  const altitudeM = conditions.altitudeM ?? 0
  inRange('an altitude', altitudeM, -500, 6000, 'm')
  const standard = standardAtmosphere(altitudeM)
  const temperatureC = conditions.temperatureC ?? standard.temperatureC
  inRange('a temperature', temperatureC, -40, 60, '°C')
  if (
    conditions.temperatureC == null &&
    conditions.pressureHpa == null &&
    conditions.humidityPercent == null
  ) {
    return { densityKgM3: standard.densityKgM3, viscosityPaS: viscosityPaS(temperatureC), temperatureC }
  }
  const humidityPercent = conditions.humidityPercent ?? 50
  inRange('a humidity', humidityPercent, 0, 100, '%')
  const pressureHpa = conditions.pressureHpa ?? 1013.25
  inRange('a pressure', pressureHpa, 450, 1100, 'hPa')
  const pressurePa = pressureHpa * 100 * (standard.pressurePa / 101325)
  return {
    densityKgM3: moistAirDensity(temperatureC, pressurePa, humidityPercent),
    viscosityPaS: viscosityPaS(temperatureC),
    temperatureC,
  }
}
