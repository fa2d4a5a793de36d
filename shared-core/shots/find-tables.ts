import Papa from 'papaparse'
import { Problem } from '../problem.ts'
import type { ColumnTarget } from './column-target.ts'
import { isNumberTarget, readHeader } from './column-names.ts'
import { readHeading } from './group-headings.ts'
import type { ColumnMapping, ReadShotsOptions } from './read-shots-options.ts'
import { delimiters, readRecords, type Delimiter, type TableRecord } from './read-records.ts'
import { joinHeaderRows } from './two-header-rows.ts'
import { bare, isAnyUnit } from './unit.ts'
import { phrase } from '../wording/phrase.ts'

/** One table of a file; most files have one. */
export type Table = {
  delimiter: Delimiter
  header: TableRecord
  /** Rows of the file that are the header: one, or two that were joined. */
  headerRows: readonly TableRecord[]
  /** Rows just above the header, which may name the table's club. */
  above: readonly TableRecord[]
  /** Rows below the header, up to the next table. */
  rows: readonly TableRecord[]
}

/** A header stands within the first lines; title and metadata lines before it are rarely more than a dozen. */
const deepestHeader = 60

/** Lines above a header that may be its title. */
const titleLines = 2

/** What the coach said that a column is; undefined where nothing was said of it. */
export const mappingOf = (header: string, options: ReadShotsOptions): ColumnMapping | undefined => {
  const { mapping } = options
  if (!mapping) return undefined
  const name = header.trim().replace(/\s+/g, ' ')
  return Object.hasOwn(mapping, name) ? mapping[name] : undefined
}

const targetOf = (cell: string, options: ReadShotsOptions): ColumnTarget | null => {
  const mapped = mappingOf(cell, options)
  if (mapped === undefined) return readHeader(cell).target
  if (mapped === 'ignore') return null
  return typeof mapped === 'string' ? mapped : mapped.metric
}

/** How much a row looks like the header: its known names, numbers of the shot counting most. 0 = not a header. */
const headerScore = (cells: readonly string[], options: ReadShotsOptions): number => {
  const seen = new Set<string>()
  let numbers = 0
  for (const cell of cells) {
    if (cell.trim() === '') continue
    const target = targetOf(cell, options)
    if (target === null || seen.has(target)) continue
    seen.add(target)
    if (isNumberTarget(target)) numbers++
  }
  return numbers === 0 ? 0 : numbers * 2 + (seen.size - numbers)
}

const hasNumbers = (record: TableRecord) => record.cells.some((c) => /^[+-]?[.,]?\d/.test(c.trim()))

/** A header as one text, to tell whether two lines are the same header. */
export const headerText = (cells: readonly string[]) =>
  cells
    .map(bare)
    .join('\u0000')
    .replace(/\u0000+$/, '')

/**
 * The tables of a file: where their columns names stand, what belongs to each. Tables may stand below each other, each
 * with its own column names, and beside each other.
 *
 * @returns the tables, the delimiter, and the lines that could not be cut into cells.
 * @throws Problem `shots-no-header`.
 */
