import { Problem } from '../problem.ts'
import { isStandardClub } from '../model/club.ts'
import { metricNames, noMetrics, type MetricName, type ShotFlag, type ShotReading } from '../model/shot.ts'
import {
  dimensionOf,
  isNumberTarget,
  readHeader,
  type ColumnTarget,
  type HeaderReading,
  type NumberTarget,
} from './column-names.ts'
import { assertText } from './decode-text.ts'
import { flagsOf, isThinkable } from './flags-of.ts'
import { guessUnit, type UnitHow } from './guess-unit.ts'
import { readClub } from './read-club.ts'
import { findDecimalMark, isMissing, readCell, type DecimalMark, type SideWords } from './read-number.ts'
import { delimiters, readRecords, type Delimiter, type TableRecord } from './read-records.ts'
import { summaryRowWord } from './summary-row-word.ts'
import { bare, isAnyUnit, readUnit, unitFactor, unitNames, type Dimension } from './unit.ts'
import { findDateOrder, isoOf, readWallTime, type DateOrder, type WallTimeReading } from './read-wall-time.ts'

/** What the coach says a column is; `unit` is one of `unitNames` or another spelling of it. */
export type ColumnMapping =
  | { metric: NumberTarget; unit?: string }
  | 'club'
  | 'at'
  | 'date'
  | 'time'
  | 'block'
  | 'shotNumber'
  | 'ignore'

export type ReadShotsOptions = {
  /** By header, as the file writes it; goes before everything the reader finds out itself. */
  mapping?: Readonly<Record<string, ColumnMapping>>
  /** Units for columns whose file states none. */
  units?: Partial<Record<Dimension, string>>
  decimalMark?: DecimalMark
  delimiter?: Delimiter
  dateOrder?: DateOrder
  /** Needed only for files that write "in-out" or "open" instead of a sign. */
  playingSide?: 'right' | 'left'
}

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
   * `second` another column already holds this; `unknown`.
   */
  how: 'mapping' | 'header' | 'units-row' | 'cells' | UnitHow | 'name' | 'second' | 'unknown'
  /** First few different cells. */
  samples: string[]
}

export type ShotsProblem = {
  /** 1-based line of the file; the header's line for what concerns a whole column, 1 for the whole file. */
  line: number
  /** Header of the column, or null when it concerns the row or the file. */
  column: string | null
  message: string
  /** `cell` and `row`: something was lost; `skipped`: left out on purpose; `assumed`: to be checked by the coach. */
  kind: 'cell' | 'row' | 'skipped' | 'assumed'
}

export type ShotsReading = {
  shots: ShotReading[]
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
    throw new Problem('shots-empty', 'The file is empty', {
      toDo: 'Export the shots from the device again and take that file',
    })
  }
  const table = findTable(text, options)
  const problems: ShotsProblem[] = table.brokenLines.map((line) => ({
    line,
    column: null,
    kind: 'row',
    message: 'a quotation mark opens or closes in the wrong place; the line was left out',
  }))

  const header = uniqueHeaders(table.header.cells)
  const rest = table.records.slice(table.headerIndex + 1)
  const unitsRow = rest[0] && isUnitsRow(rest[0], header) ? rest[0] : null
  const rows = dataRows(unitsRow ? rest.slice(1) : rest, table.header, header, options, problems)
  const columns = mapColumns(header, unitsRow, rows, options)

  const decimalMark = options.decimalMark ?? decimalMarkOf(columns, rows, table, problems)
  settleUnits(columns, rows, decimalMark, options, table.header.line, problems)
  const dateOrder = dateOrderOf(columns, rows, decimalMark, table, options, problems)

  const shots: ShotReading[] = []
  for (const row of rows) {
    const shot = readRow(row, {
      columns,
      decimalMark,
      dateOrder,
      playingSide: options.playingSide ?? null,
      problems,
    })
    if (shot) shots.push(shot)
  }
  noteFrequentFlags(shots, table.header.line, problems)
  problems.sort((a, b) => a.line - b.line)
  return {
    shots,
    columns: columns.map(({ header, target, unit, how, samples }) => ({
      header,
      target,
      unit,
      how,
      samples,
    })),
    unmapped: columns.filter((c) => c.target === null && c.how === 'unknown').map((c) => c.header),
    problems,
    delimiter: table.delimiter,
    decimalMark,
    headerLine: table.header.line,
  }
}

