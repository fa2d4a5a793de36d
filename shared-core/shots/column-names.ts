import type { ColumnTarget, NumberTarget } from './column-target.ts'
import { moreNames } from './more-column-names.ts'
import { signConvention, type SideWords } from './read-number.ts'
import { bare, readUnit, unitSpellings, type Dimension } from './unit.ts'

/** What is measured in a column of numbers. */
export const dimensionOf: Readonly<Record<NumberTarget, Dimension>> = {
  clubSpeedMps: 'speed',
  ballSpeedMps: 'speed',
  launchDeg: 'angle',
  launchDirectionDeg: 'angle',
  spinRpm: 'spin',
  spinAxisDeg: 'angle',
  carryM: 'length',
  totalM: 'length',
  sideM: 'length',
  apexM: 'length',
  descentDeg: 'angle',
  flightSeconds: 'time',
  attackDeg: 'angle',
  clubPathDeg: 'angle',
  faceDeg: 'angle',
  dynamicLoftDeg: 'angle',
  impactXMm: 'faceLength',
  impactYMm: 'faceLength',
  spinBackRpm: 'spin',
  spinSideRpm: 'spin',
  smash: 'ratio',
  faceToPathDeg: 'angle',
}

/** Whether a column holds numbers. */
export const isNumberTarget = (target: string): target is NumberTarget => Object.hasOwn(dimensionOf, target)

/*
 * Trade words for each column: plain English, then German, Spanish, French (those files often come with decimal
 * commas). Common practice, no source. The earlier a name stands, the surer it is: when two columns answer to
 * one target, the earlier name wins and the other column is kept beside the shot.
 */
