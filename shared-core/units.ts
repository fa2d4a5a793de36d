import type { MeasureName } from './model/measures.ts'
import type { MetricName } from './model/shot.ts'
import { metricNames } from './model/shot.ts'
import { Problem } from './problem.ts'
import { said } from './wording/phrase.ts'

/**
 * Units at the edges: exact conversions, reading a quantity with its unit, and writing a metric in the
 * coach's units with no more digits than the data carry. Inside everything is SI (and degrees, rpm, °C, hPa
 * where a name says so).
 *
 * Factors are exact by definition: international yard and pound agreement of 1959 (1 yd = 0.9144 m,
 * 1 lb = 0.45359237 kg, 1 mi = 1760 yd), standard gravity, 1 inHg = 33.86389 hPa (conventional, 0 °C).
 */

/** What is measured. */
export type QuantityKind =
  'speed' | 'length' | 'angle' | 'spin' | 'temperature' | 'pressure' | 'humidity' | 'time' | 'mass'

interface Unit {
  kind: QuantityKind
  /** plain = value · factor + offset, where plain is the kind's own unit (`plainUnits`). */
  factor: number
  offset?: number
}

/** The unit of a number without unit text, for each kind: SI, or what the names in the code say. */
export const plainUnits = {
  speed: 'm/s',
  length: 'm',
  angle: 'deg',
  spin: 'rpm',
  temperature: 'C',
  pressure: 'hPa',
  humidity: '%',
  time: 's',
  mass: 'kg',
} as const satisfies Record<QuantityKind, string>

const speed = (factor: number): Unit => ({ kind: 'speed', factor })
const length = (factor: number): Unit => ({ kind: 'length', factor })

const unitTable = {
  'm/s': speed(1),
  mph: speed(0.44704),
  'km/h': speed(1 / 3.6),
  'ft/s': speed(0.3048),
  m: length(1),
  cm: length(0.01),
  mm: length(0.001),
  km: length(1000),
  yd: length(0.9144),
  ft: length(0.3048),
  in: length(0.0254),
  deg: { kind: 'angle', factor: 1 },
  rad: { kind: 'angle', factor: 180 / Math.PI },
  rpm: { kind: 'spin', factor: 1 },
  'rad/s': { kind: 'spin', factor: 60 / (2 * Math.PI) },
  'rev/s': { kind: 'spin', factor: 60 },
  C: { kind: 'temperature', factor: 1 },
  F: { kind: 'temperature', factor: 5 / 9, offset: -160 / 9 },
  K: { kind: 'temperature', factor: 1, offset: -273.15 },
  hPa: { kind: 'pressure', factor: 1 },
  Pa: { kind: 'pressure', factor: 0.01 },
  kPa: { kind: 'pressure', factor: 10 },
  mbar: { kind: 'pressure', factor: 1 },
  inHg: { kind: 'pressure', factor: 33.86389 },
  mmHg: { kind: 'pressure', factor: 1.33322387415 },
  '%': { kind: 'humidity', factor: 1 },
  s: { kind: 'time', factor: 1 },
  ms: { kind: 'time', factor: 0.001 },
  min: { kind: 'time', factor: 60 },
  kg: { kind: 'mass', factor: 1 },
  g: { kind: 'mass', factor: 0.001 },
  oz: { kind: 'mass', factor: 0.028349523125 },
  lb: { kind: 'mass', factor: 0.45359237 },
} as const satisfies Record<string, Unit>

/** Every unit that a value can be read or shown in. */
export type UnitName = keyof typeof unitTable

const units: Record<UnitName, Unit> = unitTable

