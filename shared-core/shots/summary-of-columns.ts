import type { ColumnTarget } from './column-target.ts'
import { dimensionOf, isNumberTarget } from './column-names.ts'
import type { ShotsReading } from './read-shots.ts'
import { unitNames } from './unit.ts'

/** What is to be asked about a column. */
export type ColumnQuestion = {
  header: string
  samples: string[]
  /** `unknown`: what is this column? `unit`: is this unit right? */
  asks: 'unknown' | 'unit'
  target: ColumnTarget | null
  /** Unit assumed so far, and the ones to choose from. */
  unit: string | null
  units: string[]
}

/**
 * What the window asks the coach after reading a file: columns nobody could map (only those that hold something)
 * and units that were assumed. The answers go back into `readShots` as `mapping`.
 */
export const summaryOfColumns = (
  reading: ShotsReading,
): {
  known: { header: string; target: ColumnTarget; unit: string | null }[]
  questions: ColumnQuestion[]
} => {
  const known: { header: string; target: ColumnTarget; unit: string | null }[] = []
  const questions: ColumnQuestion[] = []
  for (const { header, target, unit, how, samples } of reading.columns) {
    if (target === 'ignored' || how === 'second' || how === 'side') continue
    if (target === null) {
      if (samples.length > 0) {
        questions.push({ header, samples, asks: 'unknown', target: null, unit: null, units: [] })
      }
    } else if (isNumberTarget(target) && (how === 'assumed' || how === 'like') && samples.length > 0) {
      questions.push({
        header,
        samples,
        asks: 'unit',
        target,
        unit,
        units: unitNames(dimensionOf[target]).filter(Boolean),
      })
    } else known.push({ header, target, unit })
  }
  return { known, questions }
}
