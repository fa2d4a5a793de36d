import { isMissing, readNumber, sideOf, type SideWords } from './read-number.ts'
import { bare } from './unit.ts'

/** Words for neither side. */
const middleWords = new Set([
  'c',
  's',
  'center',
  'centre',
  'straight',
  'mitte',
  'gerade',
  'centro',
  'recto',
  'droit',
  '0',
  'm',
])

/** The sign in a cell of a direction column: 1, -1, 0 for straight, null for empty or anything else. */
export const directionOf = (
  cell: string,
  sideWords: SideWords,
  playingSide: 'right' | 'left' | null,
  isItalian = false,
): 1 | -1 | 0 | 'needsPlayingSide' | null => {
  const sign = sideOf(cell.trim(), { sideWords, playingSide, isItalian })
  return sign ?? (middleWords.has(bare(cell)) ? 0 : null)
}

/** Whether "S" in these cells is sinistra, the left: "D" stands beside it, and no letter for left of another language. */
export const saysSinistra = (cells: readonly string[]): boolean => {
  const letters = new Set(cells.map((c) => bare(c).replace(/[^\p{L}]/gu, '')))
  return letters.has('s') && letters.has('d') && !['l', 'g', 'i', 'r'].some((l) => letters.has(l))
}

/** Names of a column of sides that does not stand right beside its number. */
const directionName =
  /^(?:l\W?r|r\W?l|dir\w*|direction l\W?r|side l\W?r|left\W*right|seite|sens|riktning|richtung|lado|lato|kant|左右)$/iu

/** A row that lost a cell puts another column's cell there: not all need to be words for a side. */
const shareOfSides = 0.75

/**
 * Columns that hold nothing but the side of the number beside them ("12.3" and "L"): for each number column that can
 * have a side and has no sign of its own, the column to its right, else to its left, else one near it whose name says
 * so, if its cells are words for a side.
 *
 * @returns number column → direction column, by index.
 */
export const directionColumns = (
  rows: readonly { readonly cells: readonly string[] }[],
  columns: readonly { index: number; sideWords: SideWords }[],
  all: readonly { header: string; isKnown: boolean }[],
): Map<number, number> => {
  const cellsOf = (index: number) => rows.map((r) => r.cells[index] ?? '').filter((c) => !isMissing(c))
  const found = new Map<number, number>()
  const used = new Set<number>()
  // The nearest first, so that a column further off does not take what stands right beside another.
  for (const step of [1, -1, 2, 3, -2]) {
    for (const { index, sideWords } of columns) {
      const beside = index + step
      const column = all[beside]
      if (sideWords === 'none' || !column || used.has(beside) || found.has(index)) continue
      const isNear = Math.abs(step) === 1
      const saysSides = column.header.startsWith('column ') || directionName.test(column.header.trim())
      if (!isNear && (column.isKnown || !saysSides)) continue
      const own = cellsOf(index)
      const value = (cell: string) => readNumber(cell, '.') ?? readNumber(cell, ',')
      const negatives = own.filter((cell) => /^\s*[-−–]\s*\d/.test(cell) || (value(cell) ?? 0) < 0)
      const most = isNear ? 0.1 * own.length : 0
      if (negatives.length > most || !own.some((cell) => /\d/.test(cell))) continue
      const cells = cellsOf(beside)
      const isItalian = saysSinistra(cells)
      const sides = cells.filter((cell) => directionOf(cell, sideWords, 'right', isItalian) !== null)
      const hasWord = cells.some(
        (cell) => sideOf(cell.trim(), { sideWords, playingSide: 'right', isItalian }) !== null,
      )
      if (hasWord && sides.length >= shareOfSides * cells.length) {
        found.set(index, beside)
        used.add(beside)
      }
    }
  }
  return found
}
