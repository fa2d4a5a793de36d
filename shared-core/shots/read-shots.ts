import { Problem } from '../problem.ts'
import { clubWords, isStandardClub } from '../model/club.ts'
import { metricNames, noMetrics, type MetricName, type ShotFlag, type ShotReading } from '../model/shot.ts'
import type { ColumnTarget, NumberTarget } from './column-target.ts'
import { dimensionOf, isNumberTarget, readHeader, sideWordsOf, type HeaderReading } from './column-names.ts'
import { assertText } from './decode-text.ts'
import { flagsOf, isThinkable } from './flags-of.ts'
import { guessUnit, type SpeedValue, type UnitHow } from './guess-unit.ts'
import { directionColumns, directionOf, saysSinistra } from './direction-columns.ts'
import { doubledRows } from './doubled-rows.ts'
import { findTables, headerText, mappingOf, turnedText, type Table } from './find-tables.ts'
import { readHeading } from './group-headings.ts'
import { rowsWithLostCell, type LostCell } from './lost-cells.ts'
import { clubOfBareNumber, isKnownClub, readClub } from './read-club.ts'
import {
  findDecimalMark,
  isMissing,
  readCell,
  readNumber,
  type CellReading,
  type DecimalMark,
} from './read-number.ts'
import type { ReadShotsOptions } from './read-shots-options.ts'
import type { Delimiter, TableRecord } from './read-records.ts'
import { orderOfShots, type ShotOrder } from './shot-order.ts'
import { summaryRows } from './summary-rows.ts'
import { summaryWord } from './summary-row-word.ts'
import { isAnyUnit, readUnit, unitFactor, unitNames } from './unit.ts'
import { findDateOrder, isoOf, readWallTime, type DateOrder, type WallTimeReading } from './read-wall-time.ts'
import { said, phrase } from '../wording/phrase.ts'

/** A column and what it was taken for. */
export type ShotColumn = {
  /** As the file writes it; a repeated header gets " (2)". */
  header: string
  /** What it is; null if the reader does not know, 'ignored' if the coach said so. */
  target: ColumnTarget | 'ignored' | null
  /** Our name of its unit; null for texts and ratios. */
  unit: string | null
  /**
   * Where target and unit come from: `mapping` the coach's word; `header`, `units-row`, `cells` the file states the
   * unit; `options` the coach's unit for this kind; `usual` there is only one usual unit (degrees, rpm, seconds);
   * `like` another column's unit; `assumed` from the size of the values, to be checked; `name` a text column;
   * `second` another column already holds this; `side` it says to which side another column's number is; `unknown`.
   */
  how: 'mapping' | 'header' | 'units-row' | 'cells' | UnitHow | 'name' | 'second' | 'side' | 'unknown'
  /** Header of the number whose side this column says; null for all others. */
  sideOf: string | null
  /** First few different cells. */
  samples: string[]
}

/** A doubt or an error, with its line. */
export type ShotsProblem = {
  /** 1-based line of the file; the header's line for what concerns a whole column, 1 for the whole file. */
  line: number
  /** Header of the column, or null when it concerns the row or the file. */
  column: string | null
  message: string
  /** `cell` and `row`: something was lost; `skipped`: left out on purpose; `assumed`: to be checked by the coach. */
  kind: 'cell' | 'row' | 'skipped' | 'assumed'
}

/** Everything a file says, and everything that was doubtful. */
export type ShotsReading = {
  /** In the order they were hit. */
  shots: ShotReading[]
  order: Pick<ShotOrder, 'how' | 'isNewestFirst'>
  /** Lines that list a shot a second time. */
  doubledLines: number[]
  columns: ShotColumn[]
  /** Headers nobody could map; their cells are kept in `other` of each shot. */
  unmapped: string[]
  problems: ShotsProblem[]
  delimiter: Delimiter
  decimalMark: DecimalMark
  /** 1-based line of the header. */
  headerLine: number
}

/**
 * Reads a table of shot records of any origin: finds delimiter, header, units, decimal mark and date order,
 * turns everything to the units of model/shot.ts, and reports by line and column what it could not read or had to
 * assume. One bad cell costs that cell, one bad row that row, never the file.
 *
 * @throws Problem `shots-empty`, `shots-binary`, `shots-no-header`, `shots-mapping`.
 */
export const readShots = (text: string, options: ReadShotsOptions = {}): ShotsReading => {
  assertText(text)
  if (text.replace(/^\ufeff/, '').trim() === '') {
    throw new Problem('shots-empty')
  }
  const turned = turnedText(text, options)
  if (turned !== null) return turnedReading(readTables(turned, options))
  return readTables(text, options)
}

/** Says once that what is called a line is a column of the file. */
const turnedReading = (reading: ShotsReading): ShotsReading => ({
  ...reading,
  problems: [
    {
      line: 1,
      column: null,
      kind: 'assumed',
      message: said('row.turned'),
    },
    ...reading.problems,
  ],
})

const readTables = (text: string, options: ReadShotsOptions): ShotsReading => {
  const { tables, delimiter, brokenLines } = findTables(text, options)
  const problems: ShotsProblem[] = brokenLines.map((line) => ({
    line,
    column: null,
    kind: 'row',
    message: said('row.quotation'),
  }))
  const headerLine = tables[0]!.header.line
  const laidOut = tables.map((table) => layOut(table, options, problems))
  checkMapping(
    laidOut.flatMap((l) => l.header),
    options,
  )
  const decimalMark = options.decimalMark ?? decimalMarkOf(laidOut, tables[0]!, problems)

  const read: ReadRow[] = []
  const columns: Column[] = []
  for (const one of laidOut) {
    read.push(...readTable(one, decimalMark, columns, options, problems))
    for (const column of one.columns) {
      const isKnown = columns.some(
        (c) => c.header === column.header && c.target === column.target && c.unit === column.unit,
      )
      if (!isKnown) columns.push(column)
    }
  }
  const { repeats, alike } = doubledRows(
    read.map((r) => r.shot),
    read.map((r) => r.cells),
    read.map((r) => r.number),
  )
  const doubledLines: number[] = []
  const single = read.filter(({ shot }, i) => {
    if (repeats[i] === null) return true
    doubledLines.push(shot.line)
    const isTaken = options.doubled === 'all'
    problems.push({
      line: shot.line,
      column: null,
      kind: isTaken ? 'assumed' : 'skipped',
      message: said(isTaken ? 'row.doubledTaken' : 'row.doubled', { line: repeats[i]! }),
    })
    return isTaken
  })
  if (alike > 0) {
    problems.push({
      line: headerLine,
      column: null,
      kind: 'assumed',
      message: said('row.sameNumbers', { n: alike }),
    })
  }
  const { order, ...found } = orderOfShots(
    single.map(({ shot, number }) => ({ at: shot.at, number: number === null ? null : wholeNumber(number) })),
  )
  const shots = oneSpellingOfBlocks(order.map((i) => single[i]!.shot))
  noteFrequentFlags(shots, headerLine, problems)
  problems.sort((a, b) => a.line - b.line)
  const used = columns.filter(isUsed)
  return {
    shots,
    order: found,
    doubledLines,
    columns: used.map(({ header, target, unit, how, sideOf, samples }) => ({
      header,
      target,
      unit,
      how,
      sideOf,
      samples,
    })),
    unmapped: used.filter((c) => c.target === null && c.how === 'unknown').map((c) => c.header),
    problems,
    delimiter,
    decimalMark,
    headerLine,
  }
}