// ---------------------------------------------------------------- the table and its header

type Table = {
  delimiter: Delimiter
  records: TableRecord[]
  brokenLines: number[]
  header: TableRecord
  headerIndex: number
}

/** A header stands within the first lines; title and metadata lines before it are rarely more than a dozen. */
const deepestHeader = 60

const findTable = (text: string, options: ReadShotsOptions): Table => {
  const head = text
    .replace(/^\ufeff/, '')
    .split(/\r\n?|\n/, deepestHeader + 40)
    .join('\n')
  let best: { delimiter: Delimiter; score: number; line: number } | null = null
  for (const delimiter of options.delimiter ? [options.delimiter] : delimiters) {
    const { records } = readRecords(head, delimiter)
    records.slice(0, deepestHeader).forEach((record) => {
      const score = headerScore(record.cells, options)
      if (score > (best?.score ?? 0)) best = { delimiter, score, line: record.line }
    })
  }
  const found = best as { delimiter: Delimiter; score: number; line: number } | null
  if (!found) {
    throw new Problem('shots-no-header', 'No line with column names was found', {
      where: `the first ${Math.min(deepestHeader, head.split('\n').length)} lines`,
      toDo: 'Check that this is a table of shots with column names such as Club Speed, Ball Speed, Carry, or say what its columns are',
    })
  }
  const { records, brokenLines } = readRecords(text, found.delimiter)
  const headerIndex = records.findIndex((r) => r.line === found.line)
  const header = records[headerIndex]!
  // Quotation marks in the title lines above the table lose nothing.
  return {
    delimiter: found.delimiter,
    records,
    brokenLines: brokenLines.filter((l) => l > header.line),
    header,
    headerIndex,
  }
}

/** How much a row looks like the header: its known names, numbers of the shot counting most. 0 = not a header. */
const headerScore = (cells: readonly string[], options: ReadShotsOptions): number => {
  const seen = new Set<string>()
  let numbers = 0
  for (const cell of cells) {
    const mapped = mappingOf(cell, options)
    const target =
      mapped === undefined
        ? readHeader(cell).target
        : mapped === 'ignore'
          ? null
          : typeof mapped === 'string'
            ? mapped
            : mapped.metric
    if (target === null || seen.has(target)) continue
    seen.add(target)
    if (isNumberTarget(target)) numbers++
  }
  return numbers === 0 ? 0 : numbers * 2 + (seen.size - numbers)
}

const mappingOf = (header: string, options: ReadShotsOptions): ColumnMapping | undefined => {
  const { mapping } = options
  if (!mapping) return undefined
  const name = header.trim().replace(/\s+/g, ' ')
  return Object.hasOwn(mapping, name) ? mapping[name] : undefined
}

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

/** The rows that may hold shots: without repeated headers, averages and rows with too many cells. */
const dataRows = (
  records: readonly TableRecord[],
  headerRecord: TableRecord,
  header: readonly string[],
  options: ReadShotsOptions,
  problems: ShotsProblem[],
): TableRecord[] => {
  const rows: TableRecord[] = []
  const headerText = headerRecord.cells.map(bare).join('\u0000')
  const ownScore = headerScore(headerRecord.cells, options)
  for (const record of records) {
    const report = (kind: ShotsProblem['kind'], message: string, column: string | null = null) =>
      problems.push({ line: record.line, column, message, kind })
    if (record.cells.map(bare).join('\u0000') === headerText) {
      report('skipped', 'the column names again; the line was left out')
      continue
    }
    if (
      !record.cells.some((c) => /^[+-]?\d/.test(c.trim())) &&
      headerScore(record.cells, options) >= Math.max(4, ownScore / 2)
    ) {
      report(
        'row',
        'another table with other columns starts here; everything from here on was left out. Put it into a file of its own',
      )
      break
    }
    const word = summaryRowWord(record.cells)
    if (word !== null) {
      report('skipped', `a line of "${word}", not a shot; left out`)
      continue
    }
    const filled = record.cells.findLastIndex((c) => c.trim() !== '') + 1
    if (filled > header.length) {
      report(
        'row',
        `${filled} cells where the header has ${header.length}: the values can't be told apart; the line was left out`,
      )
      continue
    }
    if (record.cells.length < header.length && record.cells.length > 1) {
      report(
        'row',
        `the line ends after ${record.cells.length} of ${header.length} cells; its last value may be cut off`,
        header[record.cells.length - 1]!,
      )
    }
    rows.push(record)
  }
  return rows
}

