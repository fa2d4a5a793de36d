import { fromPlain, toPlain, type UnitName } from '../units.ts'

/** Kinds of quantity a column can hold; each has its units. */
export type Dimension = 'speed' | 'length' | 'faceLength' | 'angle' | 'spin' | 'time' | 'ratio'

type Unit = { readonly name: string; readonly spellings: readonly string[] }

/* Spellings are compared after `bare`: no case, accents, spaces, dots. What a unit is worth stands in units.ts. */
const metre = [
  ...[
    'm',
    'meter',
    'meters',
    'metre',
    'metres',
    'metern',
    'mtr',
    'mtrs',
    'metro',
    'metros',
    'metri',
    'mètre',
    'mètres',
  ],
  ...['メートル', '미터', '米'],
]
const units: Readonly<Record<Dimension, readonly Unit[]>> = {
  speed: [
    {
      name: 'mph',
      spellings: ['mph', 'mi/h', 'mi/hr', 'mih', 'mile/h', 'milesperhour', 'miles/hour'],
    },
    {
      name: 'km/h',
      spellings: [
        ...['km/h', 'kmh', 'kph', 'kmph', 'km/hr', 'km/std', 'km/t', 'kmt', 'km/u', '時速'],
        ...['kilometersperhour', 'kilometresperhour'],
      ],
    },
    {
      name: 'm/s',
      spellings: [
        'm/s',
        'ms',
        'mps',
        'm/sec',
        'm/sek',
        'm/sn',
        '秒速',
        'ms-1',
        'ms^-1',
        'm·s-1',
        'm·s⁻¹',
        'meterspersecond',
        'metrespersecond',
      ],
    },
    { name: 'ft/s', spellings: ['ft/s', 'fps', 'fts', 'ft/sec', 'feetpersecond', 'feet/s'] },
  ],
  length: [
    {
      name: 'yd',
      spellings: [
        'yd',
        'yds',
        'yard',
        'yards',
        'yrd',
        'yrds',
        'yarda',
        'yardas',
        'y',
        'ヤード',
        '야드',
        '码',
      ],
    },
    { name: 'm', spellings: metre },
    {
      name: 'ft',
      spellings: ['ft', 'feet', 'foot', "'", '′', 'fuß', 'fuss', 'pies', 'pieds'],
    },
    { name: 'in', spellings: ['in', 'inch', 'inches', '"', '″'] },
    { name: 'cm', spellings: ['cm', 'centimeter', 'centimeters', 'centimetre', 'centimetres'] },
  ],
  faceLength: [
    { name: 'mm', spellings: ['mm', 'millimeter', 'millimeters', 'millimetre', 'millimetres'] },
    { name: 'in', spellings: ['in', 'inch', 'inches', '"', '″', 'zoll', 'pulgadas', 'pouces'] },
    { name: 'cm', spellings: ['cm', 'centimeter', 'centimeters', 'centimetre', 'centimetres'] },
    { name: 'm', spellings: metre },
  ],
  angle: [
    {
      name: 'deg',
      spellings: [
        'deg',
        'degs',
        'degree',
        'degrees',
        '°',
        'º',
        'grad',
        'grados',
        'degre',
        'degres',
        'gradi',
        'graden',
        'grader',
        'graus',
        'astetta',
        '度',
        '도',
      ],
    },
    { name: 'rad', spellings: ['rad', 'radian', 'radians'] },
  ],
  spin: [
    {
      name: 'rpm',
      spellings: [
        'rpm',
        'rev/min',
        'revs/min',
        'r/min',
        'u/min',
        'umin',
        '1/min',
        'min-1',
        'tr/min',
        'upm',
        'varv/min',
        'o/min',
        'omdr/min',
        'giri/min',
        't/min',
        'tpm',
        'omw/min',
        '回転/分',
        '回転',
        '转/分',
        'revolutionsperminute',
      ],
    },
    { name: 'rev/s', spellings: ['rev/s', 'rps', 'revs/s', 'u/s', 'hz'] },
    { name: 'rad/s', spellings: ['rad/s', 'rads'] },
  ],
  time: [
    {
      name: 's',
      spellings: [
        's',
        'sec',
        'secs',
        'second',
        'seconds',
        'sek',
        'sekunden',
        'seg',
        'segundos',
        'secondes',
        'secondi',
        'seconden',
        'sekunder',
        '秒',
        '초',
      ],
    },
    { name: 'ms', spellings: ['ms', 'msec', 'millisecond', 'milliseconds'] },
  ],
  ratio: [
    { name: '', spellings: ['ratio', ':1', 'x'] },
    { name: '%', spellings: ['%', 'percent', 'pct'] },
  ],
}

/** What can be measured. */
export const dimensions = Object.keys(units) as readonly Dimension[]

/** Text without case, accents, spaces and dots, for comparing spellings. */
export const bare = (text: string): string =>
  text
    .toLowerCase()
    .normalize('NFD')
    .replace(/[\u0300-\u036f]/g, '')
    .replace(/[\s._\u00a0]/g, '')

const nameBySpelling = new Map(
  dimensions.map((dimension) => [
    dimension,
    new Map(units[dimension].flatMap((u) => [u.name, ...u.spellings].map((s) => [bare(s), u.name] as const))),
  ]),
)

/** Our name of a unit in any common spelling (`Yds` → `yd`), or null if this dimension has no such unit. */
export const readUnit = (text: string, dimension: Dimension): string | null => {
  const spelled = bare(text)
  return spelled === '' ? null : (nameBySpelling.get(dimension)!.get(spelled) ?? null)
}

/** True if the text is a unit of some dimension. */
export const isAnyUnit = (text: string): boolean => dimensions.some((d) => readUnit(text, d) !== null)

/** Factor from a unit (our name) to SI, degrees, rpm or millimetres on the face. */
export const unitFactor = (unit: string, dimension: Dimension): number => {
  if (!units[dimension].some((u) => u.name === unit)) {
    throw new RangeError(`no unit "${unit}" for ${dimension}`)
  }
  if (dimension === 'ratio') return unit === '%' ? 0.01 : 1
  const plain = toPlain(1, unit as UnitName)
  return dimension === 'faceLength' ? fromPlain(plain, 'mm') : plain
}

/** Our names of a dimension's units. */
export const unitNames = (dimension: Dimension): string[] => units[dimension].map((u) => u.name)

const spellingsByLength = new Map(
  dimensions.map((dimension) => [
    dimension,
    units[dimension]
      .flatMap((u) => u.spellings.map((s) => ({ spelling: bare(s), name: u.name })))
      .sort((a, b) => b.spelling.length - a.spelling.length),
  ]),
)

/** All spellings of a dimension's units, longest first, for taking a unit off the end of a header. */
export const unitSpellings = (dimension: Dimension): readonly { spelling: string; name: string }[] =>
  spellingsByLength.get(dimension)!