/** A column without a name and without a value, as a separator at the end of each line makes, is none. */
const isUsed = ({ header, how, samples }: Column): boolean =>
  how !== 'unknown' || samples.length > 0 || !/^column \d+$/.test(header)

/** A shot with the device's number of it and its other cells as text, for finding doubles. */
type ReadRow = { shot: ShotReading; number: string | null; cells: string }

/** A table with its columns known and its possible shots told from headings. */
type LaidOut = { table: Table; header: string[]; columns: Column[]; candidates: DataRow[] }

const layOut = (table: Table, options: ReadShotsOptions, problems: ShotsProblem[]): LaidOut => {
  const header = uniqueHeaders(table.header.cells)
  const [first] = table.rows
  const unitsRow = first && isUnitsRow(first, header) ? first : null
  const candidates = dataRows(unitsRow ? table.rows.slice(1) : table.rows, table, header, problems)
  const columns = mapColumns(
    header,
    unitsRow,
    candidates.filter((r) => !r.isTooLong),
    options,
  )
  return { table, header, columns, candidates }
}

const checkMapping = (headers: readonly string[], options: ReadShotsOptions) => {
  for (const name of Object.keys(options.mapping ?? {})) {
    if (!headers.some((h) => h === name || h.replace(/ \(\d+\)$/, '') === name)) {
      throw new Problem('shots-mapping.noColumn', { name, columns: [...new Set(headers)].join(', ') })
    }
  }
}

/** The shots of one table; `earlier` are the columns of the tables before it, whose units hold here too. */
const readTable = (
  { table, columns, candidates }: LaidOut,
  decimalMark: DecimalMark,
  earlier: readonly Column[],
  options: ReadShotsOptions,
  problems: ShotsProblem[],
): ReadRow[] => {
  const whole = candidates.filter((r) => !r.isTooLong)
  settleMarks(columns, whole, decimalMark, options)
  const directions = directionsOf(columns, whole)
  const rows = clubsFilledDown(shotRows(candidates, columns, directions, problems), columns, table, problems)
  settleUnits(columns, rows, earlier, options, table.header.line, problems)
  const dateOrder = dateOrderOf(columns, rows, decimalMark, table, options, problems)
  const numberIndex = columns.find((c) => c.target === 'shotNumber')?.index
  const read = rows.flatMap((row): ReadRow[] => {
    const shot = readRow(row, {
      columns,
      directions,
      dateOrder,
      playingSide: options.playingSide ?? null,
      problems,
    })
    if (!shot) return []
    const cells = columns.map((c) => (c.index === numberIndex ? '' : (row.cells[c.index] ?? '').trim()))
    return [{ shot, number: shotNumberOf(row, columns), cells: cells.join('\u0000') }]
  })
  noteZeros(rows, columns, table.header.line, problems)
  noteOneSided(read, columns, directions, table.header.line, problems)
  return read
}

/** So many shots that all go to one side are rare enough to ask whether the file gives only how far. */
const oneSidedFrom = 5

/** Says once where no value of a column has a side: a file may give how far without to which side. */
const noteOneSided = (
  read: readonly ReadRow[],
  columns: readonly Column[],
  directions: ReadonlyMap<number, number>,
  headerLine: number,
  problems: ShotsProblem[],
) => {
  for (const { target, header, index, samples } of columns) {
    if (target !== 'sideM' && target !== 'launchDirectionDeg' && target !== 'spinAxisDeg') continue
    if (directions.has(index) || samples.some((s) => /\p{L}/u.test(s))) continue
    const values = read.flatMap(({ shot }) => shot[target] || [])
    if (values.length < oneSidedFrom || values.some((v) => v < 0)) continue
    problems.push({
      line: headerLine,
      column: header,
      kind: 'assumed',
      message: said('column.allPlus'),
    })
  }
}

// ---------------------------------------------------------------- the rows of a table

const uniqueHeaders = (cells: readonly string[]): string[] => {
  const used = new Set<string>()
  const last = new Map<string, number>()
  return cells.map((cell, i) => {
    const plain = cell.trim().replace(/\s+/g, ' ') || `column ${i + 1}`
    let name = plain
    // Goes on from the last number of that name: thousands of equal names are not counted from 2 each time.
    for (let n = last.get(plain) ?? 2; used.has(name); n++) {
      name = `${plain} (${n})`
      last.set(plain, n + 1)
    }
    used.add(name)
    return name
  })
}

const unitText = (cell: string) =>
  cell
    .trim()
    .slice(0, 60)
    .replace(/^[([{]\s*|\s*[)\]}]$/g, '')

const isUnitsRow = (record: TableRecord, header: readonly string[]): boolean => {
  let unitsFound = 0
  for (const [i, cell] of record.cells.entries()) {
    const textOfUnit = unitText(cell)
    if (isMissing(textOfUnit)) continue
    if (/^[+-]?\d/.test(textOfUnit) || i >= header.length) return false
    if (isAnyUnit(textOfUnit)) unitsFound++
  }
  const filled = record.cells.filter((c) => !isMissing(c)).length
  return unitsFound >= 1 && unitsFound * 2 >= filled
}

/** A row that may hold a shot, with the club of the heading above it (undefined: no heading said anything). */
type DataRow = TableRecord & {
  headingClub?: string | null
  startsGroup: boolean
  isAfterEmptyLine: boolean
  isTooLong?: boolean
  /** Whether its values may stand in the wrong columns. */
  slipped?: LostCell
  /** The club of a row above that was left out. */
  clubAbove?: string | null
}