// ---------------------------------------------------------------- columns and units

type Column = ShotColumn & { index: number; rank: number }

const mapColumns = (
  header: readonly string[],
  unitsRow: TableRecord | null,
  rows: readonly TableRecord[],
  options: ReadShotsOptions,
): Column[] => {
  for (const name of Object.keys(options.mapping ?? {})) {
    if (!header.some((h) => h === name || h.replace(/ \(\d+\)$/, '') === name)) {
      throw new Problem('shots-mapping', `The file has no column "${name}"`, {
        toDo: `Its columns are: ${header.join(', ')}`,
      })
    }
  }

  const columns = header.map((name, index): Column => {
    const mapped = mappingOf(name, options)
    const samples = samplesOf(rows, index)
    const base = { header: name, index, samples }
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
        : rivals.reduce((a, b) => (hasCells(b) && (!hasCells(a) || b.rank < a.rank) ? b : a))
    for (const rival of rivals) {
      if (rival !== kept) {
        Object.assign(rival, { target: null, unit: null, how: 'second' } satisfies Partial<Column>)
      }
    }
  }
  return columns
}

const hasCells = (column: Column) => column.samples.length > 0

const mappedUnit = (header: string, mapping: { metric: NumberTarget; unit?: string }): string | null => {
  if (!Object.hasOwn(dimensionOf, mapping.metric)) {
    throw new Problem('shots-mapping', `"${mapping.metric}" is no number of a shot`, {
      where: header,
      toDo: `Use one of ${Object.keys(dimensionOf).join(', ')}`,
    })
  }
  if (mapping.unit === undefined) return null
  const dimension = dimensionOf[mapping.metric]
  const unit = readUnit(mapping.unit, dimension)
  if (unit === null) {
    throw new Problem('shots-mapping', `"${mapping.unit}" is no unit for ${mapping.metric}`, {
      where: header,
      toDo: `Use one of ${unitNames(dimension).filter(Boolean).join(', ')}`,
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

const sideWordsOf: Partial<Record<NumberTarget, SideWords>> = {
  startLineDeg: 'leftRight',
  spinAxisDeg: 'leftRight',
  sideM: 'leftRight',
  spinSideRpm: 'leftRight',
  clubPathDeg: 'path',
  faceDeg: 'face',
  faceToPathDeg: 'face',
  attackDeg: 'upDown',
  launchDeg: 'upDown',
  impactXMm: 'toeHeel',
  impactYMm: 'highLow',
}

const decimalMarkOf = (
  columns: readonly Column[],
  rows: readonly TableRecord[],
  table: Table,
  problems: ShotsProblem[],
): DecimalMark => {
  const cells = columns.flatMap((column) => {
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
      message: `the decimal mark can't be told for sure; "${mark}" was assumed`,
    })
  }
  return mark
}

const isMetric = (target: string): target is MetricName => (metricNames as readonly string[]).includes(target)

/** Gives every number column a unit: what the file states, then the coach's word, then the reader's guess, reported. */
const settleUnits = (
  columns: Column[],
  rows: readonly TableRecord[],
  mark: DecimalMark,
  options: ReadShotsOptions,
  headerLine: number,
  problems: ShotsProblem[],
) => {
  const open: { column: Column; target: NumberTarget; values: { value: number; club: string | null }[] }[] =
    []
  const clubIndex = columns.find((c) => c.target === 'club')?.index
  for (const column of columns) {
    const { target } = column
    if (!target || target === 'ignored' || !isNumberTarget(target) || column.unit !== null) continue
    const dimension = dimensionOf[target]
    const values: { value: number; club: string | null }[] = []
    const cellUnits = new Map<string, number>()
    for (const row of rows) {
      const cell = readCell(row.cells[column.index] ?? '', {
        mark,
        dimension,
        sideWords: sideWordsOf[target] ?? 'none',
        playingSide: options.playingSide ?? 'right',
      })
      if (cell.kind !== 'value') continue
      if (cell.unit === null) {
        values.push({
          value: cell.value,
          club: clubIndex === undefined ? null : readClub(row.cells[clubIndex] ?? ''),
        })
      } else cellUnits.set(cell.unit, (cellUnits.get(cell.unit) ?? 0) + 1)
    }
    if (cellUnits.size > 0) {
      const [unit] = [...cellUnits].reduce((a, b) => (b[1] > a[1] ? b : a))
      Object.assign(column, { unit, how: 'cells' } satisfies Partial<Column>)
      if (values.length > 0) {
        problems.push({
          line: headerLine,
          column: column.header,
          kind: 'assumed',
          message: `${values.length} of its cells state no unit; ${unit}, as in the other cells, was assumed`,
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
      throw new Problem('shots-mapping', `"${asked}" is no unit of ${dimension}`, {
        toDo: `Use one of ${unitNames(dimension).filter(Boolean).join(', ')}`,
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
        message: `the file states no unit; ${guess.unit} was assumed ${guess.why}`,
      })
    }
  }
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
  const words = order === 'month-day' ? 'month before day' : 'day before month'
  const column = own.find((c) => c.target !== 'time')?.header ?? null
  if (found.mixed) {
    problems.push({
      line: table.header.line,
      column,
      kind: 'assumed',
      message: `the dates contradict each other in the order of day and month; ${words} was assumed`,
    })
  } else if (found.isOpen) {
    problems.push({
      line: table.header.line,
      column,
      kind: 'assumed',
      message: `nothing in the file tells the order of day and month; ${words} was assumed`,
    })
  }
  return order
}

// ---------------------------------------------------------------- rows

type RowContext = {
  columns: readonly Column[]
  decimalMark: DecimalMark
  dateOrder: DateOrder
  playingSide: 'right' | 'left' | null
  problems: ShotsProblem[]
}

const readRow = (row: TableRecord, context: RowContext): ShotReading | null => {
  const { columns, decimalMark, dateOrder, playingSide, problems } = context
  const report = (column: string | null, kind: ShotsProblem['kind'], message: string) =>
    problems.push({ line: row.line, column, message, kind })
  const numbers = new Map<NumberTarget, number>()
  const other: Record<string, string> = {}
  const times: WallTimeReading[] = []
  let club: string | null = null
  let block: string | null = null

  for (const column of columns) {
    const cell = row.cells[column.index] ?? ''
    const { target } = column
    if (target === 'ignored') continue
    const keep = () => {
      if (cell.trim() !== '') other[column.header] = cell.trim()
    }
    if (target === null || target === 'shotNumber') keep()
    else if (target === 'club') club = readClub(cell)
    else if (target === 'block') block = isMissing(cell) ? null : cell.trim()
    else if (isNumberTarget(target)) {
      const dimension = dimensionOf[target]
      const reading = readCell(cell, {
        mark: decimalMark,
        dimension,
        sideWords: sideWordsOf[target] ?? 'none',
        playingSide,
      })
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
          `"${cell.trim()}" is not a ${target === 'date' ? 'date' : target === 'time' ? 'time of day' : 'date and time'}`,
        )
      } else times.push(reading)
    }
  }

  const metrics = noMetrics()
  for (const name of metricNames) metrics[name] = numbers.get(name) ?? null
  deriveSpin(metrics, numbers)
  const faceToPath = numbers.get('faceToPathDeg')
  if (metrics.faceDeg === null && metrics.clubPathDeg !== null && faceToPath !== undefined) {
    metrics.faceDeg = tidy(metrics.clubPathDeg + faceToPath)
  }
  if (metricNames.every((name) => metrics[name] === null)) {
    report(null, 'row', 'no usable number of a shot in this line; it was left out')
    return null
  }
  const flags: ShotFlag[] = flagsOf(metrics, club, {
    smash: numbers.get('smash') ?? null,
    spinBackRpm: numbers.get('spinBackRpm') ?? null,
    spinSideRpm: numbers.get('spinSideRpm') ?? null,
  })
  return { ...metrics, line: row.line, club, at: joinTimes(times, dateOrder), block, other, flags }
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
        message: `${metric} looks wrong in ${count} of ${shots.length} shots; check that column's unit`,
      })
    }
  }
}