export const findTables = (
  text: string,
  options: ReadShotsOptions,
): { tables: Table[]; delimiter: Delimiter; brokenLines: number[] } => {
  const first = findFirst(text, options)
  const { records, brokenLines } = readRecords(text, first.delimiter)
  const tables: Table[] = []
  let current: {
    header: TableRecord
    headerRows: TableRecord[]
    above: TableRecord[]
    rows: TableRecord[]
  } | null = null
  const close = () => {
    if (current) tables.push(...besideEachOther({ ...current, delimiter: first.delimiter }, options))
  }
  // Below the name of a club one known name is a header, too.
  const minScoreAt = (i: number) =>
    records[i]!.line === first.line
      ? 1
      : i > 0 && readHeading(records[i - 1]!.cells)?.club != null
        ? 2
        : Math.max(3, first.score / 3)
  let above: TableRecord[] = []
  records.forEach((record, i) => {
    const header: { record: TableRecord; isJoined: boolean } | null =
      hasNumbers(record) && record.line !== first.line ? null : headerAt(records, i, options, minScoreAt(i))
    const isAgain: boolean =
      header !== null &&
      current !== null &&
      headerText(header.record.cells) === headerText(current.header.cells)
    if (header && !isAgain) {
      let titles: TableRecord[]
      const upper: TableRecord[] = header.isJoined ? [records[i - 1]!] : []
      if (current) {
        const own: TableRecord[] = current.rows
        if (header.isJoined) own.pop()
        // A title just above belongs to the table that begins here.
        let from = own.length
        while (from > 0 && own.length - from < titleLines && readHeading(own[from - 1]!.cells)) from--
        titles = own.splice(from)
      } else {
        if (header.isJoined) above = above.slice(0, -1)
        titles = above.slice(-titleLines)
      }
      close()
      current = { header: header.record, headerRows: [...upper, record], above: titles, rows: [] }
    } else if (current) current.rows.push(record)
    else above.push(record)
  })
  close()
  const firstLine = tables[0]!.header.line
  // Quotation marks in the title lines above the table lose nothing.
  return { tables, delimiter: first.delimiter, brokenLines: brokenLines.filter((l) => l > firstLine) }
}

/** A table of one shot a column is not wider than this many lines. */
const mostNames = 60

/**
 * The text of a table that stands on its side, one shot a column, turned so that each shot is a line; null for any other.
 * Its first column is a better header than any of its lines.
 */
export const turnedText = (text: string, options: ReadShotsOptions): string | null => {
  for (const delimiter of options.delimiter ? [options.delimiter] : delimiters) {
    const { records, brokenLines } = readRecords(text, delimiter)
    if (records.length < 2 || records.length > mostNames || brokenLines.length > 0) continue
    const width = Math.max(...records.map((r) => r.cells.length))
    if (width < 2) continue
    const names = records.map((r) => r.cells[0] ?? '')
    const score = headerScore(names, options)
    const bestRow = Math.max(...records.map((r) => headerScore(r.cells, options)))
    if (score < 4 || score < 2 * bestRow) continue
    const turned = Array.from({ length: width }, (_, c) => records.map((r) => r.cells[c] ?? ''))
    return Papa.unparse(turned, { delimiter, newline: '\n' })
  }
  return null
}

const headerAt = (
  records: readonly TableRecord[],
  i: number,
  options: ReadShotsOptions,
  least: number,
): { record: TableRecord; isJoined: boolean } | null => {
  const own = records[i]!
  const score = headerScore(own.cells, options)
  const cells = i > 0 ? joinedCells(records[i - 1]!, own, options) : null
  const joined = cells ? headerScore(cells, options) : 0
  if (Math.max(score, joined) < least) return null
  return joined > score
    ? { record: { ...own, cells: cells! }, isJoined: true }
    : { record: own, isJoined: false }
}

/** The two rows as one header; null where the upper one is a header of its own or the lower one is none. */
const joinedCells = (upper: TableRecord, lower: TableRecord, options: ReadShotsOptions): string[] | null => {
  const filled = lower.cells.filter((c) => c.trim() !== '')
  if (filled.length < 2 || filled.filter(isAnyUnit).length * 2 > filled.length) return null
  const cells = joinHeaderRows(upper.cells, lower.cells)
  if (cells === null) return null
  return headerScore(upper.cells, options) < headerScore(cells, options) ? cells : null
}

