import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64'
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus'
import { Problem } from '../../../shared-core/problem.ts'
import { readShots, type ShotsReading } from '../../../shared-core/shots/read-shots.ts'

/** One shot as it was hit: what any file about it must be read as. */
type Truth = {
  club: string
  at: Date
  number: number
  clubMph: number
  ballMph: number
  spinRpm: number
  carryYd: number
  sideYd: number
}

export type OddFile = {
  text: string
  truth: Truth[]
  oddities: string[]
  stated: { club: boolean; time: boolean }
}

const mph = 0.44704
const yard = 0.9144

const summaryLabels = [
  'Average', 'Session Average', 'Average (3 shots)', 'Avg.', 'Mean', 'Std Dev', 'Standard Deviation', 'Durchschnitt', 'Ø',
  'Mittelwert', 'Standardabweichung', 'Moy.', 'Moyenne', 'Écart-type', 'Promedio', 'Media', 'Desviación estándar', 'Gemiddelde',
  'Medelvärde', 'Gjennomsnitt', 'Gennemsnit', 'Keskiarvo', 'Średnia', 'Průměr', 'Átlag', 'Ortalama', 'Среднее', '平均', '평균',
  'Deviazione standard', 'Desvio padrão', '',
] as const // prettier-ignore

const clubNames: Record<string, readonly string[]> = {
  driver: ['Driver', 'DR', 'W1', 'Driver 2', '1 Wood'],
  '7-iron': ['7 Iron', '7i', 'I7', 'Eisen 7', 'Fer 7', '7'],
  '4-hybrid': ['4 Hybrid', '4 Rescue', 'H4', '4H'],
  'pitching-wedge': ['PW', 'Pitching Wedge'],
}
const speeds: Record<string, [number, number, number, number]> = {
  driver: [93, 1.46, 2700, 225],
  '7-iron': [78, 1.34, 6100, 155],
  '4-hybrid': [85, 1.42, 4300, 185],
  'pitching-wedge': [70, 1.24, 8300, 115],
}

/**
 * A table of shots as some program, language or spreadsheet might write it, from shots that are known. Nothing here is
 * taken from any product's export: columns in trade words, put together by chance.
 */
