import { readHeader } from './column-names.ts'

/**
 * One header from two rows: "Ball, , Club" over "Speed, Launch Angle, Speed". A cell of the upper row reaches over the
 * empty ones to its right, as joined cells of a spreadsheet do. Null where the upper row is no row of names; one name
 * alone is one, if the lower row needs it: "Ball" over "Speed".
 */
export const joinHeaderRows = (upper: readonly string[], lower: readonly string[]): string[] | null => {
  const named = upper.filter((cell) => cell.trim() !== '')
  if (named.length < 1 || named.some((cell) => /^[+-]?\d/.test(cell.trim()))) return null
  if (named.length === 1 && !isNeeded(named[0]!, lower)) return null
  let over = ''
  return lower.map((cell, i) => {
    over = (upper[i] ?? '').trim() || over
    const own = cell.trim()
    const joined = `${over} ${own}`.trim()
    if (own === '') return (upper[i] ?? '').trim()
    if (readHeader(joined).target !== null) return joined
    // What reaches over from the left says nothing about a name that nobody knows.
    return readHeader(own).target === null && (upper[i] ?? '').trim() !== '' ? joined : own
  })
}

/** Whether a name above gives a meaning to one below that has none without it. */
const isNeeded = (over: string, lower: readonly string[]): boolean =>
  lower.some(
    (cell) =>
      cell.trim() !== '' &&
      readHeader(cell).target === null &&
      readHeader(`${over.trim()} ${cell.trim()}`).target !== null,
  )
