import { rampOf, realTimes } from '../timing/ramp.ts'
import type { SeenBall } from './ball-spot.ts'
import type { MotionCurve } from './motion-curve.ts'
import { medianFrameSeconds, swingBursts } from './swing-bursts.ts'

/** Where a capture rate comes from: told by the coach, a tag in the file, the file's own rate, or the motion in it. */
export type CaptureRateSource = 'told' | 'tag' | 'container' | 'motion' | 'assumed'
export type CaptureRateGuess = {
  captureRate: number
  how: CaptureRateSource
  /** 0 to 1: how much likelier than all other rates; 1 where the file or the coach says it. */
  confidence: number
}

/** Rates that cameras offer (common practice, no source). */
const usualRates = [24, 25, 30, 48, 50, 60, 90, 100, 120, 240, 480, 960]

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

/** Log likelihood of a duration: usual value and factor of spread (a log-normal one), its tail cut at five spreads. */
const usual = (seconds: number, middle: number, factor: number): number =>
  -0.5 * Math.min(25, (Math.log(Math.max(0.01, seconds) / middle) / Math.log(factor)) ** 2)

/**
 * How well the clearest swing of the clip fits real time `times`: log likelihood, null without a burst of motion. From takeaway to
 * impact 1.14 s, backswing 3.3 times the downswing (tour players' medians, open data of 1,400 labelled swings; Grober &
 * Cholewicki's 24 and 8 frames at 30 Hz), within factors of 1.22 and 1.35 (wider than theirs, for amateurs; no source). A ball
 * that was seen to go names the end of the downswing, else the greatest change does.
 */
const fitOf = (curve: MotionCurve, times: Float64Array, balls: readonly SeenBall[]): number | null => {
  let best: number | null = null
  for (const burst of swingBursts(curve, times)) {
    const { top, takeaway } = burst
    let impact = burst.peakSeconds
    let seen = 0
    for (const ball of balls) {
      if (
        ball.chance < 0.3 ||
        Math.abs(times[ball.frame]! - burst.peakSeconds) > 0.16 ||
        ball.chance <= seen
      ) {
        continue
      }
      seen = ball.chance
      impact = times[ball.frame]!
    }
    let fit = usual(burst.fastSeconds, 0.45, 1.9) + 1.5 * seen
    if (top === null || takeaway === null || times[top]! >= impact) fit -= 8
    else {
      const back = times[top]! - times[takeaway]!
      const down = impact - times[top]!
      // The picture changes fastest a little before impact, when the arms do.
      fit += seen > 0 ? usual(back + down, 1.14, 1.22) : usual(back + down, 1.06, 1.24)
      fit += seen > 0 ? usual(back / down, 3.3, 1.35) : usual(back / down, 4.3, 1.6)
    }
    fit += Math.log(Math.max(0.02, burst.clearness)) + 0.25 * Math.log(burst.height + 1e-3)
    if (best === null || fit > best) best = fit
  }
  return best
}

/** A swing read at its true rate fits better than this, something else mostly worse (drawn films of the tuning seeds). */
const clearFit = -6
/** A rate guessed from the motion is told from here on; below, the file's own rate stands and is called assumed. */
const leastSure = 0.6

/** How rare slow motion is among clips, and among slow motion rates other than the usual two (common practice, no source). */
const rarity = (captureRate: number, playbackRate: number): number => {
  if (captureRate === playbackRate) return 0
  return captureRate === 120 || captureRate === 240
    ? 1.6
    : captureRate === 60 || captureRate === 50
      ? 2.2
      : 3.6
}

/**
 * At what rate the clip was filmed. A tag in the file counts first; then a slow-motion ramp, whose short gaps are the camera's;
 * a file that plays at 100 frames/s or more was filmed so; else the motion, with the ball, is read as a swing at each usual rate
 * from the file's own up. A guess other than the file's rate is `motion`; where none is likely enough, the file's rate is
 * `container` when a swing fits it and `assumed` when none does.
 */
export const guessCaptureRate = (input: {
  playbackRate: number
  tags?: Record<string, string>
  curve?: MotionCurve | null
  balls?: readonly SeenBall[]
}): CaptureRateGuess => {
  const { playbackRate, curve, balls = [] } = input
  const tagged = tagRate(input.tags ?? {})
  // A tag below the playback rate would mean a speeded-up clip: not what a camera writes for a swing.
  if (tagged !== null && tagged > playbackRate * 0.9) {
    return {
      captureRate: Math.abs(tagged - playbackRate) < 0.03 * playbackRate ? playbackRate : tagged,
      how: 'tag',
      confidence: 1,
    }
  }
  const ramp = curve ? (rampOf(curve.atSeconds)?.captureRate ?? null) : null
  if (ramp !== null) {
    const near = usualRates.find((rate) => Math.abs(rate / ramp - 1) < 0.03)
    return { captureRate: near ?? ramp, how: 'container', confidence: 1 }
  }
  if (playbackRate >= 100) return { captureRate: playbackRate, how: 'container', confidence: 1 }
  const rates = [playbackRate, ...usualRates.filter((rate) => rate >= 1.55 * playbackRate)]
  const judged = rates.map((captureRate) => {
    const fit = curve ? fitOf(curve, realTimes(curve.atSeconds, captureRate / playbackRate), balls) : null
    return { captureRate, fit: fit ?? -14, score: (fit ?? -14) - rarity(captureRate, playbackRate) }
  })
  const plain = judged[0]!
  const best = judged.reduce((one, j) => (j.score > one.score ? j : one))
  const confidence = 1 / judged.reduce((sum, j) => sum + Math.exp(j.score - best.score), 0)
  if (best !== plain && best.fit > clearFit && confidence >= leastSure) {
    return { captureRate: best.captureRate, how: 'motion', confidence }
  }
  return best === plain && plain.fit > clearFit && confidence >= leastSure
    ? { captureRate: playbackRate, how: 'container', confidence }
    : { captureRate: playbackRate, how: 'assumed', confidence: best === plain ? confidence : 1 - confidence }
}