export const oddFile = (seed: number): OddFile => {
  const generator = xoroshiro128plus(seed)
  const random = () => uniformFloat64(generator)
  const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random())
  const one = <T>(list: readonly T[]): T => list[Math.floor(random() * list.length)]!
  const oddities: string[] = []
  const odd = (name: string, probability: number) => {
    const is = random() < probability
    if (is) oddities.push(name)
    return is
  }

  const clubs = odd('several clubs', 0.5)
    ? ['driver', ...(random() < 0.5 ? ['7-iron'] : ['4-hybrid', 'pitching-wedge'])]
    : [one(Object.keys(speeds))]
  const perClub = 4 + Math.floor(random() * 9)
  const truth: Truth[] = []
  let at = Date.UTC(2026, 4, 14, 9, Math.floor(random() * 60), Math.floor(random() * 60))
  for (const club of clubs) {
    const [speed, ratio, spin, carry] = speeds[club]!
    for (let k = 0; k < perClub; k++) {
      at += 1000 * (20 + Math.floor(random() * 60))
      const clubMph = speed + 2.2 * normal()
      const strike = 1 + 0.02 * normal()
      truth.push({
        club,
        at: new Date(at),
        number: truth.length + 1,
        clubMph: Number(clubMph.toFixed(1)),
        ballMph: Number((clubMph * ratio * strike).toFixed(1)),
        spinRpm: Math.round(spin * (1 + 0.08 * normal())),
        carryYd: Number((carry * strike * (1 + 0.03 * normal())).toFixed(1)),
        sideYd: Number((9 * normal()).toFixed(1)),
      })
    }
  }

  const comma = odd('decimal comma', 0.35)
  const delimiter = comma ? one([';', '\t']) : one([',', ',', ';', '\t'])
  const grouped = odd('thousands parted', 0.25)
  const separator = comma ? '.' : delimiter === ',' ? '.' : one([',', '.'])
  const metric = odd('metric', 0.3)
  const number = (value: number, digits = 1) => {
    const text = value.toFixed(digits)
    return comma ? text.replace('.', ',') : text
  }
  const spinText = (rpm: number) => {
    const text = String(Math.round(rpm))
    return grouped && text.length > 3 ? `${text.slice(0, -3)}${separator}${text.slice(-3)}` : text
  }
  const language = one(['en', 'en', 'de', 'fr', 'es'] as const)
  const words = {
    en: ['Club', 'Club Speed', 'Ball Speed', 'Spin Rate', 'Carry', 'Side', 'Shot', 'Time', 'Date'],
    de: ['Schläger', 'Schlägerkopfgeschwindigkeit', 'Ballgeschwindigkeit', 'Gesamtspin', 'Carry Distanz', 'Seitliche Abweichung', 'Schlag', 'Uhrzeit', 'Datum'],
    fr: ['Club', 'Vitesse du club', 'Vitesse de balle', 'Taux de spin', 'Distance de carry', 'Déviation', 'Coup', 'Heure', 'Date'],
    es: ['Palo', 'Velocidad del palo', 'Velocidad de la bola', 'Tasa de spin', 'Distancia de vuelo', 'Desviación', 'Golpe', 'Hora', 'Fecha'],
  }[language] // prettier-ignore
  const speedUnit = metric ? one(['m/s', 'km/h']) : 'mph'
  const lengthUnit = metric ? 'm' : 'yd'
  const stateUnits = !odd('no units', 0.25)
  const perMph = { mph: 1, 'm/s': mph, 'km/h': mph * 3.6 }[speedUnit]!
  const perYard = metric ? yard : 1
  const unitRow = stateUnits && odd('units in a row', 0.3)
  const unit = (u: string) => (stateUnits && !unitRow ? one([` (${u})`, ` [${u}]`]) : '')

  const how = one(['column', 'column', 'title', 'padded line', 'first row of group'] as const)
  if (how !== 'column') oddities.push(`club: ${how}`)
  const timeHow = one(['seconds', 'seconds', 'minutes', 'date only', 'none'] as const)
  if (timeHow !== 'seconds') oddities.push(`time: ${timeHow}`)
  const hasNumber = random() < 0.6
  const sideHow = one(['sign', 'sign', 'letter', 'column'] as const)
  if (sideHow !== 'sign') oddities.push(`side: ${sideHow}`)
  const apostrophe = odd('apostrophe', 0.15)
  const newestFirst =
    (hasNumber || timeHow === 'seconds' || timeHow === 'minutes') &&
    how === 'column' &&
    odd('newest first', 0.35)
  const byRow = newestFirst && timeHow !== 'none' && timeHow !== 'date only' && odd('numbers by row', 0.3)
  const twoHeaders = language === 'en' && !unitRow && odd('two header rows', 0.2)

  const columns: string[] = []
  if (how === 'column' || how === 'first row of group') columns.push('club')
  if (hasNumber) columns.push('number')
  if (timeHow !== 'none') columns.push('time')
  columns.push('clubSpeed', 'ballSpeed', 'spin', 'carry', 'side')
  if (sideHow === 'column') columns.push('direction')
  const nameOf: Record<string, string> = {
    club: words[0]!,
    number: words[6]!,
    time: timeHow === 'date only' ? words[8]! : words[7]!,
    clubSpeed: words[1]! + unit(speedUnit),
    ballSpeed: words[2]! + unit(speedUnit),
    spin: words[3]! + unit('rpm'),
    carry: words[4]! + unit(lengthUnit),
    side: words[5]! + unit(lengthUnit),
    direction: one(['L/R', '', 'Dir']),
  }
  const spelled = new Map(
    clubs.map((club) => [club, one(clubNames[club]!.filter((n) => n !== '7' || how !== 'padded line'))]),
  )
  const clock = (d: Date) => {
    const iso = d.toISOString()
    return timeHow === 'date only'
      ? comma
        ? '14.05.2026'
        : '2026-05-14'
      : `${iso.slice(0, 10)} ${iso.slice(11, timeHow === 'minutes' ? 16 : 19)}`
  }
  type Numbers = Pick<Truth, 'clubMph' | 'ballMph' | 'spinRpm' | 'carryYd' | 'sideYd'>
  const cellsOf = (n: Numbers, label: { club?: string; number?: string; time?: string }): string[] =>
    columns.map((column) => {
      const side = n.sideYd * perYard
      const cell = {
        club: label.club ?? '',
        number: label.number ?? '',
        time: label.time ?? '',
        clubSpeed: number(n.clubMph * perMph),
        ballSpeed: number(n.ballMph * perMph),
        spin: spinText(n.spinRpm),
        carry: number(n.carryYd * perYard),
        side:
          sideHow === 'sign'
            ? number(side)
            : sideHow === 'letter'
              ? `${number(Math.abs(side))} ${side < 0 ? 'L' : 'R'}`
              : number(Math.abs(side)),
        direction: side < 0 ? 'L' : 'R',
      }[column]!
      return apostrophe && /^\d/.test(cell) ? `'${cell}` : cell
    })

  const mean = (list: readonly Truth[], of: (t: Truth) => number) =>
    list.reduce((s, t) => s + of(t), 0) / list.length
  const sd = (list: readonly Truth[], of: (t: Truth) => number) =>
    Math.sqrt(list.reduce((s, t) => s + (of(t) - mean(list, of)) ** 2, 0) / (list.length - 1))
  const summaryOf = (list: readonly Truth[], statistic: typeof mean): Numbers => ({
    clubMph: statistic(list, (t) => t.clubMph),
    ballMph: statistic(list, (t) => t.ballMph),
    spinRpm: statistic(list, (t) => t.spinRpm),
    carryYd: statistic(list, (t) => t.carryYd),
    sideYd: statistic(list, (t) => t.sideYd),
  })

  const header = columns.map((c) => nameOf[c]!)
  const headerLines = twoHeaders
    ? [
        columns.map((c) => ({ club: '', number: '', time: '', clubSpeed: 'Club', ballSpeed: 'Ball', spin: '', carry: 'Flight', side: '' })[c] ?? ''),
        columns.map((c) => (c === 'clubSpeed' || c === 'ballSpeed' ? `Speed${unit(speedUnit)}` : c === 'spin' ? `Spin${unit('rpm')}` : c === 'carry' ? `Carry${unit(lengthUnit)}` : c === 'side' ? `Side${unit(lengthUnit)}` : nameOf[c]!)),
      ] // prettier-ignore
    : [header]
  const units = columns.map(
    (c) =>
      ({ clubSpeed: speedUnit, ballSpeed: speedUnit, spin: 'rpm', carry: lengthUnit, side: lengthUnit })[c] ??
      '',
  )

  const body: string[][] = []
  const summaryHow = one(['none', 'none', 'end', 'each club'] as const)
  if (summaryHow !== 'none') oddities.push(`summary: ${summaryHow}`)
  const labelPlace = one(columns.filter((c) => c === 'club' || c === 'number' || c === 'time'))
  const addSummary = (list: readonly Truth[], club: string | null) => {
    const label = one(summaryLabels)
    if (label === '') oddities.push('summary without a label')
    const withClub =
      club !== null && labelPlace !== 'club' && how === 'column' && random() < 0.5 ? spelled.get(club)! : ''
    const text = club !== null && random() < 0.3 && label !== '' ? `${spelled.get(club)!} ${label}` : label
    body.push(
      cellsOf(summaryOf(list, mean), { club: withClub, ...(labelPlace ? { [labelPlace]: text } : {}) }),
    )
    if (random() < 0.5) {
      body.push(cellsOf(summaryOf(list, sd), { club: withClub, ...(labelPlace ? { [labelPlace]: label === '' ? '' : one(['Std Dev', 'Std. Dev.', 'StdAbw', 'Écart type', 'Desv. Est.', 'σ', 'Consistency']) } : {}) })) // prettier-ignore
    }
  }
  const doubledAll = odd('every row twice', 0.08)
  for (const club of clubs) {
    const list = truth.filter((t) => t.club === club)
    if (how === 'title') {
      body.push([one([spelled.get(club)!, `${words[0]}: ${spelled.get(club)!}`])])
      body.push(...headerLines)
    }
    if (how === 'padded line') body.push([spelled.get(club)!, ...columns.slice(1).map(() => '')])
    list.forEach((t, k) => {
      const row = cellsOf(t, {
        club: how === 'column' || k === 0 ? spelled.get(club)! : '',
        number: String(byRow ? truth.length + 1 - t.number : t.number),
        time: clock(t.at),
      })
      body.push(row)
      if (doubledAll) body.push(row)
    })
    if (summaryHow === 'each club') addSummary(list, club)
  }
  if (summaryHow === 'end' && clubs.length === 1) addSummary(truth, null)
  if (newestFirst) body.reverse()

  // One row with a lost cell, and one with zeros for what was not measured.
  const shotLines = body.flatMap((r, i) =>
    r.length === columns.length && r.filter(Boolean).length >= columns.length - 1 ? [i] : [],
  )
  let lost = -1
  if (truth.length >= 8 && odd('a lost cell', 0.12)) {
    lost = one(shotLines)
    const from = columns.indexOf('clubSpeed')
    const gap = from + Math.floor(random() * (columns.length - 1 - from))
    body[lost] = body[lost]!.flatMap((c, i) => (i === gap ? [] : [c]))
    if (random() < 0.5) body[lost]!.push('')
  }
  if (odd('zeros for not measured', 0.12)) {
    const zero = columns.indexOf('clubSpeed')
    const at = shotLines.find((i) => i !== lost)!
    body[at]![zero] = '0'
  }
  const lines = [
    ...(odd('lines above', 0.3) ? [['Session 14 May'], [`${truth.length} shots`]] : []),
    ...(how === 'title' ? [] : headerLines),
    ...(unitRow && how !== 'title' ? [units] : []),
    ...body,
  ]
  const quote = (cell: string) => (cell.includes(delimiter) ? `"${cell}"` : cell)
  const padded = odd('padded with empty cells', 0.25)
  const text = lines
    .map((cells) =>
      (padded ? [...cells, ...new Array<string>(Math.max(0, columns.length - cells.length)).fill('')] : cells)
        .map(quote)
        .join(delimiter),
    )
    .join(odd('line ends of another system', 0.3) ? '\r\n' : '\n')
  return { text: `${text}\n`, truth, oddities, stated: { club: true, time: timeHow !== 'none' } }
}

