import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { Problem } from '../../shared-core/problem.ts'
import type { QuantityKind, UnitName } from '../../shared-core/units.ts'
import {
  convert,
  formatMetric,
  fromPlain,
  kindOfUnit,
  metricInSystem,
  metricLabel,
  metricText,
  parseQuantity,
  shownMetrics,
  toPlain,
  unitNamed,
  unitSystems,
} from '../../shared-core/units.ts'

const unitNames: UnitName[] = [
  'm/s',
  'mph',
  'km/h',
  'ft/s',
  'm',
  'cm',
  'mm',
  'km',
  'yd',
  'ft',
  'in',
  'deg',
  'rad',
  'rpm',
  'rad/s',
  'rev/s',
  'C',
  'F',
  'K',
  'hPa',
  'Pa',
  'kPa',
  'mbar',
  'inHg',
  'mmHg',
  '%',
  's',
  'ms',
  'min',
  'kg',
  'g',
  'oz',
  'lb',
]
const unit = fc.constantFrom(...unitNames)
const value = fc.double({ min: -1e6, max: 1e6, noNaN: true })
const near = (a: number, b: number) => Math.abs(a - b) <= 1e-9 * Math.max(1, Math.abs(a), Math.abs(b))

describe('conversion', () => {
  test('goes there and back', () => {
    fc.assert(fc.property(unit, value, (name, x) => near(toPlain(fromPlain(x, name), name), x)))
    fc.assert(
      fc.property(unit, unit, value, (a, b, x) => {
        fc.pre(kindOfUnit(a) === kindOfUnit(b))
        return near(convert(convert(x, a, b), b, a), x)
      }),
    )
  })

  test('refuses to turn a speed into a distance', () => {
    expect(() => convert(1, 'mph', 'yd')).toThrow(Problem)
  })

  test('a unit is known by its own name and by other spellings, in any case', () => {
    for (const name of unitNames) expect(unitNamed(name)).toBe(name)
    expect(unitNamed('KPH')).toBe('km/h')
    expect(unitNamed(' Yards ')).toBe('yd')
    expect(unitNamed('°F')).toBe('F')
    expect(unitNamed('furlong')).toBeNull()
    expect(unitNamed('constructor')).toBeNull()
  })
})

describe('reading a quantity', () => {
  test.each<[string, QuantityKind, number]>([
    ['74.7m/s', 'speed', 74.7],
    ['167mph', 'speed', 74.65568],
    ['270 km/h', 'speed', 75],
    ['74.7', 'speed', 74.7],
    ['74,7 m/s', 'speed', 74.7],
    ['270yd', 'length', 246.888],
    ['3 ft', 'length', 0.9144],
    ['10.9deg', 'angle', 10.9],
    ['-2.5°', 'angle', -2.5],
    ['−2.5', 'angle', -2.5],
    ['2686rpm', 'spin', 2686],
    ['42rev/s', 'spin', 2520],
    ['68F', 'temperature', 20],
    ['68°F', 'temperature', 20],
    ['1013.25hPa', 'pressure', 1013.25],
    ['50%', 'humidity', 50],
    ['1.62oz', 'mass', 0.045926],
    ['270ms', 'time', 0.27],
    ['.5', 'length', 0.5],
    ['1e2m', 'length', 100],
  ])('%s', (text, kind, result) => {
    expect(parseQuantity(text, kind)).toBeCloseTo(result, 5)
  })

  test.each<[string, QuantityKind]>([
    ['', 'speed'],
    ['fast', 'speed'],
    ['mph', 'speed'],
    ['1.2.3', 'speed'],
    ['167 furlongs', 'speed'],
    ['10deg', 'speed'],
    ['NaN', 'speed'],
    ['1e999', 'speed'],
  ])('refuses "%s" for a %s with a Problem that says what to write', (text, kind) => {
    try {
      parseQuantity(text, kind, '--ball-speed')
      expect.unreachable()
    } catch (error) {
      expect(error).toBeInstanceOf(Problem)
      expect((error as Problem).where).toBe('--ball-speed')
      expect((error as Problem).toDo).toContain('m/s')
    }
  })

  test('reads back what it would write, in every unit', () => {
    fc.assert(
      fc.property(unit, value, (name, x) =>
        near(parseQuantity(`${x}${name}`, kindOfUnit(name)), toPlain(x, name)),
      ),
    )
  })
})

describe('writing a metric', () => {
  test('in the units of each system', () => {
    expect(metricText('ballSpeedMps', 74.65568, 'mph-yd')).toBe('167.0 mph')
    expect(metricText('ballSpeedMps', 75, 'kmh-m')).toBe('270.0 km/h')
    expect(metricText('ballSpeedMps', 74.7, 'mps-m')).toBe('74.7 m/s')
    expect(metricText('carryM', 246.888, 'mph-yd')).toBe('270 yd')
    expect(metricText('carryM', 246.888, 'kmh-m')).toBe('247 m')
    expect(metricText('spinRpm', 2686, 'kmh-m')).toBe('2690 rpm')
    expect(metricText('launchDeg', 10.94, 'mph-yd')).toBe('10.9°')
    expect(metricText('efficiency', 1.4837, 'mph-yd')).toBe('1.48')
    expect(metricText('sideM', -9.144, 'mph-yd')).toBe('−10 yd')
    expect(metricText('faceDeg', 1.26, 'mph-yd')).toBe('+1.3°')
    expect(metricText('faceDeg', -0.01, 'mph-yd')).toBe('0.0°')
  })

  test('a missing value is a dash, never NaN', () => {
    for (const missing of [null, undefined, Number.NaN, Infinity]) {
      expect(metricText('carryM', missing, 'mph-yd')).toBe('–')
    }
  })

  test('shows no digit that the data do not carry', () => {
    expect(formatMetric('carryM', 247, 'kmh-m', { sd: 25 }).text).toBe('250')
    expect(formatMetric('carryM', 247, 'kmh-m', { sd: 12 }).text).toBe('247')
    expect(formatMetric('ballSpeedMps', 74.66, 'mps-m', { sd: 2.5 }).text).toBe('75')
    expect(formatMetric('efficiency', 1.483, 'mph-yd', { sd: 0.3 }).text).toBe('1.5')
    expect(formatMetric('spinRpm', 2686, 'kmh-m', { sd: 400 }).text).toBe('2700')
    expect(formatMetric('carryM', 247.123, 'kmh-m', { sd: 0.001 }).text).toBe('247')
  })

  test('rounding never moves a value by more than a quarter of its sd, or half of the finest step', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...shownMetrics),
        fc.constantFrom(...unitSystems),
        fc.double({ min: -9000, max: 9000, noNaN: true }),
        fc.double({ min: 1e-3, max: 900, noNaN: true }),
        (name, system, x, sd) => {
          const shown = Number(formatMetric(name, x, system, { sd }).text.replace('−', '-'))
          const step = { efficiency: 0.01, spinRpm: 10 }[name as string] ?? 1
          const slack = Math.max(step / 2, metricInSystem(name, sd, system) / 4) + 1e-6
          return Math.abs(shown - metricInSystem(name, x, system)) <= slack
        },
      ),
    )
  })

  test('every metric has a plain name', () => {
    for (const name of shownMetrics) expect(metricLabel(name)).toMatch(/^[a-z][a-z ]+$/)
    expect(new Set(shownMetrics.map(metricLabel)).size).toBe(shownMetrics.length)
  })
})