/** The rows that may hold shots: without repeated headers, headings and rows with too many cells. */
const dataRows = (
  records: readonly TableRecord[],
  table: Table,
  header: readonly string[],
  problems: ShotsProblem[],
): DataRow[] => {
  const rows: DataRow[] = []
  const headerTexts = new Set([...table.headerRows, table.header].map((r) => headerText(r.cells)))
  // The last title above the table may be its club.
  let headingClub = table.above.reduce<string | null | undefined>(
    (club, r) => readHeading(r.cells)?.club ?? club,
    undefined,
  )
  let startsGroup = true
  let waiting: ShotsProblem | null = null
  let tooLong = 0
  for (const record of records) {
    const report = (kind: ShotsProblem['kind'], message: string, column: string | null = null) =>
      problems.push({ line: record.line, column, message, kind })
    if (headerTexts.has(headerText(record.cells))) {
      report('skipped', said('row.headerAgain'))
      startsGroup = true
      continue
    }
    if (isUnitsRow(record, header)) {
      report('skipped', said('row.unitsAgain'))
      continue
    }
    const heading = header.length > 1 ? readHeading(record.cells) : null
    if (heading) {
      const isSummary = heading.club === null && summaryWord(heading.text) !== null
      if (!isSummary && (heading.club !== null || headingClub !== undefined)) headingClub = heading.club
      // A club with no shots below it is a line without numbers.
      if (waiting) problems.push(waiting)
      waiting = null
      if (heading.club === null) report('skipped', said('row.onlyNoShot', { text: heading.text }))
      else {
        waiting = {
          line: record.line,
          column: null,
          kind: 'row',
          message: said('row.onlyNoShots', { text: heading.text }),
        }
      }
      startsGroup = true
      continue
    }
    const filled = record.cells.findLastIndex((c) => c.trim() !== '') + 1
    if (filled > header.length) {
      tooLong++
      report('row', said('row.cellCount', { cells: filled, expected: header.length }))
      // Whatever sums up the lines around it may have counted it.
      rows.push({ ...record, headingClub, startsGroup, isAfterEmptyLine: false, isTooLong: true })
      startsGroup = false
      continue
    }
    if (waiting) {
      problems.push({
        ...waiting,
        kind: 'skipped',
        message: said('row.club', { club: clubWords(headingClub ?? null) }),
      })
      waiting = null
    }
    rows.push({ ...record, headingClub, startsGroup, isAfterEmptyLine: record.isAfterEmptyLine === true })
    startsGroup = false
  }
  if (waiting) problems.push(waiting)
  if (table.delimiter === ',' && tooLong >= 2 && tooLong * 2 > rows.length) {
    throw new Problem('shots-delimiter', {
      where: phrase('place.lineAndOthers', { line: table.header.line + 1 }),
    })
  }
  return rows
}

// ---------------------------------------------------------------- columns and units

/** `mark` is the decimal mark of this column, `isGrouped` that its marks part thousands: 2.650 is two thousand. */
type Column = ShotColumn & {
  index: number
  rank: number
  mark: DecimalMark
  isGrouped: boolean
  /** Its header says that its signs run the other way than ours. */
  isOtherSign: boolean
  /** "S" is sinistra, the left. */
  isItalian: boolean
}

/** A cell of a number column as it was read. */
const cellOf = (
  column: Column,
  target: NumberTarget,
  text: string,
  playingSide: 'right' | 'left' | null,
): CellReading => {
  if (column.isGrouped && /\d[.,](?!\d{3}(?!\d))/.test(text)) {
    return {
      kind: 'bad',
      why: said('cell.notGrouped', { text: text.trim() }),
    }
  }
  return readCell(column.isGrouped ? text.replace(/(\d)[.,](?=\d{3}(?!\d))/g, '$1') : text, {
    mark: column.mark,
    dimension: dimensionOf[target],
    sideWords: sideWordsOf[target] ?? 'none',
    playingSide,
    isOtherSign: column.isOtherSign,
    isItalian: column.isItalian,
  })
}

const mapColumns = (
  header: readonly string[],
  unitsRow: TableRecord | null,
  rows: readonly TableRecord[],
  options: ReadShotsOptions,
): Column[] => {
  const columns = header.map((name, index): Column => {
    const mapped = mappingOf(name, options)
    const samples = samplesOf(rows, index)
    const base = {
      header: name,
      index,
      samples,
      mark: '.' as DecimalMark,
      isGrouped: false,
      sideOf: null as string | null,
      isOtherSign: mapped === undefined && readHeader(name.replace(/ \(\d+\)$/, '')).isOtherSign === true,
      isItalian: false,
    }
    if (mapped === 'ignore') return { ...base, target: 'ignored', unit: null, how: 'mapping', rank: -1 }
    const reading: HeaderReading =
      mapped === undefined
        ? readHeader(name.replace(/ \(\d+\)$/, ''))
        : typeof mapped === 'string'
          ? { target: mapped, unit: null, rank: -1 }
          : { target: mapped.metric, unit: mappedUnit(name, mapped), rank: -1 }
    const { target, rank } = reading
    if (target === null) return { ...base, target: null, unit: null, how: 'unknown', rank }
    if (!isNumberTarget(target)) {
      return { ...base, target, unit: null, how: mapped === undefined ? 'name' : 'mapping', rank }
    }
    if (reading.unit !== null) {
      return { ...base, target, unit: reading.unit, how: mapped === undefined ? 'header' : 'mapping', rank }
    }
    const inRow = unitsRow ? readUnit(unitText(unitsRow.cells[index] ?? ''), dimensionOf[target]) : null
    return {
      ...base,
      target,
      unit: inRow,
      how: inRow !== null ? 'units-row' : mapped === undefined ? 'assumed' : 'mapping',
      rank,
    }
  })
  for (const target of new Set(columns.map((c) => c.target))) {
    if (target === null || target === 'ignored') continue
    const rivals = columns.filter((c) => c.target === target)
    const kept =
      target === 'club'
        ? bestClubColumn(rivals, rows)
        : rivals.reduce((a, b) =>
            hasCells(b) &&
            (!hasCells(a) ||
              hasNumbers(b) > hasNumbers(a) ||
              (hasNumbers(b) === hasNumbers(a) && b.rank < a.rank))
              ? b
              : a,
          )
    for (const rival of rivals) {
      if (rival !== kept) {
        Object.assign(rival, { target: null, unit: null, how: 'second' } satisfies Partial<Column>)
      }
    }
  }
  return columns
}

const hasCells = (column: Column) => column.samples.length > 0

/** 1 if a number column shows digits (or is a text column): a column of sides alone ("L", "R") is no distance. */
const hasNumbers = (column: Column): number =>
  column.target !== null &&
  column.target !== 'ignored' &&
  isNumberTarget(column.target) &&
  !column.samples.some((s) => /\d/.test(s))
    ? 0
    : 1

