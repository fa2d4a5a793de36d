import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64'
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus'
import type { MetricName } from '../../../shared-core/model/shot.ts'
import {
  clubSpellings, extremeLabels, fields, languages, spreadLabels, summaryLabels, textNames, unitSpellings,
  type FieldName,
} from './odd-columns.ts' // prettier-ignore

/** What a line of the file says about one shot, in the units of model/shot.ts; half of the last digit shown beside it. */
export type ToldShot = {
  line: number
  values: Partial<Record<MetricName, { value: number; within: number; column: string }>>
  /** Metrics that have a column in the file, told in this line or not. */
  club: string | null
  /** The cell that names the club, as it stands there; null if it stands elsewhere. */
  clubCell: string | null
  at: string | null
  block: string | null
  /** Place among all shots by the time they were hit. */
  place: number
  /** Values stand in the wrong columns, or the line can't be read: it may be left out if that is said. */
  isBroken?: boolean
}

export type OddFile = {
  bytes: Uint8Array
  text: string
  told: ToldShot[]
  /** Lines that repeat a shot of another line. */
  repeats: number[]
  /** True if times or numbers tell in which order they were hit. */
  tellsOrder: boolean
  /** True if day and month can't be told apart. */
  hasOpenDates: boolean
  statesUnits: boolean
  /** True units of columns, by header. */
  units: Record<string, string>
  oddities: string[]
}

const perUnit: Record<string, number> = {
  mph: 0.44704, 'km/h': 1 / 3.6, 'm/s': 1, yd: 0.9144, m: 1, ft: 0.3048, deg: 1, rpm: 1, s: 1, '': 1,
} // prettier-ignore

/** Speed of the club in mph, efficiency, launch, spin, carry in yards, apex in yards, seconds in the air. */
const usual: Record<string, [number, number, number, number, number, number, number]> = {
  driver: [94, 1.46, 12, 2700, 225, 28, 6],
  '3-wood': [90, 1.44, 11, 3500, 205, 27, 5.9],
  '4-hybrid': [85, 1.42, 13, 4300, 185, 26, 5.7],
  '7-iron': [78, 1.34, 18, 6100, 155, 28, 5.8],
  'pitching-wedge': [70, 1.24, 26, 8300, 115, 27, 5.5],
  'sand-wedge': [45, 1.15, 30, 6500, 45, 12, 3.2],
  putter: [5, 1.5, 2, 120, 0, 0, 0],
}

type Truth = Record<FieldName, number> & { club: string; at: Date; number: number; block: string | null }

/**
 * A table of shots as some program, language or spreadsheet might write it, from shots that are known. Nothing here is
 * taken from any product's export: columns in trade words, put together by chance.
 */
