import type { AssumedUnit } from '../model/shot.ts'
import { usable, type Flagged } from '../shots/usable.ts'
import type { ReportShot } from './report-input.ts'

/** A recorded shot as every report takes it: only the values that may take part, with what was withheld beside them. */
export const reportShot = (
  shot: Flagged & {
    id: string
    club: string | null
    isLeftOut?: boolean
    assumed?: readonly AssumedUnit[]
  },
  cues: readonly string[] = [],
): ReportShot => {
  const { shot: taken, withheld } = usable(shot)
  return { ...taken, cues, isLeftOut: shot.isLeftOut ?? false, withheld, assumed: shot.assumed ?? [] }
}
