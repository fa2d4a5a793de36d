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
): 1 | -1 | 0 | 'needsPlayingSide' | null => {
  const sign = sideOf(cell.trim(), { sideWords, playingSide })
  return sign ?? (middleWords.has(bare(cell)) ? 0 : null)
}

/**
 * Columns that hold nothing but the side of the number beside them ("12.3" and "L"): for each number column that can
 * have a side and has no sign of its own, the column to its right, else to its left, if all its cells are words for a side.
 *
 * @returns number column → direction column, by index.
 */
export const directionColumns = (
  rows: readonly { readonly cells: readonly string[] }[],
  columns: readonly { index: number; sideWords: SideWords }[],
  width: number,
): Map<number, number> => {
  const cellsOf = (index: number) => rows.map((r) => r.cells[index] ?? '').filter((c) => !isMissing(c))
  const found = new Map<number, number>()
  const used = new Set<number>()
  for (const { index, sideWords } of columns) {
    if (sideWords === 'none') continue
    const own = cellsOf(index)
    const value = (cell: string) => readNumber(cell, '.') ?? readNumber(cell, ',')
    const hasOwnSign = own.some((cell) => /^\s*[-−–]\s*\d/.test(cell) || (value(cell) ?? 0) < 0)
    if (own.length === 0 || hasOwnSign || !own.some((cell) => /\d/.test(cell))) continue
    for (const beside of [index + 1, index - 1]) {
      if (beside < 0 || beside >= width || used.has(beside)) continue
      const cells = cellsOf(beside)
      const isSide = (cell: string) => directionOf(cell, sideWords, 'right') !== null
      const hasWord = cells.some((cell) => sideOf(cell.trim(), { sideWords, playingSide: 'right' }) !== null)
      if (hasWord && cells.every(isSide)) {
        found.set(index, beside)
        used.add(beside)
        break
      }
    }
  }
  return found
}
