import { rampOf, realTimes } from '../timing/ramp.ts'
import type { SeenBall } from './ball-spot.ts'
import type { MotionCurve } from './motion-curve.ts'
import { medianFrameSeconds, swingBursts, swingFit, usual } from './swing-bursts.ts'

/** Where a capture rate comes from: told by the coach, a tag in the file, the file's own rate, or the motion in it. */
export type CaptureRateSource = 'told' | 'tag' | 'container' | 'motion' | 'assumed'
/** How fast a clip was filmed, frames a second, and how that is known. */
export type CaptureRateGuess = {
  captureRate: number
  how: CaptureRateSource
  /** 0 to 1: how much likelier than all other rates; 1 where the file or the coach says it. */
  confidence: number
  /** Asked about, but likely enough to read the swing by. */
  isLikely?: boolean
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

/**
 * How well the clearest swing of the clip fits real time `times`: log likelihood, null without a burst of motion.
 * A ball that was seen to go names the end of the downswing ({@link swingFit}), else the greatest change does.
 */
const fitOf = (curve: MotionCurve, times: Float64Array, balls: readonly SeenBall[]): number | null => {
  let best: number | null = null
  const bursts = swingBursts(curve, times)
  const highest = Math.max(1e-3, ...bursts.map((b) => b.height))
  for (const burst of bursts) {
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
    // No backswing holds another strike: read too fast, two swings look like one.
    const holdsStrike = balls.some((b) => b.chance > 0.5 && b.frame > takeaway! && b.frame < top!)
    if (top === null || takeaway === null || times[top]! >= impact || holdsStrike) fit -= 8
    else {
      const back = times[top]! - times[takeaway]!
      const down = impact - times[top]!
      // The picture changes fastest a little before impact, when the arms do.
      fit += seen > 0 ? swingFit(back, down) : usual(back + down, 1.06, 1.24) + usual(back / down, 4.3, 1.6)
    }
    fit += Math.log(Math.max(0.02, burst.clearness)) + Math.log(burst.height / highest + 1e-3)
    if (best === null || fit > best) best = fit
  }
  return best
}

/** A swing read at its true rate fits better than this, something else mostly worse (drawn films of the tuning seeds). */
const clearFit = -6
/** A rate guessed from the motion is told from here on; below, the file's own rate stands and is called assumed. */
const minSure = 0.75
/** The file's own rate is called its true one from here on: slow motion stored at 30 reads as a slow player, only less well. */
const minSureOfFile = 0.92
/** And only where a swing fits it well: nine in ten true ones do (drawn films of the tuning seeds). */
const minFitOfFile = -3

/** Steps in which slownesses are tried, and the slowest: 960 frames/s shown at 24. */
const stretchStep = 2 ** 0.25
const maxStretch = 40

/**
 * How many times slower than a usual swing this film's clearest one is shown, whatever it was filmed at: the slowness at which
 * its shape (still, back, the turn, three to four times faster down, the ball) fits best. A swing has one shape, so its
 * moments are found by it even where nobody can tell how fast the camera ran. `around`: a slowness that is known; then only the
 * player's own tempo is left, within a factor of about one and a half.
 */
export const stretchOf = (
  curve: MotionCurve,
  balls: readonly SeenBall[],
  around: { slowness: number; isSure: boolean },
): number => {
  const { slowness, isSure } = around
  const [low, high] = isSure ? [-2, 3] : [-2, Math.ceil(Math.log(maxStretch) / Math.log(stretchStep))]
  let best = { stretch: slowness, score: -Infinity }
  for (let k = low; k <= high; k++) {
    const stretch = slowness * stretchStep ** k
    const own = Math.log(stretch / slowness)
    const fit = fitOf(curve, realTimes(curve.atSeconds, stretch), balls) ?? -14
    // A player's own tempo lies within a quarter of the usual; slow motion is rare, but any slowness of it may be met.
    const score = fit - (isSure ? 0.5 * (own / 0.25) ** 2 : Math.min(2, 0.5 * (own / 0.25) ** 2))
    if (score > best.score) best = { stretch, score }
  }
  return best.stretch
}

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
  /** How many times slower than recorded its sound is played (`soundSlownessOf`); null where it doesn't say. */
  soundSlowness?: number | null
}): CaptureRateGuess => {
  const { playbackRate, curve, balls = [], soundSlowness = null } = input
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
    return {
      captureRate,
      fit: fit ?? -14,
      score: (fit ?? -14) - rarity(captureRate, playbackRate) + heardAs(captureRate / playbackRate),
    }
  })
  const plain = judged[0]!
  const best = judged.reduce((one, j) => (j.score > one.score ? j : one))
  const confidence = 1 / judged.reduce((sum, j) => sum + Math.exp(j.score - best.score), 0)
  if (best !== plain && best.fit > clearFit && confidence >= minSure) {
    return { captureRate: best.captureRate, how: 'motion', confidence }
  }
  if (best === plain && plain.fit > minFitOfFile && confidence >= minSureOfFile) {
    return { captureRate: playbackRate, how: 'container', confidence }
  }
  return {
    captureRate: playbackRate,
    how: 'assumed',
    confidence: best === plain ? confidence : 1 - confidence,
    isLikely: best === plain && plain.fit > clearFit && confidence >= minSureOfFile,
  }

  /** Log odds that the sound gives a slowness; its frequencies end within half an octave of where they should. */
  function heardAs(slowness: number): number {
    if (soundSlowness === null) return 0
    if (soundSlowness === 1) return slowness > 2.8 ? -laidOver : 0
    return Math.abs(Math.log2(slowness / soundSlowness)) < 0.55
      ? soundOdds[soundSlowness >= 4 ? 'far' : 'near']
      : 0
  }
}

/** How rare it is that sound at the speed of life lies under slow motion: one in eight (from memory). Log odds. */
const laidOver = 2

/**
 * What sound whose frequencies end at a half, a quarter or an eighth says for that slowness: copies of poor quality end at a half often, hardly
 * any at a quarter (from memory). Log odds.
 */
const soundOdds = { far: 4, near: 1.5 } as const
