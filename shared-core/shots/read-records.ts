import Papa from 'papaparse'

/** What parts cells. */
export const delimiters = [',', ';', '\t', '|'] as const
export type Delimiter = (typeof delimiters)[number]

/** A record of the file. */
export type TableRecord = {
  /** 1-based line of the file where the record starts. */
  readonly line: number
  readonly cells: readonly string[]
  /** An empty line, or one of empty cells, stands before it. */
  readonly isAfterEmptyLine?: boolean
}

const parse = (text: string, delimiter: string) =>
  Papa.parse<string[]>(text, {
    delimiter,
    newline: '\n',
    header: false,
    skipEmptyLines: false,
    dynamicTyping: false,
  })

/** Spreadsheets mark text by a leading apostrophe or write it as a formula, ="93.1"; neither belongs to the value. */
const plainCell = (cell: string): string =>
  cell
    .replace(/^\s*=\s*"([^"]*)"\s*$/, '$1')
    // A space before the quotation mark keeps the usual reader from seeing it as one.
    .replace(/^\s+"([^"]*)"\s*$/, '$1')
    .replace(/^\s*['‘’`´](?=[\p{L}\p{N}+\-.,−])/u, '')
    // Full-width letters, digits and signs of East Asian programs.
    .replace(/[\uff01-\uff5e]/g, (c) => String.fromCharCode(c.charCodeAt(0) - 0xfee0))

const isBroken = (errors: readonly Papa.ParseError[]) => errors.some((e) => e.type === 'Quotes')

/**
 * Text cut into records and cells. A quotation mark that never closes would swallow the rest of the file; then
 * the lines are read one by one and only the broken ones are lost.
 *
 * @returns records (empty lines left out) and the lines that could not be read.
 */
export const readRecords = (
  text: string,
  delimiter: Delimiter,
): { records: TableRecord[]; brokenLines: number[] } => {
  const clean = text.replace(/^\ufeff/, '').replace(/\r\n?/g, '\n')
  const whole = parse(clean, delimiter)
  if (!isBroken(whole.errors)) {
    let line = 1
    const records: TableRecord[] = []
    for (const cells of whole.data) {
      records.push({ line, cells: cells.map(plainCell) })
      line += 1 + cells.reduce((n, cell) => n + newlines(cell), 0)
    }
    return { records: filledOnes(records), brokenLines: [] }
  }
  return readLineByLine(clean.split('\n'), delimiter)
}

const newlines = (cell: string) => (cell.includes('\n') ? cell.split('\n').length - 1 : 0)
const isFilled = (record: TableRecord) => record.cells.some((cell) => cell.trim() !== '')

const filledOnes = (records: readonly TableRecord[]): TableRecord[] =>
  records.flatMap((record, i) => {
    if (!isFilled(record)) return []
    const before = records[i - 1]
    return before && !isFilled(before) ? [{ ...record, isAfterEmptyLine: true }] : [record]
  })

/** How many lines a quoted cell may run over once the file is known to hold a broken quotation mark. */
const longestQuotedCell = 5

const readLineByLine = (lines: readonly string[], delimiter: Delimiter) => {
  const records: TableRecord[] = []
  const brokenLines: number[] = []
  let width: number | null = null
  for (let i = 0; i < lines.length;) {
    if (lines[i]!.trim() === '') {
      records.push({ line: i + 1, cells: [] })
      i++
      continue
    }
    let used = 0
    for (let count = 1; count <= longestQuotedCell && i + count <= lines.length; count++) {
      const result = parse(lines.slice(i, i + count).join('\n'), delimiter)
      if (isBroken(result.errors) || result.data.length !== 1) continue
      const cells = result.data[0]!
      if (count > 1 && width !== null && cells.length !== width) continue
      if (cells.length > 2) width = cells.length
      records.push({ line: i + 1, cells: cells.map(plainCell) })
      used = count
      break
    }
    if (used === 0) brokenLines.push(i + 1)
    i += Math.max(1, used)
  }
  return { records: filledOnes(records), brokenLines }
}
