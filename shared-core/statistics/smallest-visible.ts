import { twoSidedNormal, twoSidedT } from './distributions.ts'
import type { Reason } from './reading.ts'

/** Size and standard deviation of two blocks, in the readings' own unit. */
export interface BlockNoise {
  nBefore: number
  sdBefore: number | null
  nAfter: number
  sdAfter: number | null
}

/** The device's errors, in the readings' own unit. */
export interface DeviceNoise {
  /** One-sigma random error of one reading. */
  deviceErrorSd?: number
  /** One-sigma error that stays constant while the device stands, and changes when it is placed anew. */
  setupErrorSd?: number
  /** False if the device was placed anew between the blocks (other day, other place). */
  sameSetup?: boolean
}

/** The smallest difference that blocks of this size can show, in the readings' own unit. */
export interface SmallestVisible {
  standardError: number | null
  df: number | null
  /** The difference that would just show in these blocks. */
  smallestVisible: number | null
  /** What the device alone can make of no change at all. */
  deviceFloor: number | null
  /** Minimal detectable change of one shot against one shot. */
  singleShotMdc: number | null
  reason: Reason | null
}

/** What the device alone can make of no change: 1.96·√(sem²/n₁ + sem²/n₂ + set); null without shots. */
export function deviceFloor(
  nBefore: number,
  nAfter: number,
  noise: DeviceNoise,
  confidence = 0.95,
): number | null {
  if (nBefore < 1 || nAfter < 1) return null
  const { deviceErrorSd = 0 } = noise
  return (
    twoSidedNormal(confidence) *
    Math.sqrt(deviceErrorSd ** 2 / nBefore + deviceErrorSd ** 2 / nAfter + setupVariance(noise))
  )
}

const setupVariance = ({ setupErrorSd = 0, sameSetup = true }: DeviceNoise): number =>
  sameSetup ? 0 : 2 * setupErrorSd ** 2

/**
 * What two blocks let one see. The blocks' scatter already holds the device's random error, so that error is not
 * added again; a constant error of the set-up is, once per set-up, because it does not average out.
 * Sources: Welch 1947; Weir 2005.
 */
export function smallestVisible(
  blocks: BlockNoise,
  options: DeviceNoise & { confidence?: number } = {},
): SmallestVisible {
  const { confidence = 0.95, deviceErrorSd = 0 } = options
  const { nBefore, sdBefore, nAfter, sdAfter } = blocks
  const z = twoSidedNormal(confidence)
  const floors = {
    deviceFloor: deviceFloor(nBefore, nAfter, options, confidence),
    singleShotMdc: z * Math.SQRT2 * deviceErrorSd,
  }
  if (sdBefore === null || sdAfter === null || nBefore < 2 || nAfter < 2) {
    return { standardError: null, df: null, smallestVisible: null, ...floors, reason: 'too-few' }
  }
  const v1 = sdBefore ** 2 / nBefore
  const v2 = sdAfter ** 2 / nAfter
  const set = setupVariance(options)
  const standardError = Math.sqrt(v1 + v2 + set)
  if (v1 + v2 === 0) return { standardError, df: null, smallestVisible: null, ...floors, reason: 'no-spread' }
  // By shares, so that the square of a tiny variance can't vanish.
  const share = v1 / (v1 + v2)
  const df = 1 / (share ** 2 / (nBefore - 1) + (1 - share) ** 2 / (nAfter - 1))
  return {
    standardError,
    df,
    smallestVisible: Math.sqrt(twoSidedT(confidence, df) ** 2 * (v1 + v2) + z ** 2 * set),
    ...floors,
    reason: null,
  }
}
