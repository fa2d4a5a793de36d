import type { MeasureName } from '../model/measures.ts'
import type { ShotMetrics } from '../model/shot.ts'

/** A shot as the reports of change need it; the rows of a shot file and the shots of a library both fit. */
export interface ChangeShot extends Partial<ShotMetrics>, Partial<Record<MeasureName, number | null>> {
  club?: string | null
  /** Keys of the cues tagged on this swing. */
  cues?: readonly string[]
  /** The coach left it out; it is counted, never dropped silently. */
  isLeftOut?: boolean
}

/** A run of shots in the order they were hit. */
export interface ChangeBlock {
  label: string
  shots: readonly ChangeShot[]
  /** The block hit as the student came; without any mark the first block is the baseline. */
  isBaseline?: boolean
}

/** The blocks of one lesson in the order they were hit. */
export interface ChangeLesson {
  label: string
  /** Day of the lesson, YYYY-MM-DD. */
  date: string
  blocks: readonly ChangeBlock[]
}