const names: Readonly<Record<ColumnTarget, readonly string[]>> = {
  clubSpeedMps: [
    'club speed',
    'club head speed',
    'head speed',
    'swing speed',
    'club velocity',
    'club head velocity',
    'speed club',
    'club spd',
    'chs',
    'impact club speed',
    'club speed at impact',
    'schlägerkopfgeschwindigkeit',
    'schlägerkopfgeschw',
    'schlägergeschw',
    'schlägergeschwindigkeit',
    'kopfgeschwindigkeit',
    'schwunggeschwindigkeit',
    'velocidad del palo',
    'velocidad palo',
    'velocidad de la cabeza del palo',
    'velocidad cabeza palo',
    'velocidad de swing',
    'vitesse du club',
    'vitesse club',
    'vitesse de club',
    'vitesse de la tête de club',
    'vitesse tête de club',
    'vitesse de swing',
  ],
  ballSpeedMps: [
    'ball speed',
    'ball velocity',
    'speed ball',
    'initial ball speed',
    'ball spd',
    'launch speed',
    'initial velocity',
    'ballgeschwindigkeit',
    'ballgeschw',
    'velocidad de la bola',
    'velocidad de bola',
    'velocidad bola',
    'velocidad de la pelota',
    'vitesse de balle',
    'vitesse balle',
    'vitesse de la balle',
  ],
  launchDeg: [
    'launch angle',
    'vertical launch angle',
    'launch angle vertical',
    'vertical launch',
    'launch vertical',
    'vert launch',
    'vert launch angle',
    'launch angle v',
    'vla',
    'launch elevation',
    'elevation angle',
    'launch',
    'abflugwinkel',
    'startwinkel',
    'vertikaler abflugwinkel',
    'ángulo de salida',
    'ángulo salida',
    'ángulo de lanzamiento',
    'ángulo de despegue',
    'angle de lancement',
    'angle de décollage',
    "angle d'envol",
  ],
  launchDirectionDeg: [
    'launch direction',
    'horizontal launch angle',
    'launch angle horizontal',
    'horizontal launch',
    'launch horizontal',
    'horiz launch',
    'horiz launch angle',
    'launch angle h',
    'hla',
    'start line',
    'start direction',
    'direction angle',
    'angle direction',
    'ball direction',
    'launch azimuth',
    'azimuth',
    'azimuth angle',
    'side angle',
    'horizontal angle',
    'direction',
    'startrichtung',
    'abflugrichtung',
    'richtungswinkel',
    'richtung',
    'dirección de salida',
    'dirección',
    'direction de départ',
    'direction de lancement',
  ],
  spinRpm: [
    'total spin',
    'spin rate',
    'spin total',
    'ball spin',
    'spin',
    'gesamtspin',
    'spinrate',
    'drall',
    'spin gesamt',
    'efecto',
    'efecto total',
    'tasa de spin',
    'taux de spin',
    'vitesse de rotation',
    'rotation',
  ],
  spinAxisDeg: [
    'spin axis',
    'spin axis angle',
    'spin axis tilt',
    'axis tilt',
    'spin tilt',
    'tilt angle',
    'axis',
    'spinachse',
    'drehachse',
    'spin achse',
    'eje de spin',
    'eje de giro',
    'axe de spin',
    'axe de rotation',
    'axe du spin',
  ],
  carryM: [
    'carry',
    'carry distance',
    'carry dist',
    'distance carry',
    'carry length',
    'flat carry',
    'carry flat',
    'ball carry',
    'carrydistanz',
    'carry distanz',
    'carry länge',
    'flugweite',
    'flugdistanz',
    'vuelo',
    'distancia de vuelo',
    'distancia de carry',
    'distancia carry',
    'portée',
    'distance de carry',
    'distance de vol',
  ],
  totalM: [
    'total distance',
    'total',
    'total dist',
    'distance total',
    'total length',
    'carry and roll',
    'distance',
    'dist',
    'length',
    'gesamtdistanz',
    'gesamtweite',
    'gesamtlänge',
    'distanz',
    'weite',
    'distancia total',
    'distancia',
    'distance totale',
  ],
  sideM: [
    'side',
    'offline',
    'side distance',
    'offline distance',
    'lateral',
    'lateral distance',
    'side carry',
    'carry side',
    'carry offline',
    'off line carry',
    'side total',
    'total side',
    'side deviation',
    'lateral deviation',
    'deviation',
    'offline yards',
    'distance offline',
    'distance from target line',
    'carry deviation',
    'seitliche abweichung',
    'seitenabweichung',
    'seite',
    'seitlich',
    'carry seite',
    'seite carry',
    'links rechts',
    'abweichung seitlich',
    'abstand zur ziellinie',
    'abweichung',
    'desviación',
    'desviación lateral',
    'lateralidad',
    'lado',
    'izquierda derecha',
    'déviation',
    'côté',
    'gauche droite',
    'écart latéral',
    'écart',
    'déviation latérale',
  ],
  apexM: [
    'apex',
    'apex height',
    'max height',
    'maximum height',
    'height apex',
    'peak height',
    'height',
    'height max',
    'peak',
    'max altitude',
    'ball height',
    'scheitelhöhe',
    'scheitelpunkt',
    'maximale höhe',
    'max höhe',
    'flughöhe',
    'höhe',
    'altura máxima',
    'altura',
    'apogeo',
    'ápice',
    'hauteur maximale',
    'hauteur max',
    'hauteur',
    'apogée',
  ],
  descentDeg: [
    'landing angle',
    'land angle',
    'descent angle',
    'angle of descent',
    'angle descent',
    'landing',
    'descent',
    'land ang',
    'vertical landing angle',
    'landewinkel',
    'aufprallwinkel',
    'auftreffwinkel',
    'ángulo de caída',
    'ángulo de descenso',
    'ángulo de aterrizaje',
    "angle d'atterrissage",
    'angle de descente',
  ],
  flightSeconds: [
    'hang time',
    'flight time',
    'time of flight',
    'air time',
    'carry time',
    'flugzeit',
    'flugdauer',
    'tiempo de vuelo',
    'tiempo en el aire',
    'temps de vol',
    'temps en vol',
  ],
  attackDeg: [
    'attack angle',
    'angle of attack',
    'aoa',
    'attack',
    'vertical attack angle',
    'club attack angle',
    'attack ang',
    'eintreffwinkel',
    'angriffswinkel',
    'anstellwinkel',
    'ángulo de ataque',
    "angle d'attaque",
  ],
  clubPathDeg: [
    'club path',
    'swing path',
    'club path angle',
    'path',
    'path angle',
    'horizontal club path',
    'schlägerpfad',
    'schwungpfad',
    'schwungbahn',
    'schlägerweg',
    'trayectoria del palo',
    'trayectoria',
    'camino del palo',
    'chemin du club',
    'chemin de club',
    'chemin',
  ],
  faceDeg: [
    'face angle',
    'club face angle',
    'club face',
    'face to target',
    'face target',
    'face to target angle',
    'face',
    'schlägerblattwinkel',
    'schlagflächenwinkel',
    'schlägerblatt',
    'schlagfläche',
    'schlagflächenstellung',
    'ángulo de la cara',
    'ángulo de cara',
    'cara del palo',
    'angle de face',
    'angle de la face',
    'face du club',
  ],
  dynamicLoftDeg: [
    'dynamic loft',
    'dyn loft',
    'delivered loft',
    'loft at impact',
    'impact loft',
    'dynamischer loft',
    'dyn. loft',
    'loft dinámico',
    'loft dynamique',
  ],
  impactXMm: [
    'impact x',
    'horizontal impact',
    'impact horizontal',
    'impact offset',
    'impact offset x',
    'face impact horizontal',
    'face impact lateral',
    'lateral face impact',
    'horizontal face impact',
    'face impact x',
    'face x',
    'strike x',
    'strike horizontal',
    'impact lateral',
    'impact toe heel',
    'impact heel toe',
    'toe heel',
    'heel toe',
    'offset',
    'impact location x',
    'impact location horizontal',
    'impact position x',
    'impact point x',
    'offset on face',
    'horizontal strike',
    'treffpunkt x',
    'treffpunkt horizontal',
    'impacto x',
    'impacto horizontal',
  ],
  impactYMm: [
    'impact y',
    'vertical impact',
    'impact vertical',
    'impact height',
    'impact offset y',
    'face impact vertical',
    'vertical face impact',
    'face impact y',
    'face y',
    'strike y',
    'strike vertical',
    'strike height',
    'impact high low',
    'impact low high',
    'height on face',
    'impact location y',
    'impact location vertical',
    'impact position y',
    'impact point y',
    'vertical strike',
    'treffpunkt y',
    'treffpunkt vertikal',
    'treffhöhe',
    'impacto y',
    'impacto vertical',
    'hauteur impact',
  ],
  spinBackRpm: [
    'back spin',
    'spin back',
    'backspin rate',
    'back spin rate',
    'rückwärtsspin',
    'rückwärtsdrall',
    'retroceso',
    'spin arrière',
    'rétro',
  ],
  spinSideRpm: [
    'side spin',
    'spin side',
    'sidespin rate',
    'side spin rate',
    'seitenspin',
    'seitendrall',
    'efecto lateral',
    'spin lateral',
    'spin latéral',
  ],
  smash: [
    'smash factor',
    'smash',
    'efficiency',
    'smash ratio',
    'smashfaktor',
    'treffqualität',
    'factor de smash',
    'facteur de smash',
  ],
  faceToPathDeg: [
    'face to path',
    'face path',
    'face to path angle',
    'face angle to path',
    'cara a trayectoria',
    'face chemin',
  ],
  club: [
    'club type',
    'club',
    'club name',
    'club used',
    'club id',
    'clubs',
    'schlägertyp',
    'schläger',
    'schlägerart',
    'tipo de palo',
    'palo',
    'type de club',
    'club utilisé',
    'canne',
  ],
  at: [
    'timestamp',
    'time stamp',
    'date time',
    'date and time',
    'shot timestamp',
    'recorded at',
    'captured at',
    'created at',
    'zeitstempel',
    'datum uhrzeit',
    'datum und uhrzeit',
    'datum zeit',
    'fecha y hora',
    'fecha hora',
    'date et heure',
    'date heure',
    'horodatage',
    'at',
  ],
  date: ['date', 'shot date', 'session date', 'day', 'datum', 'tag', 'fecha', 'jour'],
  time: [
    'time',
    'time of day',
    'shot time',
    'clock',
    'clock time',
    'local time',
    'wall time',
    'uhrzeit',
    'zeit',
    'hora',
    'heure',
  ],
  block: [
    'block',
    'block name',
    'session part',
    'part',
    'set',
    'segment',
    'abschnitt',
    'bloque',
    'bloc',
    'partie',
    'serie',
    'série',
  ],
  shotNumber: [
    'shot number',
    'shot no',
    'shot nr',
    'shot',
    'shot id',
    'number',
    'no',
    'nr',
    'num',
    'index',
    'stroke',
    'shots',
    'row',
    'schlag',
    'schlagnummer',
    'schlag nr',
    'golpe',
    'número',
    'número de golpe',
    'coup',
    'n°',
    'numéro',
  ],
}

