import { median } from '../statistics/median.ts'

/** What a column usually holds: a number of some size, or a kind of text. */
type ColumnHabit =
  | { kind: 'number'; middle: number; spread: number; share: number }
  | { kind: 'text'; share: number }
  | { kind: 'empty' }

/** A row as it is judged for a lost cell. */
export type LostCellRow = {
  /** Cells as read: a number, a text (anything that is no number), or null where empty. */
  readonly cells: readonly (number | string | null)[]
}

/** A cell that is this far off its column, in spreads, is as good as any other that is: mishits are no lost cells. */
const farthest = 8
/** Scatter that every column is granted: a tenth of its middle. */
const leastSpread = 0.1

const habitOf = (values: readonly (number | string | null)[]): ColumnHabit => {
  const filled = values.filter((v) => v !== null)
  if (filled.length * 2 < values.length || filled.length < 3) return { kind: 'empty' }
  const numbers = filled.filter((v) => typeof v === 'number')
  const share = filled.length / values.length
  if (numbers.length * 2 < filled.length) return { kind: 'text', share }
  const middle = median(numbers)
  const spread = 1.4826 * median(numbers.map((n) => Math.abs(n - middle)))
  return { kind: 'number', middle, spread: Math.max(spread, leastSpread * Math.abs(middle), 0.5), share }
}

const misfit = (value: number | string | null, habit: ColumnHabit): number => {
  if (habit.kind === 'empty') return 0
  if (value === null) return habit.share > 0.8 ? 2 : 0.5
  if (habit.kind === 'text') return typeof value === 'string' ? 0 : farthest
  if (typeof value === 'string') return farthest
  return Math.min(farthest, Math.max(0, Math.abs(value - habit.middle) / habit.spread - 1))
}

/**
 * Finds rows in which a cell was lost, so that every value behind it stands one column too far to the left: their last
 * cell is empty although that of the others is not, and with one cell put in somewhere the row fits its columns clearly
 * better than as it stands.
 *
 * @returns for each row true if its values can't be told apart.
 */
export const rowsWithLostCell = (rows: readonly LostCellRow[], width: number): boolean[] => {
  const widthOf = ({ cells }: LostCellRow) => cells.findLastIndex((c) => c !== null) + 1
  const counts = new Map<number, number>()
  for (const row of rows) counts.set(widthOf(row), (counts.get(widthOf(row)) ?? 0) + 1)
  const usual = [...counts].sort((a, b) => b[1] - a[1] || b[0] - a[0])[0]?.[0] ?? width
  const habits = Array.from({ length: width }, (_, c) => habitOf(rows.map((r) => r.cells[c] ?? null)))
  return rows.map((row) => {
    const own = widthOf(row)
    if (own >= usual || rows.length < 3) return false
    const fit = (cells: readonly (number | string | null)[]) =>
      habits.reduce((sum, habit, c) => sum + misfit(cells[c] ?? null, habit), 0)
    const asIs = fit(row.cells)
    for (let lost = usual - own; lost >= 1; lost--) {
      for (let at = 0; at < own; at++) {
        const shifted = [
          ...row.cells.slice(0, at),
          ...new Array<null>(lost).fill(null),
          ...row.cells.slice(at, own),
        ]
        if (fit(shifted) + 2 < asIs) return true
      }
    }
    return false
  })
}
