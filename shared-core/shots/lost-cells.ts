import { median } from '../statistics/median.ts'

/** What a column usually holds: a number of some size, or a kind of text; and how its cells are written. */
type ColumnHabit = {
  kind: 'number' | 'text' | 'empty'
  middle: number
  spread: number
  /** How many of the rows have it. */
  share: number
  /** Ways of writing and their shares among the filled cells: with words or not, digits behind the mark. */
  shapes: ReadonlyMap<string, number>
}

/** A row as it is judged for a lost cell. */
export type LostCellRow = {
  readonly cells: readonly string[]
  /** Which rows are compared with each other: those with one club. */
  readonly group: string | null
}

/** Reads a cell as what the column holds: a number, a text (anything that is no number), or null where empty. */
export type ReadCellAs = (cell: string, column: number) => number | string | null

/** A column nobody knows tells only whether it holds words or numbers, and less. */
const unknownMisfit = 4

/** A cell that is this far off its column, in spreads, is as good as any other that is: mishits are no lost cells. */
const farthest = 8
/** Scatter that every column is granted: a tenth of its middle. */
const minSpread = 0.1
/** Rows of one club that are enough to tell what is usual. */
const enoughRows = 5

const shapeOf = (cell: string): string => {
  const number = /\d(?:[\d\s'’.,]*\d)?/.exec(cell)?.[0] ?? ''
  const behind = /[.,](\d+)$/.exec(number)?.[1]?.length ?? 0
  return `${/[\p{L}°]/u.test(cell) ? 'words ' : ''}${number === '' ? 'none' : behind}`
}

const habitOf = (cells: readonly string[], read: (cell: string) => number | string | null): ColumnHabit => {
  const values = cells.map(read)
  const filled = values.filter((v) => v !== null)
  const none = { middle: 0, spread: 0, share: 0, shapes: new Map<string, number>() }
  if (filled.length * 2 < values.length || filled.length < 2) return { kind: 'empty', ...none }
  const shapes = new Map<string, number>()
  cells.forEach((cell, i) => {
    if (values[i] !== null) shapes.set(shapeOf(cell), (shapes.get(shapeOf(cell)) ?? 0) + 1 / filled.length)
  })
  const numbers = filled.filter((v) => typeof v === 'number')
  const share = filled.length / values.length
  if (numbers.length * 2 < filled.length) return { ...none, kind: 'text', share }
  const middle = median(numbers)!
  const spread = 1.4826 * median(numbers.map((n) => Math.abs(n - middle)))!
  return {
    kind: 'number',
    middle,
    spread: Math.max(spread, minSpread * Math.abs(middle), 0.5),
    share,
    shapes,
  }
}

/** How badly a cell fits a column; a value that is written as none of the others is odd, whatever its size. */
const misfit = (
  cell: string,
  value: number | string | null,
  habit: ColumnHabit,
  isKnown: boolean,
): number => {
  if (habit.kind === 'empty') return 0
  if (!isKnown) {
    return value === null ? 0 : (typeof value === 'string') === (habit.kind === 'text') ? 0 : unknownMisfit
  }
  if (value === null) return habit.share > 0.8 ? 2 : 0.5
  if (habit.kind === 'text') return typeof value === 'string' ? 0 : farthest
  if (typeof value === 'string') return farthest
  const shape = habit.shapes.get(shapeOf(cell)) ?? 0
  const size = Math.min(farthest, Math.max(0, Math.abs(value - habit.middle) / habit.spread - 1))
  return size + (shape < 0.07 ? 2.5 : shape < 0.2 ? 1 : 0)
}

/** One odd value or odd way of writing is a mishit, not a lost cell. */
const isClearlyBetter = (moved: number, asIs: number): boolean => moved + 3 < asIs && moved * 2 < asIs

/**
 * `lost`: the values stand in the wrong columns; `unsure`: either that, or just the last cell is empty; `long`: either
 * that, or a number stands where no other line has anything.
 */
export type LostCell = 'lost' | 'unsure' | 'long' | null

/**
 * Finds rows in which a cell was lost, so that every value behind it stands one column too far to the left: their last
 * cell is empty although that of the others is not, and with one cell put in somewhere the row fits its columns clearly
 * better than as it stands. A row that is cut shorter than all others is lost also where both fit. So are rows with a
 * cell more than the others that fit better without one.
 */
export const rowsWithLostCell = (
  rows: readonly LostCellRow[],
  /** For each column whether it is understood. */
  known: readonly boolean[],
  read: ReadCellAs,
): LostCell[] => {
  const width = known.length
  // Each row is tried with a cell put in at every place, so the same cells are read over and over.
  const memo = new Map<string, number | string | null>()
  const value = (cell: string | undefined, column: number) => {
    if (cell === undefined) return null
    const key = `${column} ${cell}`
    const known = memo.get(key)
    if (known !== undefined) return known
    const found = read(cell, column)
    memo.set(key, found)
    return found
  }
  const widthOf = ({ cells }: LostCellRow) =>
    cells.findLastIndex((c, i) => value(c, Math.min(i, width - 1)) !== null) + 1
  // Empty ones can't be told anything of, and tell nothing.
  const filled = rows.filter((r) => r.cells.length > 0)
  const own = rows.map(widthOf)
  const mostCommon = (numbers: readonly number[]) => {
    const counts = new Map<number, number>()
    for (const n of numbers) counts.set(n, (counts.get(n) ?? 0) + 1)
    return [...counts].sort((a, b) => b[1] - a[1] || b[0] - a[0])[0] ?? [width, 0]
  }
  const [usual, howMany] = mostCommon(own.filter((w) => w > 0))
  const [usualLength, howOften] = mostCommon(filled.map((r) => r.cells.length))
  const isLong = (i: number) => own[i]! > usual || rows[i]!.cells.length > usualLength
  const odd = own.flatMap((w, i) => (w === 0 || (w === usual && !isLong(i)) ? [] : [i]))
  if (filled.length < 3) return rows.map(() => null)

  const habits = new Map<string | null, ColumnHabit[]>()
  const habitsOf = (group: string | null): ColumnHabit[] => {
    const alike = filled.filter((r) => r.group === group)
    const key = alike.length >= enoughRows ? group : ''
    const known = habits.get(key)
    if (known) return known
    const from = key === '' ? filled : alike
    const made = Array.from({ length: width }, (_, c) =>
      habitOf(
        from.map((r) => r.cells[c] ?? ''),
        (cell) => value(cell, c),
      ),
    )
    habits.set(key, made)
    return made
  }
  const counts = new Map<number, number>()
  const filledIn = (column: number): number => {
    const known = counts.get(column)
    if (known !== undefined) return known
    const count = filled.filter((r) => value(r.cells[column], column) !== null).length
    counts.set(column, count)
    return count
  }
  const found: LostCell[] = rows.map(() => null)
  for (const i of odd) {
    const row = rows[i]!
    const columns = habitsOf(row.group)
    const fit = (cells: readonly string[]) =>
      columns.reduce((sum, habit, c) => sum + misfit(cells[c] ?? '', value(cells[c], c), habit, known[c]!), 0)
    const asIs = fit(row.cells)
    let best = Number.POSITIVE_INFINITY
    if (isLong(i)) {
      // One cell too many: without one of them the row fits.
      for (let at = 0; at < own[i]!; at++) best = Math.min(best, fit(row.cells.filter((_, c) => c !== at)))
      const last = own[i]! - 1
      const isLoneNumber =
        !known[last] && typeof value(row.cells[last], last) === 'number' && filledIn(last) === 1
      if (isClearlyBetter(best, asIs)) found[i] = 'lost'
      else if (isLoneNumber) found[i] = 'long'
      continue
    }
    for (let lost = usual - own[i]!; lost >= 1; lost--) {
      for (let at = 0; at < own[i]!; at++) {
        const gap = new Array<string>(lost).fill('')
        best = Math.min(best, fit([...row.cells.slice(0, at), ...gap, ...row.cells.slice(at, own[i]!)]))
      }
    }
    const isCutShort = row.cells.length < usualLength && howOften * 2 > filled.length
    const isLastUsual = howMany >= 0.8 * filled.length
    if (isClearlyBetter(best, asIs) || (isCutShort && best <= asIs + 1)) found[i] = 'lost'
    else if ((isLastUsual && best <= asIs + 1) || best + 1.5 < asIs) found[i] = 'unsure'
  }
  for (const i of onlyEmptyEnd(rows)) found[i] ??= 'unsure'
  return found
}

/** The one line that ends in an empty cell where all others write a value there, or a word for what is missing. */
const onlyEmptyEnd = (rows: readonly LostCellRow[]): number[] => {
  const filled = rows.flatMap(({ cells }, i) =>
    cells.length > 0 ? [{ i, width: cells.findLastIndex((c) => c.trim() !== '') + 1 }] : [],
  )
  const most = Math.max(...filled.map((r) => r.width))
  const shorter = filled.filter((r) => r.width < most)
  return filled.length >= enoughRows && shorter.length === 1 && shorter[0]!.width === most - 1
    ? [shorter[0]!.i]
    : []
}