type Name = { target: ColumnTarget; rank: number }
const byName = new Map<string, Name>()
for (const table of [names, moreNames]) {
  for (const [target, list] of Object.entries(table) as [ColumnTarget, readonly string[]][]) {
    // A name in one of the further languages is as sure as the first of the others.
    list.forEach((name, rank) => {
      const key = squeeze(name)
      if (!byName.has(key)) byName.set(key, { target, rank: table === names ? rank : 0 })
    })
  }
}

/** Which words for a side a column's cells and header may hold. */
export const sideWordsOf: Partial<Readonly<Record<NumberTarget, SideWords>>> = {
  launchDirectionDeg: 'leftRight',
  spinAxisDeg: 'leftRight',
  sideM: 'leftRight',
  spinSideRpm: 'leftRight',
  clubPathDeg: 'path',
  faceDeg: 'face',
  faceToPathDeg: 'face',
  attackDeg: 'upDown',
  launchDeg: 'upDown',
  impactXMm: 'toeHeel',
  impactYMm: 'highLow',
}

/*
 * Words that a header of a speed is put together from, in any order: "Vel. bola", "Geschw. Ball", "Speed of the ball".
 * Where every word of a header is one of these, it is that speed.
 */
const speedParts = {
  speed: ['speed', 'spd', 'velocity', 'vel', 'geschw', 'hastighe', 'velocit', 'velocid', 'vitesse', 'vit', 'snelheid', 'nopeus', 'v0'],
  ball: ['ball', 'bola', 'pelota', 'balle', 'boll', 'bold', 'palla', 'pallina', 'bal', 'pallo'],
  club: ['club', 'clubhead', 'head', 'schlager', 'schlagerkopf', 'kopf', 'palo', 'tete', 'klubb', 'kolle', 'bastone', 'mazza', 'taco', 'swing', 'schwung', 'maila'],
  filler: ['of', 'the', 'de', 'del', 'della', 'la', 'le', 'du', 'der', 'des', 'da', 'do', 'at', 'impact', 'van', 'av'],
} as const // prettier-ignore