const mappedUnit = (header: string, mapping: { metric: NumberTarget; unit?: string }): string | null => {
  if (!Object.hasOwn(dimensionOf, mapping.metric)) {
    throw new Problem('shots-mapping.metric', {
      metric: mapping.metric,
      metrics: Object.keys(dimensionOf).join(', '),
      where: header,
    })
  }
  if (mapping.unit === undefined) return null
  const dimension = dimensionOf[mapping.metric]
  const unit = readUnit(mapping.unit, dimension)
  if (unit === null) {
    throw new Problem('shots-mapping.unit', {
      unit: mapping.unit,
      metric: mapping.metric,
      units: unitNames(dimension).filter(Boolean).join(', '),
      where: header,
    })
  }
  return unit
}

const samplesOf = (rows: readonly TableRecord[], index: number): string[] => {
  const samples = new Set<string>()
  for (const row of rows) {
    const cell = (row.cells[index] ?? '').trim()
    if (!isMissing(cell)) samples.add(cell)
    if (samples.size >= 4) break
  }
  return [...samples]
}

/** Of several club columns the one that names the most clubs we know ("Club Type" beside a club's own name). */
const bestClubColumn = (rivals: readonly Column[], rows: readonly TableRecord[]): Column => {
  const known = (column: Column) =>
    rows.filter((r) => isStandardClub(readClub(r.cells[column.index] ?? ''))).length
  return rivals
    .map((column) => ({ column, known: known(column) }))
    .reduce((a, b) => (b.known > a.known || (b.known === a.known && b.column.rank < a.column.rank) ? b : a))
    .column
}

const decimalMarkOf = (tables: readonly LaidOut[], table: Table, problems: ShotsProblem[]): DecimalMark => {
  const all = tables.flatMap(({ columns, candidates }) =>
    columns.map((column) => ({ column, rows: candidates })),
  )
  const cells = all.flatMap(({ column, rows }) => {
    const { target } = column
    if (!target || target === 'ignored' || !isNumberTarget(target)) return []
    return rows.slice(0, 2000).map((row) => ({
      text: row.cells[column.index] ?? '',
      plausible: (value: number) => {
        if (target === 'smash') return value < 3
        const dimension = dimensionOf[target]
        if (!isMetric(target)) {
          return dimension === 'angle' ? value <= 180 : value < 25_000 && (value === 0 || value >= 20)
        }
        // Without a unit yet: could it be true in some unit?
        const candidates = column.unit !== null ? [column.unit] : unitNames(dimension)
        if (target === 'spinRpm' && value > 0 && value < 20) return false
        return candidates.some((unit) => isThinkable(target, value * unitFactor(unit, dimension)))
      },
    }))
  })
  const { mark, sure } = findDecimalMark(cells, table.delimiter)
  if (!sure && cells.some((c) => /\d[.,]\d/.test(c.text))) {
    problems.push({
      line: table.header.line,
      column: null,
      kind: 'assumed',
      message: said('column.decimalMark', { mark }),
    })
  }
  return mark
}

const isMetric = (target: string): target is MetricName => (metricNames as readonly string[]).includes(target)

/** Gives every number column a unit: what the file states, then the coach's word, then the reader's guess, reported. */
const settleUnits = (
  columns: Column[],
  rows: readonly ClubbedRow[],
  earlier: readonly Column[],
  options: ReadShotsOptions,
  headerLine: number,
  problems: ShotsProblem[],
) => {
  const open: { column: Column; target: NumberTarget; values: SpeedValue[] }[] = []
  const carryColumn = columns.find((c) => c.target === 'carryM')
  const carryIn = (row: TableRecord): number | null => {
    if (!carryColumn) return null
    const cell = cellOf(carryColumn, 'carryM', row.cells[carryColumn.index] ?? '', 'right')
    // A unit in the cell is that of the column where it is settled.
    return cell.kind === 'value' ? cell.value : null
  }
  for (const column of columns) {
    const { target } = column
    if (!target || target === 'ignored' || !isNumberTarget(target) || column.unit !== null) continue
    const sameAbove = earlier.find(
      (c) => c.header === column.header && c.target === target && c.unit !== null,
    )
    if (sameAbove) {
      Object.assign(column, { unit: sameAbove.unit, how: sameAbove.how } satisfies Partial<Column>)
      continue
    }
    const values: SpeedValue[] = []
    const cellUnits = new Map<string, number>()
    for (const row of rows) {
      const cell = cellOf(column, target, row.cells[column.index] ?? '', options.playingSide ?? 'right')
      if (cell.kind !== 'value') continue
      if (cell.unit === null) {
        values.push({
          value: cell.value,
          club: row.club,
          carry: carryIn(row),
        })
      } else cellUnits.set(cell.unit, (cellUnits.get(cell.unit) ?? 0) + 1)
    }
    // A few cells with a unit among many without are odd ones (a line of per cents), not the column's unit.
    const withUnit = [...cellUnits.values()].reduce((a, b) => a + b, 0)
    if (withUnit * 4 > values.length) {
      const [unit] = [...cellUnits].reduce((a, b) => (b[1] > a[1] ? b : a))
      Object.assign(column, { unit, how: 'cells' } satisfies Partial<Column>)
      if (values.length > 0) {
        problems.push({
          line: headerLine,
          column: column.header,
          kind: 'assumed',
          message: said('column.someWithoutUnit', { n: values.length, unit }),
        })
      }
    } else open.push({ column, target, values })
  }
  const stated = columns.flatMap((c) =>
    c.target && c.unit !== null && isNumberTarget(c.target) ? [{ target: c.target, unit: c.unit }] : [],
  )
  // Speeds first: whether lengths are yards or metres follows from them.
  const order = (t: NumberTarget) =>
    dimensionOf[t] === 'speed' ? (t === 'ballSpeedMps' ? 0 : 1) : t === 'carryM' ? 2 : 3
  for (const { column, target, values } of open.sort((a, b) => order(a.target) - order(b.target))) {
    const dimension = dimensionOf[target]
    const asked = options.units?.[dimension]
    const askedUnit = asked === undefined ? null : readUnit(asked, dimension)
    if (asked !== undefined && askedUnit === null) {
      throw new Problem('shots-mapping.dimension', {
        unit: asked,
        dimension,
        units: unitNames(dimension).filter(Boolean).join(', '),
      })
    }
    const guess =
      askedUnit !== null
        ? { unit: askedUnit, how: 'options' as const, why: '' }
        : guessUnit(target, values, stated)
    const keepsMapping = column.how === 'mapping' && guess.how !== 'assumed' && guess.how !== 'like'
    Object.assign(column, {
      unit: dimension === 'ratio' && guess.unit === '' ? null : guess.unit,
      how: keepsMapping ? 'mapping' : guess.how,
    } satisfies Partial<Column>)
    stated.push({ target, unit: guess.unit })
    if ((guess.how === 'assumed' || guess.how === 'like') && values.length > 0) {
      problems.push({
        line: headerLine,
        column: column.header,
        kind: 'assumed',
        message: said('column.noUnit', { unit: guess.unit, why: guess.why }),
      })
    }
  }
}