/** Other spellings, in lower case. A unit's own name in lower case needs no line. */
const spellings: Record<string, UnitName> = {
  mps: 'm/s',
  'm/sec': 'm/s',
  'metres/s': 'm/s',
  'meters/s': 'm/s',
  'mi/h': 'mph',
  'miles/h': 'mph',
  kmh: 'km/h',
  kph: 'km/h',
  'km/hr': 'km/h',
  fps: 'ft/s',
  metre: 'm',
  metres: 'm',
  meter: 'm',
  meters: 'm',
  mtr: 'm',
  yds: 'yd',
  yard: 'yd',
  yards: 'yd',
  y: 'yd',
  foot: 'ft',
  feet: 'ft',
  "'": 'ft',
  inch: 'in',
  inches: 'in',
  '"': 'in',
  '°': 'deg',
  degree: 'deg',
  degrees: 'deg',
  'r/min': 'rpm',
  'rev/min': 'rpm',
  rps: 'rev/s',
  '°c': 'C',
  degc: 'C',
  celsius: 'C',
  '°f': 'F',
  degf: 'F',
  fahrenheit: 'F',
  hectopascal: 'hPa',
  mb: 'mbar',
  percent: '%',
  sec: 's',
  secs: 's',
  second: 's',
  seconds: 's',
  'oz.': 'oz',
  ounce: 'oz',
  ounces: 'oz',
  gram: 'g',
  grams: 'g',
  ...(Object.fromEntries(Object.keys(unitTable).map((name) => [name.toLowerCase(), name])) as Record<
    string,
    UnitName
  >),
}

/** The unit a text means ("km/h", "KPH", "yards"), or null. Case does not matter. */
export const unitNamed = (text: string): UnitName | null => {
  const key = text.trim().toLowerCase().replace(/\s+/g, '')
  return Object.hasOwn(spellings, key) ? spellings[key]! : null
}

/** What a unit measures. */
export const kindOfUnit = (unit: UnitName): QuantityKind => units[unit].kind

/** A value in `unit` brought to the kind's plain unit (m/s, m, deg, rpm, °C, hPa, %, s, kg). */
export const toPlain = (value: number, unit: UnitName): number =>
  value * units[unit].factor + (units[unit].offset ?? 0)

/** A value in the kind's plain unit brought to `unit`. */
export const fromPlain = (value: number, unit: UnitName): number =>
  (value - (units[unit].offset ?? 0)) / units[unit].factor

/** `value` in `from`, expressed in `to`. @throws Problem `units-differ` if the two measure different things. */
export function convert(value: number, from: UnitName, to: UnitName): number {
  if (units[from].kind !== units[to].kind) {
    throw new Problem('units-differ', { from, to })
  }
  return from === to ? value : fromPlain(toPlain(value, from), to)
}

/** Degrees to radians. */
export const radians = (degrees: number): number => (degrees * Math.PI) / 180

/** Radians to degrees. */
export const degrees = (angleRad: number): number => (angleRad * 180) / Math.PI
/** rpm → rad/s */
export const radPerSecond = (rpm: number): number => (rpm * 2 * Math.PI) / 60
/** rad/s → rpm */
export const revPerMinute = (spinRadPerSecond: number): number => (spinRadPerSecond * 60) / (2 * Math.PI)

const unitsOfKind = (kind: QuantityKind): string =>
  (Object.keys(units) as UnitName[]).filter((name) => units[name].kind === kind).join(', ')

/**
 * Reads "74.7m/s", "167 mph", "270yd", "10.9deg", "2686rpm", "68°F"; a decimal comma is understood. A number
 * without unit is in the kind's plain unit (`plainUnits`).
 * @returns the value in the kind's plain unit
 * @throws Problem `quantity-unreadable` or `quantity-wrong-unit`; `where` is the option or column it came from
 */
