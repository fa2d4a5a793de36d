import padjust from '@stdlib/stats-padjust'
import { isPresent } from './reading.ts'
import type { Readings } from './reading.ts'

/**
 * p-values adjusted for looking at several at once (Holm's step-down); null stays null and is not counted. Valid
 * under any dependence. The family is everything shown together. Source: Holm 1979, Scand J Stat 6:65.
 */
export function holm(pValues: Readings): (number | null)[] {
  const present = pValues.filter(isPresent)
  const adjusted = present.length > 0 ? padjust(present, 'holm') : []
  let next = 0
  return pValues.map((p) => (isPresent(p) ? adjusted[next++]! : null))
}
