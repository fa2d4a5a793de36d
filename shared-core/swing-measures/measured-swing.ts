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
  /** Values that rest on a guessed capture rate: shown for this swing, but neither compared nor handed over. */
  readonly heldBack?: readonly MeasureName[]
  /** Clips of this swing whose body points were read. */
  readonly bodyClipIds: readonly string[]
  /** Width of the shoulders at setup, metres, where a scale is set. */
  readonly shoulderWidthM: number | null
  /** What the body's values rest on and what these cameras can't see, in sentences. */
  readonly bodyRemarks: readonly string[]
  /** What the values rest on and what these cameras can't tell, in sentences. */
  readonly remarks: readonly string[]
}

/** Whether a value needs to know how fast was filmed; ratios, angles and widths do not. */
export const restsOnCaptureRate = (name: MeasureName): boolean =>
  name.endsWith('Seconds') || name.endsWith('PerS')

/** A swing's values as they may be compared and handed over. */
export const tellableValues = ({ values, heldBack = [] }: MeasuredSwing): MeasuredValues =>
  Object.fromEntries(Object.entries(values).filter(([name]) => !heldBack.includes(name as MeasureName)))