export function parseQuantity(text: string, kind: QuantityKind, where: string | null = null): number {
  const match = /^([+\-−]?)(\d+(?:[.,]\d*)?|[.,]\d+)(e[+-]?\d+)?\s*(.*)$/i.exec(text.trim())
  const value = match
    ? Number(`${match[1] === '−' ? '-' : match[1]}${match[2]!.replace(',', '.')}${match[3] ?? ''}`)
    : Number.NaN
  if (!match || !Number.isFinite(value)) {
    throw new Problem('quantity-unreadable', {
      text,
      units: unitsOfKind(kind),
      plain: plainUnits[kind],
      where,
    })
  }
  const unitText = match[4]!.trim()
  if (unitText === '') return value
  const unit = unitNamed(unitText)
  if (unit === null || units[unit].kind !== kind) {
    throw new Problem('quantity-wrong-unit', {
      unit: unitText,
      kind,
      units: unitsOfKind(kind),
      plain: plainUnits[kind],
      where,
    })
  }
  return toPlain(value, unit)
}

/** How a coach reads speeds and distances. */
export const unitSystems = ['mph-yd', 'kmh-m', 'mps-m'] as const
export type UnitSystem = (typeof unitSystems)[number]

/** A metric of a shot, or efficiency (ball speed / club speed), which is computed. */
export type ShotMetric = MetricName | 'efficiency'

/** The metrics that are shown, in their order. */
export const shownMetrics: readonly ShotMetric[] = ['efficiency', ...metricNames]
/** Anything that is shown as a number of a swing: a shot's metric, or what its pictures give. */
export type ShownMetric = ShotMetric | MeasureName

type Family =
  | 'speed'
  | 'distance'
  | 'angle'
  | 'direction'
  | 'spin'
  | 'time'
  | 'face'
  | 'side'
  | 'ratio'
  | 'tempo'
  | 'duration'
  | 'lead-time'
  | 'picture-angle'
  | 'angular-speed'
  | 'widths'

const familyOf: Record<ShownMetric, Family> = {
  efficiency: 'ratio',
  clubSpeedMps: 'speed',
  ballSpeedMps: 'speed',
  launchDeg: 'angle',
  launchDirectionDeg: 'direction',
  spinRpm: 'spin',
  spinAxisDeg: 'direction',
  carryM: 'distance',
  totalM: 'distance',
  sideM: 'side',
  apexM: 'distance',
  descentDeg: 'angle',
  flightSeconds: 'time',
  attackDeg: 'direction',
  clubPathDeg: 'direction',
  faceDeg: 'direction',
  dynamicLoftDeg: 'angle',
  impactXMm: 'face',
  impactYMm: 'face',
  tempoRatio: 'tempo',
  backswingSeconds: 'duration',
  downswingSeconds: 'duration',
  braceBeforeImpactSeconds: 'lead-time',
  leadKneeSetupDeg: 'picture-angle',
  leadKneeTopDeg: 'picture-angle',
  leadKneeImpactDeg: 'picture-angle',
  leadKneeStraighteningDegPerS: 'angular-speed',
  headAlongTopWidths: 'widths',
  headAlongImpactWidths: 'widths',
  headUpImpactWidths: 'widths',
  pelvisAlongImpactWidths: 'widths',
  pelvisStopSeconds: 'lead-time',
  spineTiltSetupDeg: 'picture-angle',
  spineTiltImpactDeg: 'picture-angle',
  spineBendSetupDeg: 'picture-angle',
  spineBendImpactDeg: 'picture-angle',
  shoulderLineImpactDeg: 'picture-angle',
  pelvisLineImpactDeg: 'picture-angle',
  leadArmTopDeg: 'picture-angle',
  leadElbowTopDeg: 'picture-angle',
  shoulderRiseTopWidths: 'widths',
}

/** The metric in plain trade words: "ball speed". */
export const metricLabel = (name: ShownMetric): string => said(`metric.${name}`)

interface Shown {
  unit: string
  scale: number
  /** Decimals when nothing is known of the error: what devices for this trade print (common practice). */
  decimals: number
  signed: boolean
}

