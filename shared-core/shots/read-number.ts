import { bare, readUnit, type Dimension } from './unit.ts'
import { said } from '../wording/phrase.ts'

/** What parts whole from broken. */
export type DecimalMark = '.' | ','

const missingWords = new Set([
  '',
  '-',
  '--',
  '---',
  '–',
  '—',
  '?',
  'na',
  'n/a',
  '#n/a',
  'nan',
  'null',
  'none',
  'nil',
  'k.a',
  'ka',
  's/d',
  'n.d',
  'nd',
  'n.v',
  'nv',
  '∞',
  'inf',
  '*',
  'x',
  '??',
  '???',
  '…',
  '#wert!',
  '#value!',
  '#div/0!',
  '#ref!',
  'err',
  'error',
  'noread',
  'misread',
])

/** True for an empty cell and for the words devices write where they measured nothing. */
export const isMissing = (text: string): boolean => missingWords.has(bare(text))

const plainSigns = (text: string): string =>
  text
    .replace(/[\u00a0\u2007\u2009\u202f]/g, ' ')
    .replace(/[\u2212\u2010\u2011\u2013\uff0d]/g, '-')
    .trim()

const patternsFor = (mark: DecimalMark) => {
  const d = mark === '.' ? '\\.' : ','
  const group = mark === '.' ? ',' : '\\.'
  return {
    plain: new RegExp(`^[+-]?(?:\\d+(?:${d}\\d*)?|${d}\\d+)(?:[eE][+-]?\\d+)?$`),
    grouped: new RegExp(`^[+-]?\\d{1,3}(?:(?:${group}\\d{3})+|(?:[ ]\\d{3})+|(?:['’]\\d{3})+)(?:${d}\\d*)?$`),
  }
}
const patterns = { '.': patternsFor('.'), ',': patternsFor(',') }

/**
 * A number written with the given decimal mark, thousands grouped by the other mark, a space or an
 * apostrophe; null if it is written any other way (so that `93,1` is never silently 931).
 */
export const readNumber = (text: string, mark: DecimalMark): number | null => {
  const cell = plainSigns(text).replace(/^([+-])\s+/, '$1')
  const { plain, grouped } = patterns[mark]
  if (!plain.test(cell) && !grouped.test(cell)) return null
  const digits = cell.replace(mark === '.' ? /[, '’]/g : /[. '’]/g, '').replace(',', '.')
  const value = Number(digits)
  return Number.isFinite(value) ? value : null
}

/** Words for a side; which apply depends on what the column holds. */
export type SideWords = 'leftRight' | 'upDown' | 'toeHeel' | 'highLow' | 'path' | 'face' | 'none'

const words: Readonly<
  Record<Exclude<SideWords, 'none'>, { plus: readonly string[]; minus: readonly string[] }>
> = {
  leftRight: {
    plus: [
      ...['r', 'right', 'rechts', 're', 'd', 'der', 'derecha', 'droite', 'dx', 'destra', 'dir', 'direita'],
      ...['h', 'höger', 'højre', 'høyre', '右', '우', '→', '>'],
    ],
    minus: [
      ...[
        'l',
        'left',
        'links',
        'li',
        'i',
        'izq',
        'izquierda',
        'g',
        'gauche',
        'sx',
        'sin',
        'sinistra',
        'esq',
        'esquerda',
      ],
      ...['v', 'vänster', 'venstre', '左', '좌', '←', '<'],
    ],
  },
  upDown: { plus: ['up', 'u', 'auf', 'ascendente'], minus: ['down', 'd', 'dn', 'ab', 'descendente'] },
  toeHeel: {
    plus: ['t', 'toe', 'spitze', 'punta', 'pointe'],
    minus: ['h', 'heel', 'ferse', 'talón', 'talon'],
  },
  highLow: { plus: ['h', 'high', 'up', 'hoch'], minus: ['l', 'low', 'down', 'tief'] },
  path: {
    plus: ['in-out', 'in-to-out', 'i-o', 'inout', 'io', 'intoout', 'inside-out'],
    minus: ['out-in', 'out-to-in', 'o-i', 'outin', 'oi', 'outtoin', 'outside-in'],
  },
  face: { plus: ['o', 'open', 'offen'], minus: ['c', 'closed', 'close', 'geschlossen'] },
}