/**
 * The decimal mark of each number column, where its own cells are all written with the other one than the file's, and
 * the columns whose marks part thousands: spin has no thousandths, so 2.650 rpm is two thousand six hundred and fifty.
 */
const settleMarks = (
  columns: Column[],
  rows: readonly TableRecord[],
  fileMark: DecimalMark,
  options: ReadShotsOptions,
) => {
  const numbersOf = (column: Column) =>
    rows.flatMap((r) => /\d[\d.,]*\d/.exec(r.cells[column.index] ?? '')?.[0] ?? [])
  const isSpin = ({ target }: Column) =>
    target !== null && target !== 'ignored' && isNumberTarget(target) && dimensionOf[target] === 'spin'
  const spins = columns.filter(isSpin).flatMap(numbersOf)
  const spinIsGrouped =
    spins.some((n) => /^\d{1,3}[.,]\d{3}$/.test(n)) &&
    !spins.some((n) => /^\d{4,}[.,]\d/.test(n)) &&
    // A row that slipped by a lost cell may have put another number there.
    spins.filter((n) => !/^\d+$/.test(n) && !/^\d{1,3}(?:[.,]\d{3})+$/.test(n)).length * 5 <= spins.length
  for (const column of columns) {
    column.mark = fileMark
    const { target } = column
    if (target === null || target === 'ignored' || !isNumberTarget(target) || options.decimalMark) continue
    if (isSpin(column) && spinIsGrouped) {
      column.isGrouped = true
      continue
    }
    const marked = numbersOf(column).filter((n) => /[.,]/.test(n))
    const other: DecimalMark = fileMark === '.' ? ',' : '.'
    const isOnlyOther = (n: string) => readNumber(n, other) !== null && readNumber(n, fileMark) === null
    if (marked.length >= 2 && marked.every(isOnlyOther)) column.mark = other
  }
}

/** Which number column has its side in which other column; that one is then no question any more. */
const directionsOf = (columns: Column[], rows: readonly TableRecord[]): Map<number, number> => {
  for (const column of columns) {
    const { target } = column
    if (target === null || target === 'ignored' || !isNumberTarget(target) || !sideWordsOf[target]) continue
    const cellsAt = (index: number) => rows.map((r) => r.cells[index] ?? '')
    column.isItalian = [column.index, column.index + 1, column.index - 1].some((i) =>
      saysSinistra(cellsAt(i)),
    )
  }
  const sided = columns.flatMap(({ index, target }) =>
    target !== null && target !== 'ignored' && isNumberTarget(target)
      ? [{ index, sideWords: sideWordsOf[target] ?? ('none' as const) }]
      : [],
  )
  const found = directionColumns(
    rows,
    sided,
    columns.map((c) => ({ header: c.header, isKnown: c.target !== null })),
  )
  for (const [number, index] of found) {
    const column = columns[index]!
    if (column.how !== 'mapping') {
      Object.assign(column, { target: null, unit: null, how: 'side' } satisfies Partial<Column>)
    }
    column.sideOf = columns[number]!.header
  }
  return found
}

const withDirection = (
  reading: CellReading,
  direction: string | undefined,
  column: Column,
  playingSide: 'right' | 'left' | null,
): CellReading => {
  if (direction === undefined || reading.kind !== 'value' || reading.value === 0) return reading
  const sideWords = sideWordsOf[column.target as NumberTarget] ?? 'none'
  const sign = directionOf(direction, sideWords, playingSide, column.isItalian)
  if (sign === 1 || sign === -1) return { ...reading, value: sign * Math.abs(reading.value) }
  return {
    kind: 'bad',
    why: said('cell.sideUnsaid', { text: reading.value, beside: direction.trim() }),
  }
}

// ---------------------------------------------------------------- which rows are shots, and with which club

const placeOf = (column: Column | undefined): 'name' | 'number' | 'free' => {
  const target = column?.target ?? null
  if (target === null || target === 'ignored' || target === 'block') return 'free'
  return isNumberTarget(target) ? 'number' : 'name'
}

const shotNumberOf = (row: TableRecord, columns: readonly Column[]): string | null => {
  const cell = row.cells[columns.find((c) => c.target === 'shotNumber')?.index ?? -1]
  return cell === undefined || isMissing(cell) ? null : cell.trim()
}

const wholeNumber = (text: string): number | null => {
  const digits = /^\D{0,8}?(\d{1,9})(?:[.,]0+)?$/.exec(text)?.[1]
  return digits === undefined ? null : Number(digits)
}

