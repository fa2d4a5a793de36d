import type { MeasureName } from '../model/measures.ts'
import type { Measured } from '../timing/tempo.ts'

/** What was measured of a swing. */
export type MeasuredValues = Partial<Record<MeasureName, Measured>>

/** What the pictures of one swing give. */
export interface MeasuredSwing {
  readonly swingId: string
  readonly blockId: string
  readonly club: string | null
  readonly isLeftOut: boolean
  readonly cues: readonly string[]
  readonly values: MeasuredValues
  /** Clips of this swing whose body points were read. */
  readonly bodyClipIds: readonly string[]
  /** Width of the shoulders at setup, metres, where a scale is set. */
  readonly shoulderWidthM: number | null
  /** What the body's values rest on and what these cameras can't see, in sentences. */
  readonly bodyRemarks: readonly string[]
  /** What the values rest on and what these cameras can't tell, in sentences. */
  readonly remarks: readonly string[]
}
