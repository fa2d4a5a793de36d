import type { MotionCurve } from './motion-curve.ts'
import { medianFrameSeconds, swingBursts } from './swing-bursts.ts'

/** Where a capture rate comes from: told by the coach, a tag in the file, the file's own rate, or the motion in it. */
export type CaptureRateSource = 'told' | 'tag' | 'container' | 'motion' | 'assumed'
export type CaptureRateGuess = { captureRate: number; how: CaptureRateSource }

/** Rates that cameras offer (common practice, no source). */
const usualRates = [24, 25, 30, 48, 50, 60, 100, 120, 240, 480, 960]

/** Tags that carry the rate at which the camera filmed, in the order they are trusted. */
const rateTags = ['com.android.capture.fps', 'com.apple.quicktime.capture.fps', 'capture_fps', 'capturefps']

/**
 * Frames per second that the file plays, by its own timestamps: the usual rate that the mean, or when frames were dropped
 * the middle gap between frames agrees with; when they come unevenly, the usual rate near the mean; else the mean.
 * Null if there are fewer than two frames.
 */
export const playbackRateOf = (atSeconds: ArrayLike<number>): number | null => {
  const count = atSeconds.length
  if (count < 2) return null
  const span = atSeconds[count - 1]! - atSeconds[0]!
  if (!(span > 0)) return null
  const mean = (count - 1) / span
  const near = (rate: number, usual: number[], share: number) =>
    usual
      .filter((u) => Math.abs(rate - u) < share * u)
      .sort((a, b) => Math.abs(rate - a) - Math.abs(rate - b))[0] ?? null
  const broadcast = usualRates.map((rate) => (rate * 1000) / 1001)
  const middle = medianFrameSeconds(atSeconds)
  const gaps = Array.from({ length: count - 1 }, (_, i) => atSeconds[i + 1]! - atSeconds[i]!)
  // A dropped frame makes a gap of two; anything between whole gaps is a clock that wanders.
  const steps = gaps.map((gap) => Math.max(1, Math.round(gap / middle)))
  const uneven = gaps.filter((gap, i) => Math.abs(gap / middle - steps[i]!) > 0.03).length / count
  const undropped = steps.reduce((sum, step) => sum + step, 0) / span
  if (uneven > 0.15) return near(undropped, usualRates, 0.08) ?? mean
  return near(mean, [...usualRates, ...broadcast], 4e-4) ?? near(1 / middle, usualRates, 0.012) ?? mean
}

const tagRate = (tags: Record<string, string>): number | null => {
  const lower = new Map(Object.entries(tags).map(([key, value]) => [key.toLowerCase(), value]))
  for (const tag of rateTags) {
    const value = Number.parseFloat(lower.get(tag) ?? '')
    if (value >= 10 && value <= 2000) return value
  }
  return null
}

/** Distance of `seconds` from a usual value, in squared "usual factors" (1 for a factor of `spread`). */
const unusual = (seconds: number, usual: number, spread: number): number =>
  Math.min(12, (Math.log(seconds / usual) / Math.log(spread)) ** 2)

/**
 * How well the clip's clearest burst of motion fits a swing if the clip was filmed `stretch` times faster than it plays;
 * higher is better, null without a burst. Downswing about 0.27 s and backswing about 0.85 s (tour players' medians, 1,400
 * labelled swings and Grober & Cholewicki's 8 and 24 frames at 30 Hz); the width of the fast part is our own estimate.
 */
const fitOf = (curve: MotionCurve, stretch: number): number | null => {
  let best: number | null = null
  for (const burst of swingBursts(curve, stretch)) {
    const { top, takeaway } = burst
    const at = (frame: number) => curve.atSeconds[frame]! / stretch
    let cost = unusual(burst.fastSeconds, 0.4, 1.9)
    cost += top === null ? 4 : unusual(Math.max(0.01, burst.peakSeconds - at(top)), 0.27, 1.5)
    cost += top === null || takeaway === null ? 4 : unusual(Math.max(0.01, at(top) - at(takeaway)), 0.85, 1.5)
    cost -= 2 * Math.log(Math.max(0.02, burst.clearness)) + 0.5 * Math.log(burst.height + 1e-3)
    if (best === null || -cost > best) best = -cost
  }
  return best
}

/** A swing read at its true rate fits better than this, something else at a wrong one mostly worse (drawn figures, 24 scenes). */
const clearFit = -4.5

/**
 * At what rate the clip was filmed. A tag in the file counts first; a file that plays at 100 frames/s or more was filmed so;
 * else the motion is read as a swing at each usual rate: if it only makes sense slowed down, the clip is stretched slow
 * motion (how `motion`), else it plays as filmed (`container` when the motion agrees, `assumed` when it shows no swing).
 */
export const guessCaptureRate = (input: {
  playbackRate: number
  tags?: Record<string, string>
  curve?: MotionCurve | null
}): CaptureRateGuess => {
  const { playbackRate, curve } = input
  const tagged = tagRate(input.tags ?? {})
  // A tag below the playback rate would mean a speeded-up clip: not what a camera writes for a swing.
  if (tagged !== null && tagged > playbackRate * 0.9) {
    return {
      captureRate: Math.abs(tagged - playbackRate) < 0.03 * playbackRate ? playbackRate : tagged,
      how: 'tag',
    }
  }
  if (playbackRate >= 100) return { captureRate: playbackRate, how: 'container' }
  const plain = curve ? fitOf(curve, 1) : null
  let best: CaptureRateGuess = {
    captureRate: playbackRate,
    how: plain !== null && plain > clearFit ? 'container' : 'assumed',
  }
  // Most clips play as they were filmed, and slow motion mostly comes at 120 or 240 (common practice, no source).
  let bestFit = plain ?? -12
  for (const captureRate of usualRates) {
    if (!curve || captureRate < 100 || captureRate < 1.8 * playbackRate) continue
    const fit = fitOf(curve, captureRate / playbackRate)
    if (fit === null || fit < clearFit) continue
    const less =
      (captureRate === 120 || captureRate === 240 ? 0 : 2) + ((plain ?? -12) > clearFit ? 2.5 : 0.7)
    if (fit - less > bestFit) {
      bestFit = fit - less
      best = { captureRate, how: 'motion' }
    }
  }
  return best
}