/** Without lines that sum up others and lines whose values slipped by a lost cell. */
const shotRows = (
  rows: readonly DataRow[],
  columns: readonly Column[],
  directions: ReadonlyMap<number, number>,
  problems: ShotsProblem[],
): DataRow[] => {
  const clubColumn = columns.find((c) => c.target === 'club')
  // A club named only where it changes is that of the rows below, too.
  const named = clubColumn ? rows.map((r) => readClub(r.cells[clubColumn.index] ?? '')) : []
  const isSparse = named.filter((club) => club !== null).length * 2 <= rows.length
  const firstNamed = named.findIndex((club) => club !== null)
  const namesEachClubOnce = isSparse && firstNamed > 0
  let lastNamed: string | null = null
  const clubs = rows.map((row, i) => {
    if (!clubColumn) return row.headingClub ?? null
    lastNamed = named[i] ?? (isSparse ? lastNamed : null)
    return lastNamed
  })
  const numberIn = (row: TableRecord, column: Column, withSide = true) => {
    const { target } = column
    if (target === null || target === 'ignored' || !isNumberTarget(target)) return null
    const text = row.cells[column.index] ?? ''
    const reading = cellOf(column, target, text, 'right')
    if (reading.kind !== 'value') return null
    const beside = withSide ? row.cells[directions.get(column.index) ?? -1] : undefined
    const sign =
      beside === undefined
        ? null
        : directionOf(beside, sideWordsOf[target] ?? 'none', 'right', column.isItalian)
    const behind = column.isGrouped ? '' : (/[.,](\d+)\D*$/.exec(text)?.[1] ?? '')
    return { value: sign === -1 ? -reading.value : reading.value, decimals: behind.length }
  }
  const besides = new Set(directions.values())
  // Only columns that are understood tell whether a value stands in the wrong one.
  const isUnderstood = columns.map(
    (c) => (c.target !== null && c.target !== 'ignored') || besides.has(c.index),
  )
  const slipped = rowsWithLostCell(
    rows.map((row, i) => ({ cells: row.isTooLong ? [] : row.cells, group: clubs[i]! })),
    isUnderstood,
    (text, index) => {
      const column = columns[index]!
      if (isMissing(text)) return null
      if (!isUnderstood[index]) return readNumber(text, column.mark) ?? text
      const number =
        column.target === 'shotNumber'
          ? wholeNumber(text)
          : (numberIn({ line: 0, cells: Object.assign([], { [index]: text }) }, column, false)?.value ??
            readNumber(text, column.mark))
      return number ?? text
    },
  )
  const isInPercent = percentLines(rows, columns)
  const nameTargets = ['club', 'at', 'date', 'time', 'shotNumber']
  const summaries = summaryRows(
    rows.map((row, i) => {
      const numbers = new Map(
        columns.flatMap((c) => {
          const value = numberIn(row, c)
          return value ? [[c.index, value] as const] : []
        }),
      )
      const cellsOf = (targets: readonly ColumnTarget[]) =>
        columns.flatMap((c) => {
          const cell = row.cells[c.index] ?? ''
          return targets.includes(c.target as ColumnTarget) && !isMissing(cell) ? [cell] : []
        })
      const times = cellsOf(['at', 'time', 'date'])
      const number = cellsOf(['shotNumber'])
      return {
        numbers,
        texts: row.cells.flatMap((text, column) =>
          !isMissing(text) &&
          !numbers.has(column) &&
          (/[^\d.,:/\s-]/.test(text) || nameTargets.includes(columns[column]?.target ?? ''))
            ? [
                {
                  column,
                  text,
                  place: placeOf(columns[column]),
                  isBlock: columns[column]?.target === 'block',
                  isMisplaced: isNoTime(text, columns[column]?.target ?? null),
                },
              ]
            : [],
        ),
        marks: new Set([
          ...(times.some((cell) => readWallTime(cell) !== null) ? ['time'] : []),
          ...(number.some((cell) => wholeNumber(cell) !== null) ? ['number'] : []),
          ...(cellsOf(['club']).some((cell) => isKnownClub(readClub(cell) ?? '')) ? ['club'] : []),
          ...(cellsOf(['block']).some((cell) => summaryWord(cell) === null) ? ['block'] : []),
        ]),
        hasOddName:
          times.some((cell) => readWallTime(cell) === null && !/\d/.test(cell)) ||
          number.some((cell) => wholeNumber(cell) === null),
        club: clubs[i]!,
        startsGroup: row.startsGroup,
        isApart: i > 0 && row.line - rows[i - 1]!.line > 1 && row.isAfterEmptyLine,
        isBroken: slipped[i] !== null || row.isTooLong === true,
        isInPercent: isInPercent(row),
        isAboveFirstClub: namesEachClubOnce && i < firstNamed && row.headingClub === undefined,
      }
    }),
  )
  let startsGroup = false
  let clubAbove: string | null = null
  const kept = rows.flatMap((row, i) => {
    startsGroup ||= row.startsGroup
    const summary = summaries[i]
    // In a line left out the club may have slipped to another column.
    if (isSparse && (row.isTooLong || slipped[i] === 'lost') && !summary?.isSure) {
      const at = clubColumn?.index ?? -2
      clubAbove =
        [at, at - 1, at + 1]
          .map((k) => (row.cells[k] ?? '').trim())
          // "60°" beside it is an angle, "D" a side.
          .filter(
            (cell) =>
              /\p{L}/u.test(cell) &&
              cell.length > 1 &&
              readUnit(cell.replace(/^[\d.,\s]+/, ''), 'angle') === null,
          )
          .map(readClub)
          .find((club) => club !== null && isKnownClub(club)) ?? clubAbove
    }
    if (row.isTooLong) return []
    if (summary?.isSure) {
      problems.push({
        line: row.line,
        column: null,
        kind: 'skipped',
        message: said('row.sum', { reason: summary.reason }),
      })
      return []
    }
    if (summary) {
      problems.push({
        line: row.line,
        column: null,
        kind: 'assumed',
        message: said('row.maybeSum', { reason: summary.reason }),
      })
    }
    const one = { ...row, startsGroup, slipped: slipped[i]!, clubAbove }
    startsGroup = false
    if (slipped[i] !== 'lost') clubAbove = null
    return [one]
  })
  return kept.filter((row) => {
    const report = (message: string, column: string | null = null) =>
      problems.push({ line: row.line, column, kind: 'row', message })
    if (row.slipped === 'lost') {
      report(said('row.cellMissing'))
      return false
    }
    if (row.cells.length < columns.length && row.cells.length > 1) {
      report(said('row.cut', { cells: row.cells.length, expected: columns.length }))
    }
    return true
  })
}

/** Whether a line of numbers is one of per cents: in columns where the other lines have none. */
const percentLines = (
  rows: readonly DataRow[],
  columns: readonly Column[],
): ((row: TableRecord) => boolean) => {
  const isPercent = (cell: string | undefined) => /\d\s*%\s*$/.test(cell ?? '')
  const plain = columns.filter(
    ({ target, index }) =>
      target !== null &&
      target !== 'ignored' &&
      isNumberTarget(target) &&
      rows.filter((r) => isPercent(r.cells[index])).length * 2 < rows.length,
  )
  return (row) => {
    const filled = plain.filter(({ index }) => !isMissing(row.cells[index] ?? ''))
    return (
      filled.length > 0 &&
      filled.filter(({ index }) => isPercent(row.cells[index])).length * 2 > filled.length
    )
  }
}

/** True for words where a time or the number of the shot should stand. */
const isNoTime = (text: string, target: ShotColumn['target']): boolean =>
  /\p{L}/u.test(text) &&
  ((target === 'shotNumber' && wholeNumber(text) === null) ||
    ((target === 'at' || target === 'date' || target === 'time') && readWallTime(text) === null))

type ClubbedRow = DataRow & { club: string | null }

/**
 * The club of each row: its own; else that of the heading above; else, in a table that names the club only where it
 * changes, that of the row above. A club lost from one row of a table that names it in every row stays unknown.
 */
