import type { MeasureName } from '../model/measures.ts'
import type { Measured } from '../timing/tempo.ts'

export type MeasuredValues = Partial<Record<MeasureName, Measured>>

/** What the pictures of one swing give. */
export interface MeasuredSwing {
  readonly swingId: string
  readonly blockId: string
  readonly club: string | null
  readonly isLeftOut: boolean
  readonly cues: readonly string[]
  readonly values: MeasuredValues
  /** What the values rest on and what these cameras can't tell, in sentences. */
  readonly remarks: readonly string[]
}