const shownIn = (family: Family, system: UnitSystem): Shown => {
  const yards = system === 'mph-yd'
  switch (family) {
    case 'speed': {
      const unit: UnitName = yards ? 'mph' : system === 'kmh-m' ? 'km/h' : 'm/s'
      return { unit, scale: 1 / units[unit].factor, decimals: 1, signed: false }
    }
    case 'distance':
    case 'side':
      return {
        unit: yards ? 'yd' : 'm',
        scale: yards ? 1 / units.yd.factor : 1,
        decimals: 0,
        signed: family === 'side',
      }
    case 'angle':
    case 'direction':
      return { unit: '°', scale: 1, decimals: 1, signed: family === 'direction' }
    case 'spin':
      return { unit: 'rpm', scale: 1, decimals: -1, signed: false }
    case 'time':
      return { unit: 's', scale: 1, decimals: 1, signed: false }
    case 'face':
      return { unit: 'mm', scale: 1, decimals: 0, signed: true }
    case 'ratio':
      return { unit: '', scale: 1, decimals: 2, signed: false }
    case 'tempo':
      return { unit: ': 1', scale: 1, decimals: 1, signed: false }
    case 'duration':
      return { unit: 's', scale: 1, decimals: 2, signed: false }
    case 'lead-time':
      return { unit: 'ms', scale: 1000, decimals: 0, signed: false }
    case 'picture-angle':
      return { unit: '°', scale: 1, decimals: 0, signed: false }
    case 'angular-speed':
      return { unit: '°/s', scale: 1, decimals: -1, signed: false }
    case 'widths':
      return { unit: said('unit.shoulderWidths'), scale: 1, decimals: 2, signed: true }
  }
}

/** Unit text of a metric in a unit system ("mph"; empty for efficiency). */
export const metricUnit = (name: ShownMetric, system: UnitSystem): string =>
  shownIn(familyOf[name], system).unit

/** A metric's value in the unit the coach reads, not rounded. */
export const metricInSystem = (name: ShownMetric, value: number, system: UnitSystem): number =>
  value * shownIn(familyOf[name], system).scale

const rounded = (value: number, decimals: number): string => {
  const step = decimals < 0 ? 10 ** -decimals : 1
  const text = (Math.round(value / step) * step).toFixed(0)
  const fixed = decimals < 0 ? text : value.toFixed(Math.min(decimals, 20))
  return /^-0(\.0*)?$/.test(fixed) ? fixed.slice(1) : fixed
}

/** How a number is to be written. */
export interface FormatOptions {
  /** Standard uncertainty of the value, in the metric's own (SI) unit. */
  sd?: number | null
  /** Write a plus sign too, as for a difference. Directions and sides always carry their sign. */
  signed?: boolean
}

/**
 * A metric as text in the coach's units. Digits: never finer than a device of the trade prints; with `sd`,
 * the rounding step is the largest power of ten not above half the sd, so rounding adds next to nothing to
 * the error and no digit is shown that the data do not carry. A missing value is "–".
 */
export function formatMetric(
  name: ShownMetric,
  value: number | null | undefined,
  system: UnitSystem,
  { sd = null, signed = false }: FormatOptions = {},
): { text: string; unit: string } {
  const shown = shownIn(familyOf[name], system)
  if (value === null || value === undefined || !Number.isFinite(value)) return { text: '–', unit: shown.unit }
  const inUnit = value * shown.scale
  const carried =
    sd !== null && Number.isFinite(sd) && sd > 0 ? -Math.floor(Math.log10((sd * shown.scale) / 2)) : Infinity
  const text = rounded(inUnit, Math.min(shown.decimals, carried))
  const minus = text.replace('-', '−')
  const plus = (signed || shown.signed) && Number(text) > 0 ? `+${text}` : minus
  return { text: plus, unit: shown.unit }
}

/** `formatMetric` with the unit behind it: "167.0 mph", "10.9°", "1.48". */
export const metricText = (
  name: ShownMetric,
  value: number | null | undefined,
  system: UnitSystem,
  options: FormatOptions = {},
): string => {
  const { text, unit } = formatMetric(name, value, system, options)
  return unit === '' || text === '–' ? text : unit === '°' ? `${text}°` : `${text} ${unit}`
}
