import { mean } from './mean.ts'
import { presentPairs } from './reading.ts'
import type { Readings, Reason } from './reading.ts'
import { covariance, variance } from './variance.ts'

/** How a ratio with speed in its denominator changes with speed, and what misread speeds alone would make of it. */
export interface RatioSlope {
  slopeNaive: number | null
  /** Slope that misread speeds alone would make: −ē·u²/(v̄·s_v²). */
  slopeFromNoiseAlone: number | null
  slopeCorrected: number | null
  /** 1 − u²/s_v². */
  reliability: number | null
  reason: Reason | null
}

/**
 * Slope of a ratio (ball speed over club speed) against its own denominator. An error in club speed sits in both
 * axes and tilts the line down with no cause in the player; moments take it out:
 * [cov(e, v) + ē·u²/v̄]/(s_v² − u²). Sources: Pearson 1897, Proc R Soc 60:489; Archie 1981, Ann Surg 193:296;
 * Fuller 1987, Measurement Error Models.
 */
export function ratioSlope(speed: Readings, ratio: Readings, options: { speedSem: number }): RatioSlope {
  const { first: x, second: r } = presentPairs(speed, ratio)
  const none = { slopeNaive: null, slopeFromNoiseAlone: null, slopeCorrected: null, reliability: null }
  if (x.length < 2) return { ...none, reason: 'too-few' }
  const spread = variance(x)
  if (!(spread > 0)) return { ...none, reason: 'not-enough-range' }
  const error = options.speedSem ** 2
  const shared = (mean(r) * error) / mean(x)
  const known = {
    slopeNaive: covariance(r, x) / spread,
    slopeFromNoiseAlone: -shared / spread,
    reliability: 1 - error / spread,
  }
  if (error >= spread) return { ...known, slopeCorrected: null, reason: 'not-enough-range' }
  return { ...known, slopeCorrected: (covariance(r, x) + shared) / (spread - error), reason: null }
}