/** The words of a header: parted by spaces, dots, dashes, underscores, or by a capital within ("BallSpeed"). */
const wordsOf = (plain: string): string[] =>
  bare(plain.replace(/([a-z])([A-Z])/g, '$1 $2').replace(/[\s._-]+/g, '|'))
    .split('|')
    .filter(Boolean)

const speedByParts = (plain: string): Name | undefined => {
  const kinds = wordsOf(plain).map((word) =>
    speedParts.speed.some((s) => word === s || (s.length >= 5 && word.startsWith(s)))
      ? 'speed'
      : (speedParts.ball as readonly string[]).includes(word)
        ? 'ball'
        : (speedParts.club as readonly string[]).includes(word)
          ? 'club'
          : (speedParts.filler as readonly string[]).includes(word)
            ? 'filler'
            : null,
  )
  if (kinds.includes(null) || kinds.filter((k) => k === 'speed').length !== 1) return undefined
  const [isBall, isClub] = [kinds.includes('ball'), kinds.includes('club')]
  return isBall === isClub ? undefined : { target: isBall ? 'ballSpeedMps' : 'clubSpeedMps', rank: 1000 }
}

/*
 * The same for how far and how far aside: "Carry Flat - Length", "Est. total distance", "Carry - Side". A word that names
 * another quantity (height, angle, time) is none of these.
 */
const lengthParts = {
  carry: ['carry'],
  total: ['total'],
  side: ['side', 'lateral', 'offline', 'deviation', 'seite', 'abweichung', 'lado', 'cote', 'ecart'],
  height: ['height', 'apex', 'peak'],
  filler: ['length', 'distance', 'dist', 'max', 'maximum', 'flat', 'actual', 'est', 'estimated', 'calc', 'calculated', 'measured', 'lange', 'distanz', 'weite', 'distancia', 'longueur', 'longitud'],
} as const // prettier-ignore

const lengthByParts = (plain: string): Name | undefined => {
  const words = wordsOf(plain).map(squeeze).filter(Boolean)
  const kinds = words.map(
    (word) =>
      Object.entries(lengthParts).find(([, known]) => (known as readonly string[]).includes(word))?.[0],
  )
  if (kinds.includes(undefined)) return undefined
  const [isCarry, isTotal] = [kinds.includes('carry'), kinds.includes('total')]
  if (kinds.includes('height')) {
    return isCarry || isTotal || kinds.includes('side') ? undefined : { target: 'apexM', rank: 1000 }
  }
  if (isCarry === isTotal) return undefined
  if (kinds.includes('side')) return { target: 'sideM', rank: isCarry ? 1000 : 1001 }
  return { target: isCarry ? 'carryM' : 'totalM', rank: 1000 }
}

/** The beginning of a name, spaces and all, that is this stem without them. */
const asWritten = (plain: string, stem: string): string => {
  let end = plain.length
  while (end > 0 && squeeze(plain.slice(0, end)) !== squeeze(stem)) end--
  return end === 0 ? stem : plain.slice(0, end)
}

