/**
 * Rows of measurements as plain text in columns.
 * @param {{name: string, value: number, unit: string, aim?: string | number, note?: string}[]} rows
 */
export function benchTable(rows) {
  const head = ['what', 'measured', 'unit', 'aim', 'note']
  const cells = rows.map((row) => [
    row.name,
    shortNumber(row.value),
    row.unit,
    String(row.aim ?? ''),
    row.note ?? '',
  ])
  const widths = head.map((title, column) =>
    Math.max(title.length, ...cells.map((row) => row[column].length)),
  )
  const line = (row) =>
    row
      .map((cell, column) => (column === 1 ? cell.padStart(widths[column]) : cell.padEnd(widths[column])))
      .join('  ')
      .trimEnd()
  return [line(head), line(widths.map((width) => '-'.repeat(width))), ...cells.map(line)].join('\n')
}

/** Three significant digits, and never fewer than the whole number. */
function shortNumber(value) {
  if (!Number.isFinite(value)) return String(value)
  return Math.abs(value) >= 100 ? String(Math.round(value)) : String(Number(value.toPrecision(3)))
}