export type Judged = {
  verdict: 'right' | 'said' | 'wrong' | 'refused'
  why: string
  reading: ShotsReading | null
}

/**
 * `wrong`: a number, a club, a sign or the order is not the true one and nothing says so, or a shot is there that nobody
 * hit, or one is missing in silence. `said`: read rightly but for what a problem names. `refused`: a Problem.
 */
export const judge = (file: OddFile): Judged => {
  let reading: ShotsReading
  try {
    reading = readShots(file.text, { playingSide: 'right' })
  } catch (error) {
    if (!(error instanceof Problem)) throw error
    return { verdict: 'refused', why: error.what, reading: null }
  }
  const wrong = (why: string): Judged => ({ verdict: 'wrong', why, reading })
  const near = (value: number | null, truth: number, step: number) =>
    value === null || Math.abs(value - truth) <= step
  const assumesUnits = reading.problems.some((p) => p.kind === 'assumed' && /no unit/.test(p.message))
  const rowsLost = reading.problems.filter((p) => p.kind === 'row').length
  const matched: number[] = []
  let said = rowsLost > 0
  for (const shot of reading.shots) {
    const ballMph = shot.ballSpeedMps === null ? null : shot.ballSpeedMps / mph
    const index = file.truth.findIndex(
      (t, i) => !matched.includes(i) && shot.spinRpm !== null && Math.abs(t.spinRpm - shot.spinRpm) < 1 && (assumesUnits || near(ballMph, t.ballMph, 0.15)),
    ) // prettier-ignore
    if (index < 0) return wrong(`line ${shot.line} is no shot that was hit`)
    const t = file.truth[index]!
    matched.push(index)
    if (!assumesUnits) {
      if (!near(shot.clubSpeedMps === null ? null : shot.clubSpeedMps / mph, t.clubMph, 0.15)) {
        return wrong(`club speed of line ${shot.line}`)
      }
      if (!near(shot.carryM === null ? null : shot.carryM / yard, t.carryYd, 0.15)) {
        return wrong(`carry of line ${shot.line}`)
      }
      if (!near(shot.sideM === null ? null : shot.sideM / yard, t.sideYd, 0.15)) {
        return wrong(`side of line ${shot.line}`)
      }
    } else {
      said = true
      if (shot.sideM !== null && shot.sideM !== 0 && Math.abs(t.sideYd) > 0.1 && Math.sign(shot.sideM) !== Math.sign(t.sideYd)) return wrong(`sign of the side of line ${shot.line}`) // prettier-ignore
    }
    if (shot.club === null) {
      said = true
    } else if (shot.club !== t.club) {
      if (/^(?:driver|.*-(?:iron|hybrid|wood|wedge))$/.test(shot.club)) {
        return wrong(`club of line ${shot.line}: ${shot.club}`)
      }
      said = true
    }
  }
  if (matched.some((m, i) => i > 0 && m < matched[i - 1]!)) return wrong('the order of the shots')
  const missing = file.truth.length - matched.length
  if (missing > rowsLost) return wrong(`${missing} shots are missing, ${rowsLost} lines are said to be lost`)
  return { verdict: said ? 'said' : 'right', why: '', reading }
}
