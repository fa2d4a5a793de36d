import { z } from 'zod'
import { isNumberTarget, type NumberTarget } from './column-names.ts'
import { delimiters } from './read-records.ts'
import type { ReadShotsOptions } from './read-shots.ts'
import { dimensions } from './unit.ts'

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