export const oddFile = (seed: number): OddFile => {
  const generator = xoroshiro128plus(seed)
  const random = () => uniformFloat64(generator)
  for (let k = 0; k < 10; k++) random()
  const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random())
  const one = <T>(list: readonly T[]): T => list[Math.floor(random() * list.length)]!
  const between = (from: number, to: number) => from + Math.floor(random() * (to - from + 1))
  const oddities: string[] = []
  const odd = (name: string, probability: number) => {
    const is = random() < probability
    if (is) oddities.push(name)
    return is
  }

  // ------------------------------------------------ the shots
  const language = random() < 0.4 ? 'en' : one(languages)
  if (language !== 'en') oddities.push(`language: ${language}`)
  const all = ['driver', '3-wood', '4-hybrid', '7-iron', 'pitching-wedge']
  const clubs = odd('several clubs', 0.5) ? all.filter(() => random() < 0.5).slice(0, 3) : [one(all)]
  if (clubs.length === 0) clubs.push('7-iron')
  if (odd('chips', 0.06)) clubs.push('sand-wedge')
  if (odd('putts', 0.05)) clubs.push('putter')
  const isInTurns = clubs.length > 1 && odd('clubs in turns', 0.15)
  const perClub = between(3, 14)
  const blockNames = one([
    ['as you are', 'soft hands'],
    ['Baseline', 'Lead side', 'Baseline again'],
    ['1', '2'],
  ])
  const hasBlocks = odd('a block column', 0.25)
  const truth: Truth[] = []
  let at = Date.UTC(2026, between(0, 11), between(1, 28), between(8, 18), between(0, 59), between(0, 59))
  const sequence = isInTurns
    ? Array.from({ length: perClub * clubs.length }, () => one(clubs))
    : clubs.flatMap((club) => new Array<string>(perClub).fill(club))
  sequence.forEach((club, k) => {
    const [speed, ratio, launch, spin, carry, apex, hang] = usual[club]!
    at += 1000 * between(15, 80)
    const scatter = club === 'putter' ? 0.15 : 0.025
    const clubSpeed = speed * (1 + scatter * normal())
    const strike = 1 + 0.02 * normal()
    const far = carry * strike * (1 + 0.03 * normal())
    truth.push({
      club, at: new Date(at), number: k + 1,
      block: hasBlocks ? blockNames[Math.floor((k * blockNames.length) / sequence.length)]! : null,
      clubSpeed, ballSpeed: clubSpeed * ratio * strike, launch: launch * (1 + 0.1 * normal()), startLine: 2.5 * normal(),
      spin: spin * (1 + 0.08 * normal()), spinAxis: 8 * normal(), carry: far, total: far * 1.07 + (far > 60 ? 5 : 1) * random(),
      side: far * 0.04 * normal(), apex: apex * (1 + 0.1 * normal()), land: Math.min(70, launch * 2.2) * (1 + 0.08 * normal()),
      hang: hang * (1 + 0.05 * normal()), attack: (club === 'driver' ? 0 : -4) + 1.5 * normal(), path: 3 * normal(),
      smash: ratio * strike,
    }) // prettier-ignore
  })

  // ------------------------------------------------ the columns
  const optional: FieldName[] = [
    'launch',
    'startLine',
    'spin',
    'spinAxis',
    'carry',
    'total',
    'side',
    'apex',
    'land',
    'hang',
    'attack',
    'path',
    'smash',
  ]
  const richness = one([0.2, 0.5, 0.8, 1])
  const measured: FieldName[] = [
    ...(random() < 0.9 ? (['clubSpeed'] as const) : []), 'ballSpeed', ...optional.filter(() => random() < richness),
  ] // prettier-ignore
  if (odd('columns in any order', 0.3)) measured.sort(() => random() - 0.5)
  const speedUnit = one(['mph', 'mph', 'km/h', 'm/s'])
  const lengthUnit = speedUnit === 'mph' ? (odd('mph and metres', 0.15) ? 'm' : 'yd') : 'm'
  if (speedUnit !== 'mph') oddities.push('metric')
  const apexUnit = lengthUnit === 'yd' && random() < 0.5 ? 'ft' : lengthUnit
  const unitOf = (f: FieldName): string =>
    ({
      speed: speedUnit,
      length: f === 'apex' ? apexUnit : lengthUnit,
      angle: 'deg',
      spin: 'rpm',
      time: 's',
      ratio: '',
    })[fields[f].kind]
  const unitPlace = one(['header', 'header', 'header', 'row', 'cells', 'nowhere'] as const)
  if (unitPlace !== 'header') oddities.push(`units: ${unitPlace}`)
  const statesUnits = unitPlace !== 'nowhere'

  const clubPlace = one([
    'column',
    'column',
    'column',
    'title',
    'padded line',
    'first row of group',
    'own tables',
    'side by side',
  ] as const)
  const isApart = clubPlace !== 'column' && !isInTurns
  const clubHow = isApart ? clubPlace : 'column'
  if (clubHow !== 'column') oddities.push(`club: ${clubHow}`)
  const timePlace = one([
    'seconds',
    'seconds',
    'minutes',
    'date only',
    'two columns',
    'clock only',
    'serial',
    'epoch',
    'none',
    'none',
  ] as const)
  if (timePlace !== 'seconds') oddities.push(`time: ${timePlace}`)
  const numberHow =
    random() < 0.6 ? (clubHow !== 'column' && random() < 0.3 ? 'each club anew' : 'running') : 'none'
  const sideHow = one(['sign', 'sign', 'sign', 'letter', 'word', 'prefix', 'column'] as const)
  const isSided = measured.some((f) => fields[f].isSided)
  if (isSided && sideHow !== 'sign') oddities.push(`side: ${sideHow}`)
  // The file may say that left is plus; it then says so in the header.
  const leftIsPlus = isSided && sideHow === 'sign' && odd('left is plus, and said', 0.08)
  const directed: FieldName | undefined =
    isSided && sideHow === 'column'
      ? measured.includes('side')
        ? 'side'
        : measured.find((f) => fields[f].isSided)
      : undefined

  type Column = { key: string; field?: FieldName; header: string }
  const columns: Column[] = []
  const textName = (key: keyof typeof textNames) => one(textNames[key][language])
  if (clubHow === 'column' || clubHow === 'first row of group') {
    columns.push({ key: 'club', header: textName('club') })
  }
  if (numberHow !== 'none') columns.push({ key: 'number', header: textName('number') })
  if (timePlace === 'two columns') {
    columns.push({ key: 'date', header: textName('date') }, { key: 'time', header: textName('time') })
  } else if (timePlace === 'clock only') columns.push({ key: 'time', header: textName('time') })
  else if (timePlace === 'date only') columns.push({ key: 'date', header: textName('date') })
  else if (timePlace !== 'none') columns.push({ key: 'at', header: textName('at') })
  if (hasBlocks) columns.push({ key: 'block', header: textName('block') })
  const unitInHeader = (u: string) => {
    if (unitPlace !== 'header' || u === '') return ''
    const spelled = one(unitSpellings[u]!)
    return one([
      ` (${spelled})`,
      ` (${spelled})`,
      ` [${spelled}]`,
      ` ${spelled}`,
      `, ${spelled}`,
      `(${spelled})`,
      `_${spelled}`,
      ` - ${spelled}`,
      ` in ${spelled}`,
    ])
  }
  const twoHeaders =
    language === 'en' && unitPlace !== 'row' && measured.includes('clubSpeed') && odd('two header rows', 0.12)
  const convention = leftIsPlus
    ? one([' (+ = left)', ' (left +)', ' (L = +)', ' (- = right)', ' (+ left, - right)'])
    : ''
  for (const f of measured) {
    const name = one(fields[f].names[language])
    columns.push({
      key: f,
      field: f,
      header: `${name}${fields[f].isSided ? convention : ''}${unitInHeader(unitOf(f))}`,
    })
    if (f === directed) {
      columns.push({ key: 'direction', header: one(['L/R', '', 'Dir', 'Direction L/R', 'R/L']) })
    }
  }
  const carryTwice =
    lengthUnit === 'yd' &&
    measured.includes('carry') &&
    unitPlace === 'header' &&
    odd('carry in yards and in metres', 0.08)
  if (carryTwice) columns.push({ key: 'carryAgain', header: `${one(fields.carry.names[language])} (m)` })
  const hasNotes = odd('notes with marks in them', 0.12)
  if (hasNotes) {
    columns.splice(between(0, columns.length), 0, {
      key: 'notes',
      header: one(['Notes', 'Comment', 'Tags', 'Remark']),
    })
  }

  // ------------------------------------------------ cells
  const comma = odd('decimal comma', ['en', 'ja'].includes(language) ? 0.08 : 0.6)
  const delimiter = comma ? one([';', ';', '\t', '|', ',']) : one([',', ',', ',', ';', '\t', '|'])
  if (delimiter !== ',') {
    oddities.push(delimiter === '\t' ? 'tabs' : delimiter === ';' ? 'semicolons' : 'bars')
  }
  if (comma && delimiter === ',') oddities.push('decimal commas in quotes')
  const quoteAll = odd('all cells quoted', 0.12)
  const separator = odd('thousands parted', 0.25) ? one(comma ? ['.', ' ', "'"] : [',', ' ', "'"]) : ''
  const digitsMore = odd('digits without end', 0.05) ? 6 : 0
  const cellUnit = one([' ', '', '\u00a0'])
  const unitCell = Object.fromEntries(
    Object.entries(unitSpellings).map(([u, list]) => [u, one(list.filter((s) => s !== 'y'))]),
  )
  const angleSign = unitPlace !== 'cells' && odd('degree signs', 0.08)
  const plusSigns = odd('plus signs', 0.05)
  const write = (value: number, digits: number, isSpin: boolean) => {
    let text = Math.abs(value).toFixed(digits + (isSpin ? 0 : digitsMore))
    if (isSpin && separator !== '' && text.length > 3) {
      text = `${text.slice(0, -3)}${separator}${text.slice(-3)}`
    } else if (comma) text = text.replace('.', ',')
    return value < 0 || Object.is(value, -0)
      ? `-${text}`
      : plusSigns && value > 0 && random() < 0.5
        ? `+${text}`
        : text
  }
  const letters = {
    en: ['L', 'R'],
    de: ['L', 'R'],
    fr: ['G', 'D'],
    es: ['I', 'D'],
    sv: ['V', 'H'],
    it: ['S', 'D'],
    nl: ['L', 'R'],
    ja: ['左', '右'],
  }[language] as [string, string]
  const sideWords = {
    en: ['left', 'right'],
    de: ['links', 'rechts'],
    fr: ['gauche', 'droite'],
    es: ['izquierda', 'derecha'],
    sv: ['vänster', 'höger'],
    it: ['sinistra', 'destra'],
    nl: ['links', 'rechts'],
    ja: ['左', '右'],
  }[language] as [string, string]
  const [left, right] = sideHow === 'word' ? sideWords : random() < 0.6 ? (['L', 'R'] as const) : letters
  /** The number as shown, and what a reader can know from it. */
  const cellOf = (f: FieldName, truthValue: number, more = 0) => {
    const { kind, digits, isSided } = fields[f]
    const unit = unitOf(f)
    const inUnit =
      (({
        clubSpeed: perUnit.mph!,
        ballSpeed: perUnit.mph!,
        carry: 0.9144,
        total: 0.9144,
        side: 0.9144,
        apex: 0.9144,
      }[f as string] ?? 1) /
        perUnit[unit]!) *
      truthValue
    const places = (kind === 'spin' ? 0 : unit === 'm/s' ? 2 : digits) + more
    const rounded = Number(inUnit.toFixed(places + (kind === 'spin' ? 0 : digitsMore)))
    const shown = isSided && leftIsPlus ? -rounded : rounded
    let text: string
    if (isSided && sideHow !== 'sign' && (sideHow !== 'column' || f === directed)) {
      const size = write(Math.abs(rounded), places, false).replace('+', '')
      const word = rounded < 0 ? left : right
      text =
        sideHow === 'column' ? size
        : rounded === 0 ? size
        : sideHow === 'prefix' ? `${word}${random() < 0.5 ? ' ' : ''}${size}`
        : `${size}${sideHow === 'letter' && random() < 0.5 ? '' : ' '}${word}` // prettier-ignore
    } else {
      text = write(
        Object.is(shown, 0) && rounded === 0 && random() < 0.2 ? -0 : shown,
        places,
        kind === 'spin',
      )
    }
    if (unitPlace === 'cells' && unit !== '') text += `${cellUnit}${unitCell[unit]!}`
    else if (angleSign && kind === 'angle') text += '°'
    return {
      text,
      value: rounded * perUnit[unit]!,
      within: 0.5 * 10 ** -(places + (kind === 'spin' ? 0 : digitsMore)) * perUnit[unit]! + 1e-9,
    }
  }
  const apostrophe = unitPlace !== 'cells' && odd('apostrophe', 0.06)
  const spelledClub = new Map(
    [...new Set(sequence)].map((c) => [
      c,
      one(clubSpellings[c]!.filter((s) => s !== '7' || clubHow === 'column')),
    ]),
  )
  const two = (n: number) => String(n).padStart(2, '0')
  const halfDay = ['en', 'es'].includes(language) && odd('am and pm', 0.2)
  const dateStyle = one(
    language === 'en'
      ? (['iso', 'us', 'uk', 'words', 'iso slash'] as const)
      : (['dotted', 'uk', 'iso', 'dotted'] as const),
  )
  const dateText = (d: Date) => {
    const [y, m, day] = [d.getUTCFullYear(), d.getUTCMonth() + 1, d.getUTCDate()]
    return dateStyle === 'iso' ? `${y}-${two(m)}-${two(day)}`
      : dateStyle === 'iso slash' ? `${y}/${two(m)}/${two(day)}`
      : dateStyle === 'us' ? `${m}/${day}/${y}`
      : dateStyle === 'uk' ? `${two(day)}/${two(m)}/${y}`
      : dateStyle === 'dotted' ? `${two(day)}.${two(m)}.${y}`
      : `${day} ${['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'][m - 1]} ${y}` // prettier-ignore
  }
  const clockText = (d: Date, seconds: boolean) => {
    const [h, m, s] = [d.getUTCHours(), d.getUTCMinutes(), d.getUTCSeconds()]
    const tail = `${two(m)}${seconds ? `:${two(s)}` : ''}`
    return halfDay
      ? `${h % 12 === 0 ? 12 : h % 12}:${tail}${one([' ', ''])}${h < 12 ? 'AM' : 'PM'}`
      : `${two(h)}:${tail}`
  }
  const iso = (d: Date) => d.toISOString()
  const toldAt = (d: Date): string | null =>
    timePlace === 'none' ? null
    : timePlace === 'date only' ? iso(d).slice(0, 10)
    : timePlace === 'clock only' ? iso(d).slice(10, 19)
    : timePlace === 'minutes' ? iso(d).slice(0, 16)
    : timePlace === 'epoch' ? `${iso(d).slice(0, 19)}Z`
    : iso(d).slice(0, 19) // prettier-ignore
  const isoT = random() < 0.3
  const atText = (d: Date) =>
    timePlace === 'serial' ? (comma ? (d.getTime() / 86_400_000 + 25_569).toFixed(6).replace('.', ',') : (d.getTime() / 86_400_000 + 25_569).toFixed(6))
    : timePlace === 'epoch' ? String(d.getTime() / 1000)
    : `${dateText(d)}${dateStyle === 'iso' && isoT ? 'T' : ' '}${clockText(d, timePlace !== 'minutes')}` // prettier-ignore
  const missing = one([
    '',
    '',
    '-',
    '--',
    '---',
    'n/a',
    'N/A',
    'NaN',
    '∞',
    'null',
    '—',
    '#N/A',
    '.',
    '*',
    'x',
    '???',
  ])
  if (missing !== '') oddities.push(`missing: ${missing}`)
  const gaps = odd('values missing', 0.35) ? 0.06 : 0
  const zeros = gaps > 0 && odd('zero for not measured', 0.4)
  const noteTexts = [
    '',
    '',
    'thin, right',
    'good one',
    '{"tag": "best"}',
    'says "ok"',
    'L',
    'two\nlines',
    'average strike',
  ]

  // ------------------------------------------------ the lines
  type Line = { cells: string[]; told?: Omit<ToldShot, 'line'>; repeats?: boolean; raw?: boolean }
  const canBeZero = new Set<FieldName>(['clubSpeed', 'ballSpeed', 'spin', 'carry', 'total', 'apex', 'hang'])
  const shotLine = (
    t: Truth,
    isFirstOfGroup: boolean,
    numberInClub: number,
    use: readonly Column[] = columns,
  ): Line => {
    const values: ToldShot['values'] = {}
    const cells = use.map(({ key, field, header }) => {
      if (field) {
        const isGap = field !== 'ballSpeed' && !(field === 'carry' && carryTwice) && random() < gaps
        // A putt has no carry: the device writes nothing or a zero.
        const isNoFlight =
          t.club === 'putter' && ['carry', 'total', 'apex', 'hang', 'land', 'side'].includes(field)
        if (isGap || isNoFlight) {
          return zeros && canBeZero.has(field) ? one(['0', write(0, fields[field].digits, false)]) : missing
        }
        const cell = cellOf(field, t[field])
        const { metric } = fields[field]
        if (metric !== null) {
          values[metric] = {
            value: cell.value,
            within: cell.within + (field === 'carry' && carryTwice ? 0.1 : 0),
            column: header,
          }
        }
        return apostrophe && /^\d/.test(cell.text) ? `'${cell.text}` : cell.text
      }
      if (key === 'club') return clubHow === 'column' || isFirstOfGroup ? spelledClub.get(t.club)! : ''
      if (key === 'number') return String(numberHow === 'each club anew' ? numberInClub : t.number)
      if (key === 'date') return dateText(t.at)
      if (key === 'time') return clockText(t.at, true)
      if (key === 'at') return atText(t.at)
      if (key === 'block') return t.block ?? ''
      if (key === 'notes') return one(noteTexts)
      if (key === 'carryAgain') {
        values.carryM ??= { value: t.carry * 0.9144, within: 0.1, column: header }
        return write(t.carry * 0.9144, 1, false)
      }
      // The side of the number before it.
      return ''
    })
    // Beside a speed of 0 an angle of 0 is not measured, too.
    const speedAt = use.findIndex((c) => c.key === 'clubSpeed')
    if (
      speedAt >= 0 &&
      /^'?0/.test(cells[speedAt]!) &&
      Number.parseFloat(cells[speedAt]!.replace(/^'/, '').replace(',', '.')) === 0
    ) {
      for (const metric of ['attackDeg', 'clubPathDeg'] as const) {
        if (values[metric]?.value === 0) delete values[metric]
      }
    }
    use.forEach(({ key }, i) => {
      if (key !== 'direction') return
      const metric = fields[directed!].metric!
      const value = values[metric]
      cells[i] =
        value === undefined ? missing : value.value < 0 ? left : value.value > 0 ? right : one([right, ''])
    })
    return {
      cells,
      told: {
        values, club: t.club, clubCell: use.some((c) => c.key === 'club') ? spelledClub.get(t.club)! : null,
        at: toldAt(t.at), block: t.block, place: t.number,
      },
    } // prettier-ignore
  }

  const summaryPlace = one(['none', 'none', 'none', 'end', 'end', 'each club', 'top', 'apart'] as const)
  if (summaryPlace !== 'none') oddities.push(`summary: ${summaryPlace}`)
  const hasLabel = summaryPlace === 'none' || !odd('summary without a label', 0.15)
  const labelColumn =
    one(columns.filter((c) => c.field === undefined && c.key !== 'direction')) ?? columns[0]!
  const moreDigits = odd('summary with a digit more', 0.2) ? 1 : 0
  const summaryKinds = one([
    ['mean'],
    ['mean'],
    ['mean', 'sd'],
    ['sd'],
    ['mean', 'sd', 'smallest', 'largest'],
    ['smallest', 'largest', 'mean'],
    ['mean', 'cv'],
  ] as const)
  const zerosCount = zeros && random() < 0.5
  const summaryLines = (
    list: readonly Truth[],
    lines: readonly Line[],
    club: string | null,
    use: readonly Column[] = columns,
  ): Line[] =>
    summaryKinds
      .filter((kind) => kind === 'mean' || hasLabel || kind === 'sd')
      .flatMap((kind) => {
        const label =
          kind === 'mean'
            ? one(summaryLabels)
            : kind === 'sd' || kind === 'cv'
              ? one(spreadLabels)
              : one(extremeLabels[kind])
        const withClub = club !== null && random() < 0.4
        const text = !hasLabel
          ? ''
          : club !== null && random() < 0.3
            ? `${spelledClub.get(club)!} ${label}`
            : label
        const statistic = (f: FieldName): string => {
          const metric = fields[f].metric
          // The program sums up what it measured, full digits; or, if it is that kind of program, zeros too.
          const values = list.flatMap((t, i) => {
            const isTold = metric === null || lines[i]!.told!.values[metric] !== undefined
            return isTold ? [t[f]] : zerosCount && canBeZero.has(f) ? [0] : []
          })
          if (values.length === 0) return missing
          const mean = values.reduce((a, b) => a + b, 0) / values.length
          const sd =
            values.length < 2
              ? 0
              : Math.sqrt(values.reduce((s, v) => s + (v - mean) ** 2, 0) / (values.length - 1))
          const value =
            kind === 'mean'
              ? mean
              : kind === 'sd'
                ? sd
                : kind === 'cv'
                  ? (100 * sd) / Math.abs(mean)
                  : kind === 'smallest'
                    ? Math.min(...values)
                    : Math.max(...values)
          return kind === 'cv' ? `${write(value, 1, false)} %` : cellOf(f, value, moreDigits).text
        }
        const cells = use.map((c) =>
        c.field ? statistic(c.field)
        : c.key === 'carryAgain' ? write(list.reduce((s, t) => s + t.carry, 0) / list.length * 0.9144, 1, false)
        : c === labelColumn || (!use.includes(labelColumn) && c === use[0]) ? text
        : c.key === 'club' && withClub ? spelledClub.get(club!)!
        : '') // prettier-ignore
        if (hasLabel && !use.some((c) => c === labelColumn) && use[0]?.field) cells.unshift(text)
        return [{ cells }]
      })

  const doubledAll = odd('every row twice', 0.06)
  const shownNewestFirst =
    clubHow === 'column' &&
    (numberHow === 'running' || !['none', 'date only'].includes(timePlace)) &&
    odd('newest first', 0.25)
  const unitsRow: Line = {
    cells: columns.map((c) =>
      c.field
        ? unitOf(c.field) === ''
          ? ''
          : one([one(unitSpellings[unitOf(c.field)]!.filter((u) => u !== 'y')), `[${unitOf(c.field)}]`])
        : '',
    ),
  }
  // "Club" and "Ball" stand above their speeds, as joined cells of a spreadsheet do; the other names stand alone below.
  const speedUnitText = unitInHeader(speedUnit)
  if (twoHeaders) {
    for (const c of columns) {
      if (c.key === 'clubSpeed' || c.key === 'ballSpeed') {
        c.header = `${c.key === 'clubSpeed' ? 'Club' : 'Ball'} Speed${speedUnitText}`
      }
    }
  }
  const headerLines = (use: readonly Column[] = columns): Line[] => {
    if (!twoHeaders) return [{ cells: use.map((c) => c.header) }]
    const over = (c: Column) =>
      c.key === 'clubSpeed' ? 'Club' : c.key === 'ballSpeed' ? 'Ball' : c.key === 'carry' ? 'Flight' : ''
    return [
      { cells: use.map(over) },
      {
        cells: use.map((c) =>
          ['clubSpeed', 'ballSpeed'].includes(c.key) ? `Speed${speedUnitText}` : c.header,
        ),
      },
    ]
  }
  const tops: Line[] = []
  if (odd('lines above', 0.3)) {
    tops.push(
      { cells: [one(['Session 14 May', 'Range session', 'Player: A. Student', 'Export'])], raw: true },
      { cells: [`${truth.length} shots`], raw: true },
    )
    if (random() < 0.4) tops.push({ cells: ['Weather', 'dry, 18 °C'], raw: true })
    if (random() < 0.3) tops.push({ cells: [''], raw: true })
  }
  const comment = odd('comment lines', 0.08)
    ? one(['# exported by hand', '// comment', '; comment', '# Club, Carry are as measured'])
    : null
  if (comment) tops.push({ cells: [comment], raw: true })

  const groups = isApart
    ? clubs.map((club) => ({ club, list: truth.filter((t) => t.club === club) }))
    : [{ club: clubs.length === 1 ? clubs[0]! : null, list: truth }]
  const body: Line[] = []
  const repeatsHeader = clubHow === 'column' && !shownNewestFirst && odd('header again', 0.08)
  const withSummary = (
    club: string | null,
    list: readonly Truth[],
    lines: readonly Line[],
    use?: readonly Column[],
  ) => summaryLines(list, lines, club, use)
  const sideBySide = clubHow === 'side by side' && groups.length > 1 && !twoHeaders
  let text: string | null = null
  if (sideBySide) {
    const built = groups.map(({ club, list }) => {
      const lines = list.map((t, k) => shotLine(t, k === 0, k + 1))
      return {
        club,
        lines,
        sums: ['end', 'each club'].includes(summaryPlace) ? withSummary(club, list, lines) : [],
      }
    })
    const gap = one([0, 1, 1])
    const width = columns.length
    const padTo = (cells: readonly string[], n: number) => [
      ...cells,
      ...new Array<string>(Math.max(0, n - cells.length)).fill(''),
    ]
    const joined = (parts: readonly (readonly string[])[]) =>
      parts.flatMap((p, i) => padTo(p, width + (i < parts.length - 1 ? gap : 0)))
    body.push({ cells: joined(groups.map((g) => [spelledClub.get(g.club!)!])) })
    body.push({ cells: joined(groups.map(() => columns.map((c) => c.header))) })
    if (unitPlace === 'row') body.push({ cells: joined(groups.map(() => unitsRow.cells)) })
    const longest = Math.max(...built.map((b) => b.lines.length + b.sums.length))
    for (let k = 0; k < longest; k++) {
      const parts = built.map((b) => b.lines[k] ?? b.sums[k - b.lines.length])
      const line: Line & { many?: Omit<ToldShot, 'line'>[] } = {
        cells: joined(parts.map((p) => p?.cells.slice(0, width) ?? [])),
      }
      line.many = parts.flatMap((p) => (p?.told ? [p.told] : []))
      body.push(line)
    }
  } else {
    groups.forEach(({ club, list }, g) => {
      const use =
        clubHow === 'own tables' && g > 0 && random() < 0.7
          ? columns.filter((c) => !c.field || c.field === 'ballSpeed' || c.key === 'club' || random() < 0.7)
          : columns
      const cleaned = use.filter((c) => c.key !== 'direction' || use.some((u) => u.field === directed))
      const finalUse = cleaned.length === columns.length ? columns : cleaned
      if (clubHow === 'title' || clubHow === 'own tables') {
        if (g > 0 && random() < 0.5) body.push({ cells: [''], raw: true })
        body.push({
          cells: [
            one([spelledClub.get(club!)!, `${textNames.club[language][0]}: ${spelledClub.get(club!)!}`]),
          ],
          raw: true,
        })
        body.push(...headerLines(finalUse))
        if (unitPlace === 'row') {
          body.push({ cells: unitsRow.cells.filter((_, i) => finalUse.includes(columns[i]!)) })
        }
      }
      if (clubHow === 'padded line' || clubHow === 'side by side') {
        body.push({ cells: [spelledClub.get(club!)!, ...columns.slice(1).map(() => '')] })
      }
      const shown = shownNewestFirst ? [...list].reverse() : list
      const lines = shown.map((t, k) => shotLine(t, k === 0, list.indexOf(t) + 1, finalUse))
      const sums =
        summaryPlace !== 'none' &&
        list.length > 1 &&
        (groups.length > 1 ? summaryPlace !== 'end' || g < 0 : true)
          ? withSummary(club, shown, lines, finalUse)
          : []
      if (summaryPlace === 'top') body.push(...sums)
      lines.forEach((line, k) => {
        if (repeatsHeader && k > 0 && k === Math.floor(lines.length / 2)) body.push(...headerLines())
        body.push(line)
        if (doubledAll) body.push({ cells: line.cells, repeats: true })
      })
      if (summaryPlace === 'apart') body.push({ cells: [''], raw: true })
      if (summaryPlace !== 'top') body.push(...sums)
    })
    if (summaryPlace === 'end' && groups.length > 1 && clubHow !== 'own tables') {
      body.push(
        ...withSummary(
          null,
          truth,
          body.filter((l) => l.told),
        ),
      )
    }
  }
  const startsWithHeader = clubHow !== 'title' && clubHow !== 'own tables' && !sideBySide
  const lines: Line[] = [
    ...tops,
    ...(startsWithHeader ? [...headerLines(), ...(unitPlace === 'row' ? [unitsRow] : [])] : []),
    ...body,
  ]

  const padded = odd('padded with empty cells', 0.2)
  // One row with a lost cell, one with a cell too many.
  const plainShots = lines.filter((l) => l.told && l.cells.length === columns.length)
  if (!sideBySide && !doubledAll && plainShots.length >= 8 && odd('a lost cell', 0.1)) {
    const line = one(plainShots)
    const from = columns.findIndex((c) => c.field)
    const gap = between(from, columns.length - 1)
    line.cells = line.cells.flatMap((c, i) => (i === gap ? [] : [c]))
    // What is not in the file is not told.
    const lost = columns[gap]!.field
    if (lost && fields[lost].metric && !carryTwice) delete line.told!.values[fields[lost].metric]
    const isPadded = random() < 0.5
    if (isPadded) line.cells.push('')
    const last = columns.at(-1)!
    if (gap === columns.length - 1 && (isPadded || padded)) {
      // Just an empty cell.
      if (last.field && fields[last.field].metric) delete line.told!.values[fields[last.field].metric!]
      if (last.key === 'direction') delete line.told!.values[fields[directed!].metric!]
    } else line.told!.isBroken = true
  }
  if (!sideBySide && !doubledAll && plainShots.length >= 8 && odd('a cell too many', 0.05)) {
    const line = one(plainShots.filter((l) => !l.told!.isBroken))
    line.cells = [...line.cells]
    line.cells.splice(between(1, columns.length - 1), 0, one(['stray', '12']))
    line.told!.isBroken = true
  }
  if (odd('footer', 0.12)) {
    lines.push(
      { cells: [''], raw: true },
      {
        cells: [
          one(['Exported 14 May 2026', 'Total shots: 24', '* estimated', 'End of report', 'Page 1 of 1']),
        ],
        raw: true,
      },
    )
  }

  const trailing = odd('an empty column at the end', 0.1)
  const quote = (cell: string) =>
    (quoteAll && cell !== '') || cell.includes(delimiter) || cell.includes('"') || cell.includes('\n')
      ? `"${cell.replace(/"/g, '""')}"`
      : cell
  const newline = odd('line ends of another system', 0.3) ? one(['\r\n', '\r\n', '\r']) : '\n'
  const told: ToldShot[] = []
  const repeats: number[] = []
  let number = 1
  const parts: string[] = []
  for (const line of lines) {
    let cells = padded
      ? [...line.cells, ...new Array<string>(Math.max(0, columns.length - line.cells.length)).fill('')]
      : line.cells
    if (trailing && !line.raw) cells = [...cells, '']
    for (const t of (line as { many?: Omit<ToldShot, 'line'>[] }).many ?? (line.told ? [line.told] : [])) {
      told.push({ ...t, line: number })
    }
    if (line.repeats) repeats.push(number)
    const written = line.raw && !padded ? cells.join(delimiter) : cells.map(quote).join(delimiter)
    parts.push(written)
    number += 1 + (written.match(/\n/g)?.length ?? 0)
  }
  text =
    parts.map((p) => (newline === '\r' ? p.replace(/\n/g, ' ') : p)).join(newline) +
    (random() < 0.8 ? newline : '')
  if (newline === '\r' && parts.some((p) => p.includes('\n'))) {
    // Old line ends can't stand inside a cell beside others: line numbers as written.
    let n = 1
    const places = new Map<number, number>()
    let was = 1
    for (const p of parts) {
      places.set(was, n)
      was += 1 + (p.match(/\n/g)?.length ?? 0)
      n++
    }
    for (const t of told) t.line = places.get(t.line)!
    repeats.forEach((r, i) => (repeats[i] = places.get(r)!))
  }
  const encoding = one(['utf-8', 'utf-8', 'utf-8', 'bom', 'utf-16le', 'latin-1'] as const)
  const isLatin = [...text].every((c) => c.charCodeAt(0) < 256)
  const bytes =
    encoding === 'bom' ? new Uint8Array(Buffer.concat([Buffer.from([0xef, 0xbb, 0xbf]), Buffer.from(text, 'utf8')]))
    : encoding === 'utf-16le' ? new Uint8Array(Buffer.concat([Buffer.from([0xff, 0xfe]), Buffer.from(text, 'utf16le')]))
    : encoding === 'latin-1' && isLatin ? new Uint8Array(Buffer.from(text, 'latin1'))
    : new Uint8Array(Buffer.from(text, 'utf8')) // prettier-ignore
  if (encoding !== 'utf-8') oddities.push(`encoding: ${encoding}`)
  const hasDates = !['none', 'clock only', 'serial', 'epoch'].includes(timePlace)
  return {
    bytes, text, told, repeats, oddities, statesUnits,
    units: Object.fromEntries(columns.flatMap((c) => (c.field ? [[c.header, unitOf(c.field)]] : []))),
    tellsOrder: !['none', 'date only'].includes(timePlace) || numberHow === 'running' || !shownNewestFirst,
    hasOpenDates: hasDates && (dateStyle === 'us' || dateStyle === 'uk'),
  } // prettier-ignore
}