const clubsFilledDown = (
  rows: readonly DataRow[],
  columns: readonly Column[],
  table: Table,
  problems: ShotsProblem[],
): ClubbedRow[] => {
  const column = columns.find((c) => c.target === 'club')
  const textOf = (row: TableRecord) => (column ? (row.cells[column.index] ?? '').trim() : '')
  const own = rows.map((row) => readClub(textOf(row)))
  const filled = own.filter((club, i) => club !== null || rows[i]!.clubAbove != null).length
  const isOneTwice = (i: number) => rows[i]!.cells.join('\u0000') === rows[i - 1]!.cells.join('\u0000')
  const repeatsItself = own.some((club, i) => i > 0 && club !== null && club === own[i - 1] && !isOneTwice(i))
  const namesChangesOnly = filled > 0 && !repeatsItself && filled * 2 <= rows.length
  const assumed = new Set<string>()
  const bareNumber = (text: string) => {
    const club = clubOfBareNumber(text, own)
    if (club !== null && !assumed.has(text)) {
      assumed.add(text)
      problems.push({
        line: table.header.line,
        column: column!.header,
        kind: 'assumed',
        message: said('cell.takenAs', { text, what: club }),
      })
    }
    return club
  }
  // Two drivers in one file are two clubs: the one with a number keeps the file's own name.
  const spellings = new Map<string, Set<string>>()
  rows.forEach((row, i) => {
    const club = own[i]
    if (club != null) spellings.set(club, (spellings.get(club) ?? new Set()).add(textOf(row).toLowerCase()))
  })
  const isSecond = (club: string, text: string) =>
    /\s#?\d{1,2}$/.test(text) &&
    (spellings.get(club)?.size ?? 0) > 1 &&
    [...spellings.get(club)!].some((s) => s !== text.toLowerCase() && text.toLowerCase().startsWith(s))

  let last: string | null = null
  return rows.map((row, i) => {
    const text = textOf(row)
    last = row.clubAbove ?? last
    let club = own[i] ?? null
    if (club !== null) club = bareNumber(text) ?? (isSecond(club, text) ? text : club)
    if (club !== null) last = club
    else if (row.headingClub !== undefined) club = row.headingClub
    else if (namesChangesOnly) club = last
    return { ...row, club }
  })
}

// ---------------------------------------------------------------- dates

const timeTargets = ['at', 'date', 'time'] as const

const dateOrderOf = (
  columns: readonly Column[],
  rows: readonly TableRecord[],
  mark: DecimalMark,
  table: Table,
  options: ReadShotsOptions,
  problems: ShotsProblem[],
): DateOrder => {
  const own = columns.filter((c) => (timeTargets as readonly unknown[]).includes(c.target))
  const readings = own
    .flatMap((c) => rows.map((row) => readWallTime(row.cells[c.index] ?? '')))
    .filter((r) => r !== null)
  const found = findDateOrder(readings.flatMap((r) => (r.date ? [r.date] : [])))
  if (options.dateOrder) return options.dateOrder
  if (found.order) return found.order
  const isAmerican =
    columns.some((c) => c.unit === 'mph' || c.unit === 'yd') && mark === '.' && table.delimiter !== ';'
  const order: DateOrder = readings.some((r) => r.hasHalfDay) || isAmerican ? 'month-day' : 'day-month'
  const words = phrase(order === 'month-day' ? 'dates.monthFirst' : 'dates.dayFirst')
  const column = own.find((c) => c.target !== 'time')?.header ?? null
  if (found.mixed) {
    problems.push({
      line: table.header.line,
      column,
      kind: 'assumed',
      message: said('column.datesContradict', { order: words }),
    })
  } else if (found.isOpen) {
    problems.push({
      line: table.header.line,
      column,
      kind: 'assumed',
      message: said('column.dateOrder', { order: words }),
    })
  }
  return order
}

// ---------------------------------------------------------------- rows

type RowContext = {
  columns: readonly Column[]
  directions: ReadonlyMap<number, number>
  dateOrder: DateOrder
  playingSide: 'right' | 'left' | null
  problems: ShotsProblem[]
}

const readRow = (row: ClubbedRow, context: RowContext): ShotReading | null => {
  const { columns, directions, dateOrder, playingSide, problems } = context
  const own: ShotsProblem[] = []
  const report = (column: string | null, kind: ShotsProblem['kind'], message: string) =>
    own.push({ line: row.line, column, message, kind })
  const numbers = new Map<NumberTarget, number>()
  const other: Record<string, string> = {}
  const times: WallTimeReading[] = []
  let block: string | null = null

  for (const column of columns) {
    const cell = row.cells[column.index] ?? ''
    const { target } = column
    if (target === 'ignored') continue
    const keep = () => {
      if (cell.trim() !== '') other[column.header] = cell.trim()
    }
    if (target === null || target === 'shotNumber') keep()
    else if (target === 'club') {
      if (row.club !== null && !isKnownClub(row.club)) keep()
    } else if (target === 'block') block = isMissing(cell) ? null : cell.trim()
    else if (isNumberTarget(target)) {
      const dimension = dimensionOf[target]
      const reading = withDirection(
        cellOf(column, target, cell, playingSide),
        row.cells[directions.get(column.index) ?? -1],
        column,
        playingSide,
      )
      if (reading.kind === 'value') {
        numbers.set(
          target,
          tidy(
            reading.value * unitFactor(reading.unit ?? column.unit ?? unitNames(dimension)[0]!, dimension),
          ),
        )
      } else if (reading.kind === 'bad') report(column.header, 'cell', reading.why)
      if (!isMetric(target)) keep()
    } else if (!isMissing(cell)) {
      const reading = readWallTime(cell)
      const iso = reading ? isoOf(reading, dateOrder) : null
      if (!reading || iso === null) {
        report(
          column.header,
          'cell',
          said('cell.isNot', {
            text: cell.trim(),
            what: phrase(
              target === 'date' ? 'cell.date' : target === 'time' ? 'cell.time' : 'cell.dateAndTime',
            ),
          }),
        )
      } else times.push(reading)
    }
  }

  const { club } = row
  zerosNotMeasured(numbers, club)
  const metrics = noMetrics()
  for (const name of metricNames) metrics[name] = numbers.get(name) ?? null
  deriveSpin(metrics, numbers)
  const faceToPath = numbers.get('faceToPathDeg')
  if (metrics.faceDeg === null && metrics.clubPathDeg !== null && faceToPath !== undefined) {
    metrics.faceDeg = tidy(metrics.clubPathDeg + faceToPath)
  }
  if (metricNames.every((name) => metrics[name] === null)) {
    // Of a line that is no shot at all one sentence is enough.
    if (own.length <= 2) problems.push(...own)
    problems.push({
      line: row.line,
      column: null,
      kind: 'row',
      message: said('row.noNumber'),
    })
    return null
  }
  problems.push(...own)
  if (row.slipped === 'unsure' || row.slipped === 'long') {
    const message = said(row.slipped === 'unsure' ? 'row.lastEmpty' : 'row.oneTooMany')
    problems.push({ line: row.line, column: null, kind: 'row', message })
  }
  const flags: ShotFlag[] = flagsOf(metrics, club, {
    smash: numbers.get('smash') ?? null,
    spinBackRpm: numbers.get('spinBackRpm') ?? null,
    spinSideRpm: numbers.get('spinSideRpm') ?? null,
  })
  return { ...metrics, line: row.line, club, at: joinTimes(times, dateOrder), block, other, flags }
}

