import { twoSidedNormal } from '../../../shared-core/statistics/distributions.ts'
import { mean } from '../../../shared-core/statistics/mean.ts'
import { finiteOrNull, isPresent } from '../../../shared-core/statistics/reading.ts'
import type { Reading, Reason } from '../../../shared-core/statistics/reading.ts'

/** Reliability of repeated readings (Shrout & Fleiss 1979). */
export interface Reliability {
  msSubjects: number | null
  msTrials: number | null
  msError: number | null
  icc11: number | null
  icc21: number | null
  icc31: number | null
  /** Standard error of measurement: √msError, in the unit of the readings. */
  sem: number | null
  /** Minimal detectable change of one reading against one reading: 1.96·√2·SEM. */
  mdc95: number | null
  reason: Reason | null
}

/**
 * How well a device repeats itself, from a table of subjects (rows) × repeated trials (columns); rows with a gap
 * are left out. Sources: Shrout & Fleiss 1979, Psychol Bull 86:420; Weir 2005, J Strength Cond Res 19:231.
 */
export function reliability(table: readonly (readonly Reading[])[]): Reliability {
  const columns = Math.max(0, ...table.map((row) => row.length))
  const rows = table.filter((row): row is number[] => row.length === columns && row.every(isPresent))
  const n = rows.length
  if (n < 2 || columns < 2) {
    return {
      msSubjects: null,
      msTrials: null,
      msError: null,
      icc11: null,
      icc21: null,
      icc31: null,
      sem: null,
      mdc95: null,
      reason: 'too-few',
    }
  }
  const grand = mean(rows.flat())
  const rowMeans = rows.map(mean)
  const columnMeans = Array.from({ length: columns }, (_, j) => mean(rows.map((row) => row[j]!)))
  const squares = (values: number[]): number => values.reduce((sum, value) => sum + value * value, 0)
  const msSubjects = (columns * squares(rowMeans.map((value) => value - grand))) / (n - 1)
  const msTrials = (n * squares(columnMeans.map((value) => value - grand))) / (columns - 1)
  const residuals = rows.flatMap((row, i) =>
    row.map((value, j) => value - rowMeans[i]! - columnMeans[j]! + grand),
  )
  const msError = squares(residuals) / ((n - 1) * (columns - 1))
  const msWithin =
    squares(rows.flatMap((row, i) => row.map((value) => value - rowMeans[i]!))) / (n * (columns - 1))
  const k = columns
  const sem = Math.sqrt(msError)
  const icc11 = finiteOrNull((msSubjects - msWithin) / (msSubjects + (k - 1) * msWithin))
  return {
    msSubjects,
    msTrials,
    msError,
    icc11,
    icc21: finiteOrNull(
      (msSubjects - msError) / (msSubjects + (k - 1) * msError + (k * (msTrials - msError)) / n),
    ),
    icc31: finiteOrNull((msSubjects - msError) / (msSubjects + (k - 1) * msError)),
    sem,
    mdc95: twoSidedNormal(0.95) * Math.SQRT2 * sem,
    reason: icc11 === null ? 'no-spread' : null,
  }
}