function squeeze(text: string): string {
  return bare(text)
    .replace(/ß/g, 'ss')
    .replace(/[^\p{L}\p{N}]/gu, '')
}

/** What a header says. */
export type HeaderReading = {
  readonly target: ColumnTarget | null
  /** Our name of the unit stated in the header, or null. */
  readonly unit: string | null
  /** How far down its target's list of names this one stands; the lower, the surer. */
  readonly rank: number
  /** The header says that the sign runs the other way than in model/shot.ts: "Side (+ = left)". */
  readonly isOtherSign?: boolean
}

const unknown: HeaderReading = { target: null, unit: null, rank: Number.POSITIVE_INFINITY }

const longestName = 120

/**
 * What a header says: `Club Speed (mph)`, `Ball speed [km/h]`, `Carry yds`, `ClubSpeedMph`, `BallSpeed_ms`,
 * `Carry, m`. A unit counts only if it fits the quantity (so `Impact in` is not inches of nothing).
 */
export const readHeader = (header: string): HeaderReading => {
  // No column's name is longer; what is, is cut, so that odd files take no longer than others.
  const trimmed = header
    .trim()
    .replace(/^#\s*(?=\p{L})/u, '')
    .slice(0, longestName)
  if (trimmed === '#' || trimmed === 'Nr.' || trimmed === 'Nº') {
    return { target: 'shotNumber', unit: null, rank: 0 }
  }

  const brackets = [...trimmed.matchAll(/[([{]([^)\]}]*)[)\]}]/g)].map((m) => m[1]!.trim())
  const plain = trimmed.replace(/[([{][^)\]}]*[)\]}]/g, ' ').trim()
  const found = byName.get(squeeze(plain)) ?? speedByParts(plain) ?? lengthByParts(plain)
  if (found) {
    const named = withUnit(found, brackets)
    if (named.unit !== null) return named
    // A name may end in its unit and be listed with it: "Offline Yards".
    const ended = unitAtEnd(plain, brackets)
    return ended.target === found.target ? ended : named
  }

  // A bracket that is part of the name: "Launch Angle (Vertical)", "Launch (horizontal) [deg]".
  for (const inside of brackets) {
    const joined = byName.get(squeeze(`${plain} ${inside}`))
    if (joined) {
      return withUnit(
        joined,
        brackets.filter((b) => b !== inside),
      )
    }
  }
  return brackets.length > 0 && plain === '' ? unknown : unitAtEnd(plain, brackets)
}

const withUnit = (name: Name, brackets: readonly string[]): HeaderReading => {
  if (!isNumberTarget(name.target)) {
    // "Time (s)" is no time of day.
    const isDuration = name.target === 'time' && brackets.some((b) => readUnit(b, 'time') !== null)
    return isDuration ? unknown : { ...name, unit: null }
  }
  const dimension = dimensionOf[name.target]
  const sideWords = sideWordsOf[name.target]
  const isOtherSign =
    sideWords !== undefined &&
    sideWords !== 'none' &&
    brackets.some((b) => signConvention(b, sideWords) === -1)
  for (const bracket of brackets) {
    for (const piece of [bracket, ...bracket.split(/[,;:]|\s+-\s+|\s/)]) {
      const unit = readUnit(piece, dimension)
      if (unit !== null) return { ...name, unit, isOtherSign }
    }
  }
  return { ...name, unit: null, isOtherSign }
}

const unitAtEnd = (plain: string, brackets: readonly string[]): HeaderReading => {
  // The unit may hide in the name's end; keep "/" and "°" until it is taken off.
  const spelled = bare(plain)
    .replace(/[-–—,;:|]/g, '')
    .replace(/ß/g, 'ss')
  let best: HeaderReading = unknown
  for (const dimension of ['speed', 'length', 'faceLength', 'angle', 'spin', 'time', 'ratio'] as const) {
    for (const { spelling, name } of unitSpellings(dimension)) {
      if (!spelled.endsWith(spelling) || spelled.length === spelling.length) continue
      const rest = spelled.slice(0, spelled.length - spelling.length)
      for (const stem of [rest, rest.replace(/in$/, '')]) {
        const found =
          byName.get(squeeze(stem)) ??
          (dimension === 'speed' ? speedByParts(asWritten(plain, stem)) : undefined)
        if (!found || !isNumberTarget(found.target) || dimensionOf[found.target] !== dimension) continue
        if (found.rank < best.rank) best = { ...withUnit(found, brackets), unit: name }
      }
    }
  }
  return best
}