const findFirst = (text: string, options: ReadShotsOptions) => {
  const head = text
    .replace(/^\ufeff/, '')
    .split(/\r\n?|\n/, deepestHeader + 40)
    .join('\n')
  type Found = { delimiter: Delimiter; score: number; line: number; tooLong: number }
  let best: Found | null = null
  for (const delimiter of options.delimiter ? [options.delimiter] : delimiters) {
    const { records } = readRecords(head, delimiter)
    records.slice(0, deepestHeader).forEach((record, i) => {
      const joined = i > 0 ? joinedCells(records[i - 1]!, record, options) : null
      const score = Math.max(headerScore(record.cells, options), joined ? headerScore(joined, options) : 0)
      if (score === 0 || score < (best?.score ?? 0)) return
      // A lone column is the same with any delimiter; the one that cuts its decimal commas apart is the wrong one.
      const tooLong = records.slice(i + 1).filter((r) => r.cells.length > record.cells.length).length
      if (score === best?.score && (record.line !== best.line || tooLong >= best.tooLong)) return
      best = { delimiter, score, line: record.line, tooLong }
    })
  }
  const found = best as Found | null
  if (!found) {
    throw new Problem('shots-no-header', {
      where: phrase('place.firstLines', { count: Math.min(deepestHeader, head.split('\n').length) }),
    })
  }
  return found
}

/**
 * A header whose names begin anew ("Shot, Ball Speed, Carry, , Shot, Ball Speed, Carry") is that of several tables that
 * stand beside each other: they are taken apart. A single name that stands twice is no such thing.
 */
const besideEachOther = (table: Table, options: ReadShotsOptions): Table[] => {
  const cells = table.header.cells.map((c) => bare(c))
  const start = cells.findIndex((c) => c !== '')
  const targets = table.header.cells.map((c) => (c.trim() === '' ? null : targetOf(c, options)))
  const numbersIn = (from: number, to: number) =>
    new Set(targets.slice(from, to).filter((t) => t !== null && isNumberTarget(t)))
  const starts = [start]
  // Where the whole list of names comes again word for word, an empty one in it is no gap.
  const again = cells.flatMap((c, i) => (i > start && c !== '' && c === cells[start] ? [i] : []))
  const isRepeated =
    again.length > 0 &&
    again.every((from, k) => {
      const own = cells
        .slice(from, again[k + 1])
        .join('\u0000')
        .replace(/\u0000+$/, '')
      return (
        own ===
        cells
          .slice(start, again[0])
          .join('\u0000')
          .replace(/\u0000+$/, '')
      )
    }) &&
    cells.slice(start, again[0]).filter((c) => c !== '').length >= 2
  if (isRepeated) starts.push(...again)
  for (let i = start + 1; i < cells.length && !isRepeated; i++) {
    const isAnew = cells[i] !== '' && (cells[i] === cells[start] || cells[i - 1] === '')
    if (!isAnew) continue
    const next = cells.findIndex((c, k) => k > i && (c === cells[i] || (c !== '' && cells[k - 1] === '')))
    const own = numbersIn(i, next < 0 ? cells.length : next)
    const before = numbersIn(starts.at(-1)!, i)
    const shared = [...own].filter((t) => before.has(t)).length
    const from = starts.at(-1)!
    const names = (at: number, to: number) => cells.slice(at, to).filter((c) => c !== '')
    const ownNames = names(i, next < 0 ? cells.length : next)
    const isSame = ownNames.length >= 2 && ownNames.join('\u0000') === names(from, i).join('\u0000')
    if (isSame || (own.size >= 2 && shared >= Math.min(2, before.size) && shared * 2 >= own.size)) {
      starts.push(i)
    }
  }
  if (starts.length === 1) return [table]
  return starts.map((from, k) => {
    const to = starts[k + 1] ?? Number.POSITIVE_INFINITY
    const part = (record: TableRecord): TableRecord => ({
      ...record,
      cells: record.cells.slice(k === 0 ? 0 : from, to),
    })
    return {
      delimiter: table.delimiter,
      header: part(table.header),
      headerRows: table.headerRows.map(part),
      above: table.above.map(part),
      rows: table.rows.map(part).filter((r) => r.cells.some((c) => c.trim() !== '')),
    }
  })
}