/** What a cell of numbers says. */
export type CellReading =
  { kind: 'missing' } | { kind: 'bad'; why: string } | { kind: 'value'; value: number; unit: string | null }

/** What is known of the cell’s column. */
export type CellContext = {
  readonly mark: DecimalMark
  readonly dimension: Dimension
  readonly sideWords: SideWords
  /** Playing side; needed only for words like "in-out" and "open", whose direction depends on it. */
  readonly playingSide: 'right' | 'left' | null
  /** The column's own word says that a sign runs the other way: left is plus. */
  readonly isOtherSign?: boolean
  /** "S" beside "D" is sinistra beside destra, the left; beside "L" and "R" it would be straight. */
  readonly isItalian?: boolean
}

/** No number with its unit and side is longer. */
const longestCell = 200

/**
 * A cell that should hold a number: `93.1`, `93,1`, `93.1 mph`, `3.2 L`, `R 5`, `4L`, `1.2 toe`.
 * Side words give the sign (model/shot.ts: right, up, toe and crown are plus).
 */
export const readCell = (text: string, context: CellContext): CellReading => {
  if (isMissing(text)) return { kind: 'missing' }
  if (text.length > longestCell) {
    return { kind: 'bad', why: said('cell.longNotANumber', { text: text.trim().slice(0, 40) }) }
  }
  const cell = plainSigns(text)
  const turn = (value: number) => (context.isOtherSign && value !== 0 ? -value : value === 0 ? 0 : value)
  const direct = readNumber(cell, context.mark)
  if (direct !== null) return { kind: 'value', value: turn(direct), unit: null }

  const parts = /^([^\d+\-.,]*?)\s*([+-]?\s*(?:\d[\d.,'’ ]*|[.,]\d+))(.*)$/.exec(cell)
  if (!parts) return { kind: 'bad', why: said('cell.notANumber', { text: text.trim() }) }
  const value = readNumber(parts[2]!.trim(), context.mark)
  if (value === null) return { kind: 'bad', why: notANumber(text, parts[2]!, context.mark) }

  let unit: string | null = null
  let sign: 1 | -1 | null = null
  for (const piece of affixes(parts[1]!, parts[3]!, context)) {
    const asSide: ReturnType<typeof sideOf> = sign === null ? sideOf(piece, context) : null
    if (asSide === 'needsPlayingSide') {
      return {
        kind: 'bad',
        why: said('cell.whichSide', { text: text.trim(), side: piece }),
      }
    }
    const asUnit: string | null = unit === null ? readUnit(piece, context.dimension) : null
    if (asSide !== null) sign = asSide
    else if (asUnit !== null) unit = asUnit
    else {
      return { kind: 'bad', why: said('cell.neitherUnitNorSide', { text: text.trim(), rest: piece }) }
    }
  }
  if (sign !== null && value < 0) {
    return { kind: 'bad', why: said('cell.minusAndSide', { text: text.trim() }) }
  }
  return { kind: 'value', value: sign === null ? turn(value) : sign * value, unit }
}

const notANumber = (cell: string, number: string, mark: DecimalMark) => {
  const other = mark === '.' ? ',' : '.'
  return number.includes(other)
    ? said('cell.otherMark', { text: cell.trim(), mark })
    : said('cell.notANumber', { text: cell.trim() })
}

/** The words before and after a number; one run of text may hold a unit and a side. */
const affixes = (before: string, after: string, context: CellContext): string[] => {
  const pieces: string[] = []
  for (const run of [before.trim(), after.trim()]) {
    if (run === '') continue
    if (readUnit(run, context.dimension) !== null || sideOf(run, context) !== null) pieces.push(run)
    // A degree sign may stand right beside the side: "8.2 L°", "8.2°L".
    else pieces.push(...run.split(/\s+|(?=[°º])|(?<=[°º])/).filter(Boolean))
  }
  return pieces
}

/** The sign that a word for a side gives in a column of this kind; null if it is no such word. */
export const sideOf = (
  piece: string,
  { sideWords, playingSide, isItalian }: Pick<CellContext, 'sideWords' | 'playingSide' | 'isItalian'>,
): 1 | -1 | 'needsPlayingSide' | null => {
  const spelled = bare(piece).replace(/[()]/g, '')
  if (isItalian && spelled === 's' && sideWords !== 'none') return -1
  const lists: Exclude<SideWords, 'none'>[] =
    sideWords === 'none'
      ? []
      : sideWords === 'path' || sideWords === 'face'
        ? ['leftRight', sideWords]
        : [sideWords]
  for (const list of lists) {
    const sign = words[list].plus.some((w) => bare(w) === spelled)
      ? 1
      : words[list].minus.some((w) => bare(w) === spelled)
        ? -1
        : 0
    if (sign === 0) continue
    // In-to-out and open point right for a right-handed player, left for a left-handed one.
    if (list !== 'path' && list !== 'face') return sign
    return playingSide === null ? 'needsPlayingSide' : playingSide === 'right' ? sign : sign === 1 ? -1 : 1
  }
  return null
}

const signed =
  /(\+|plus|pos\w*|[-−–]|minus|neg\w*)\s*(?:=|:|is)?\s*(\p{L}[\p{L}-]*)|(\p{L}[\p{L}-]*?)\s*(?:=|:|is)?\s*(\+|plus|pos\w*|[-−–](?!\p{L})|minus|neg\w*)/giu

/**
 * What a header says of its signs: 1 where plus is what it is in model/shot.ts ("+ = right"), -1 where it is the other way
 * round ("left +", "- = right"), null where it says nothing.
 */
export const signConvention = (text: string, sideWords: Exclude<SideWords, 'none'>): 1 | -1 | null => {
  for (const match of text.matchAll(signed)) {
    const isPlus = /^(?:\+|plus|pos)/i.test(match[1] ?? match[4]!)
    const word = bare(match[2] ?? match[3]!)
    for (const kind of sideWords === 'path' || sideWords === 'face'
      ? (['leftRight', sideWords] as const)
      : [sideWords]) {
      const isPlusWord = words[kind].plus.some((w) => bare(w) === word)
      if (isPlusWord || words[kind].minus.some((w) => bare(w) === word)) return isPlus === isPlusWord ? 1 : -1
    }
  }
  return null
}

/**
 * The decimal mark that the cells of number columns show. `plausible(cell, value)` helps with cells like `2,450` that can be read
 * both ways.
 *
 * @returns the mark, and `sure: false` when nothing in the cells tells.
 */
export const findDecimalMark = (
  cells: readonly { text: string; plausible: (value: number) => boolean }[],
  delimiter: string,
): { mark: DecimalMark; sure: boolean } => {
  let votesForComma = 0
  let votesForPoint = 0
  for (const { text, plausible } of cells) {
    const number = /\d[\d.,'’ \u00a0\u202f]*\d|[.,]\d+/.exec(text)?.[0]
    if (!number || !/[.,]/.test(number)) continue
    const asPoint = readNumber(number, '.')
    const asComma = readNumber(number, ',')
    if (asPoint !== null && asComma === null) votesForPoint++
    else if (asComma !== null && asPoint === null) votesForComma++
    else if (asPoint !== null && asComma !== null && plausible(asPoint) !== plausible(asComma)) {
      if (plausible(asPoint)) votesForPoint++
      else votesForComma++
    }
  }
  if (votesForComma === votesForPoint) {
    return {
      mark: delimiter === ';' ? ',' : '.',
      sure: votesForComma === 0 && !cells.some((c) => /\d[.,]\d/.test(c.text)),
    }
  }
  return { mark: votesForComma > votesForPoint ? ',' : '.', sure: true }
}
