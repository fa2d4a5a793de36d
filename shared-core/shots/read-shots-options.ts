import { z } from 'zod'
import type { NumberTarget } from './column-target.ts'
import { isNumberTarget } from './column-names.ts'
import type { DecimalMark } from './read-number.ts'
import { delimiters, type Delimiter } from './read-records.ts'
import type { DateOrder } from './read-wall-time.ts'
import { dimensions, type Dimension } from './unit.ts'

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

/** What the coach says of the file. */
export type ReadShotsOptions = {
  /** By header, as the file writes it; goes before everything the reader finds out itself. */
  mapping?: Readonly<Record<string, ColumnMapping>>
  /** Units for columns whose file states none. */
  units?: Partial<Record<Dimension, string>>
  decimalMark?: DecimalMark
  delimiter?: Delimiter
  dateOrder?: DateOrder
  /** What is done with rows that list a shot a second time; 'once' says so for each of them. Default 'once'. */
  doubled?: 'once' | 'all'
  /** Needed only for files that write "in-out" or "open" instead of a sign. */
  playingSide?: 'right' | 'left'
}

const unit = z.string().max(60)
const mapping = z.union([
  z.strictObject({
    metric: z.custom<NumberTarget>((value) => typeof value === 'string' && isNumberTarget(value), 'a metric'),
    unit: unit.optional(),
  }),
  z.enum(['club', 'at', 'date', 'time', 'block', 'shotNumber', 'ignore']),
])

/** What a window or a command says of a file of shots. */
export const readShotsOptionsSchema = z
  .strictObject({
    mapping: z.record(z.string(), mapping),
    units: z.partialRecord(z.enum(dimensions), unit),
    decimalMark: z.enum(['.', ',']),
    delimiter: z.enum(delimiters),
    dateOrder: z.enum(['day-month', 'month-day']),
    doubled: z.enum(['once', 'all']),
    playingSide: z.enum(['right', 'left']),
  } satisfies Record<keyof ReadShotsOptions, z.ZodType>)
  .partial()