/** A ball that flew has these; 0 is what devices write where they measured nothing. */
const neverZero = [
  'clubSpeedMps',
  'ballSpeedMps',
  'spinRpm',
  'carryM',
  'totalM',
  'apexM',
  'flightSeconds',
  'smash',
] as const
const ofClub = [
  'attackDeg',
  'clubPathDeg',
  'faceDeg',
  'dynamicLoftDeg',
  'faceToPathDeg',
  'impactXMm',
  'impactYMm',
] as const
const ofBall = [
  'launchDeg',
  'launchDirectionDeg',
  'spinRpm',
  'spinAxisDeg',
  'spinBackRpm',
  'spinSideRpm',
  'carryM',
  'totalM',
  'sideM',
  'apexM',
  'descentDeg',
  'flightSeconds',
] as const

/**
 * Takes out zeros that mean "not measured": speeds, spin, lengths and times of flight can't be 0 (a putt has no carry, so
 * there only the speeds count), and where the ball or the club was not measured at all, neither were its angles.
 */
const zerosNotMeasured = (numbers: Map<NumberTarget, number>, club: string | null) => {
  const drop = (names: readonly NumberTarget[]) => {
    for (const name of names) if (numbers.get(name) === 0) numbers.delete(name)
  }
  const noBall = numbers.get('ballSpeedMps') === 0
  const noClub = numbers.get('clubSpeedMps') === 0
  drop(club === 'putter' ? ['clubSpeedMps', 'ballSpeedMps', 'smash'] : neverZero)
  if (numbers.get('spinBackRpm') === 0 && (numbers.get('spinSideRpm') ?? 0) === 0) {
    drop(['spinBackRpm', 'spinSideRpm', 'spinAxisDeg'])
  }
  if (noBall) drop(ofBall)
  if (noClub) drop(ofClub)
}

/** Says once for each column how many zeros were taken as "not measured". */
const noteZeros = (
  rows: readonly ClubbedRow[],
  columns: readonly Column[],
  headerLine: number,
  problems: ShotsProblem[],
) => {
  for (const column of columns) {
    const { target } = column
    if (!target || target === 'ignored' || !isNumberTarget(target)) continue
    if (!(neverZero as readonly string[]).includes(target)) continue
    const count = rows.filter((row) => {
      if (row.club === 'putter' && target !== 'clubSpeedMps' && target !== 'ballSpeedMps') return false
      const reading = cellOf(column, target, row.cells[column.index] ?? '', 'right')
      return reading.kind === 'value' && reading.value === 0
    }).length
    if (count > 0) {
      problems.push({
        line: headerLine,
        column: column.header,
        kind: 'assumed',
        message: said('column.zeroNotMeasured', { column: count === 1 ? '1 line' : `${count} lines` }),
      })
    }
  }
}

/** Block names that differ only in case or spaces are one block, spelled as it stands first. */
const oneSpellingOfBlocks = (shots: readonly ShotReading[]): ShotReading[] => {
  const spelled = new Map<string, string>()
  return shots.map((shot) => {
    if (shot.block === null) return shot
    const tidied = shot.block.trim().replace(/\s+/g, ' ')
    const key = tidied.toLowerCase().replace(/\s/g, '')
    if (!spelled.has(key)) spelled.set(key, tidied)
    return { ...shot, block: spelled.get(key)! }
  })
}

/** Takes the noise of the conversion's last bits off (0.9144 · 250 is 228.6, not 228.60000000000002). */
const tidy = (value: number): number => Number(value.toPrecision(12))

/**
 * Total spin and axis from back and side spin, where the file gives those instead. Side spin + curves the ball
 * right, as the axis does: total = √(back² + side²), axis = atan2(side, back) (vector parts of one rotation).
 * Without side spin the axis, or no tilt at all, stands in.
 */
const deriveSpin = (
  metrics: Record<MetricName, number | null>,
  numbers: ReadonlyMap<NumberTarget, number>,
) => {
  const back = numbers.get('spinBackRpm')
  const side = numbers.get('spinSideRpm')
  if (back === undefined) return
  if (side !== undefined) {
    metrics.spinRpm ??= tidy(Math.hypot(back, side))
    metrics.spinAxisDeg ??= back === 0 && side === 0 ? null : tidy((Math.atan2(side, back) * 180) / Math.PI)
  } else {
    const axis = metrics.spinAxisDeg
    metrics.spinRpm ??=
      axis !== null && Math.abs(axis) < 80 ? tidy(back / Math.cos((axis * Math.PI) / 180)) : back
  }
}

/** One ISO text from a date column and a time column, or from one column holding both. */
const joinTimes = (times: readonly WallTimeReading[], order: DateOrder): string | null => {
  const whole = times.find((t) => t.date && t.clock)
  const date = whole?.date ?? times.find((t) => t.date)?.date ?? null
  const withClock = whole ?? times.find((t) => t.clock)
  if (!date && !withClock) return null
  return isoOf({ date, clock: withClock?.clock ?? null, zone: withClock?.zone ?? null }, order)
}

/** The same contradiction in most rows is seldom the player's doing: more likely a unit is wrong. */
const noteFrequentFlags = (shots: readonly ShotReading[], headerLine: number, problems: ShotsProblem[]) => {
  const counts = new Map<string, number>()
  for (const shot of shots) {
    for (const metric of new Set(shot.flags.filter((f) => f.code !== 'unlikely').map((f) => f.metric))) {
      counts.set(metric, (counts.get(metric) ?? 0) + 1)
    }
  }
  for (const [metric, count] of counts) {
    if (shots.length >= 4 && count > shots.length / 2) {
      problems.push({
        line: headerLine,
        column: null,
        kind: 'assumed',
        message: said('column.looksWrong', { column: metric, wrong: count, all: shots.length }),
      })
    }
  }
}
