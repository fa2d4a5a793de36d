import { standardNormalCdf } from '../statistics/distributions.ts'
import { leftAt } from './vanished-spots.ts'

/** Standard deviation of a strike's sound against the picture: three metres more or less to the microphone, and the file's own. */
export const usualSoundSdSeconds = 0.01

/** How often a film's sound runs in step with its picture at all (from memory; copies through the web often do not). */
export const inStepShare = 0.8

/** Sound that is not in step may lie anywhere here: chance per second. */
const outOfStepPerSecond = 2

/** The share of balls that went one frame before they are seen to be gone, and after the club that seemed to have left (made films). */
const early = 0.05
const late = 0.04
/** A club or its blur that looks like the ground hides a ball for this long at most, seconds (made films; 27 m/s over a club head's length). */
const lateSeconds = 0.035

/** A sound that may be a strike's: when it was made if it runs in step, real seconds, and how likely it is the strike's at all. */
export type HeardStrike = { atSeconds: number; chance: number }

/** Frames by which a strike may be missed and still be right: two from about 200 frames a second, else one. */
export const framesAllowed = (frameSeconds: number): number => (frameSeconds < 0.0051 ? 2 : 1)

/**
 * Which frame is the last before a ball left that was last seen in one frame and seen to be gone in another, and how likely that
 * is right ({@link framesAllowed}), if it is the ball. Between the two a club or a divot hides it: sound tells where in
 * there, as far as sound can be trusted; it cannot move the strike away from where the ball was seen.
 *
 * @param real Real seconds of the film's frames.
 */
export const strikeFrame = (
  ball: { lastSeen: number; goneBy: number },
  heard: readonly HeardStrike[],
  film: { real: Float64Array; frameSeconds: number; soundSdSeconds: number; inStep: number },
): { frame: number; within: number; from: number; to: number } => {
  const { real, frameSeconds, soundSdSeconds, inStep } = film
  const last = real.length - 1
  // What seems to cover its place for longer is no club: a trace of the ball that a codec leaves, dust, a thing that moved there. A
  // sound tells by itself where in there.
  const covered = heard.length > 0 ? Infinity : 1 + Math.ceil(lateSeconds / frameSeconds)
  const goneBy = Math.max(ball.lastSeen + 1, Math.min(ball.goneBy, ball.lastSeen + covered))
  const tail = Math.max(1, Math.round(lateSeconds / frameSeconds))
  const from = Math.max(0, ball.lastSeen - 1)
  const to = Math.min(last, goneBy - 1 + tail)
  const width = goneBy - ball.lastSeen
  const frames = Array.from({ length: to - from + 1 }, (_, i) => from + i)
  const trusted = heard.map((h) => ({ ...h, chance: h.chance * inStep }))
  const untold =
    1 -
    Math.min(
      1,
      trusted.reduce((sum, h) => sum + h.chance, 0),
    )
  const weights = frames.map((frame) => {
    const seen = frame < ball.lastSeen ? early : frame < goneBy ? (1 - early - late) / width : late / tail
    const begin = real[frame]!
    const length = frame < last ? real[frame + 1]! - begin : frameSeconds
    const told = trusted.reduce(
      (sum, h) =>
        sum +
        h.chance *
          (standardNormalCdf((begin + length - h.atSeconds) / soundSdSeconds) -
            standardNormalCdf((begin - h.atSeconds) / soundSdSeconds)),
      0,
    )
    return seen * (told / Math.max(1e-6, length) + untold * outOfStepPerSecond)
  })
  const sum = weights.reduce((a, b) => a + b, 0)
  const massWithin = (frame: number, most: number) =>
    frames.reduce((total, f, i) => total + (Math.abs(f - frame) <= most ? weights[i]! / sum : 0), 0)
  const middle = leftAt(ball.lastSeen, goneBy)
  // The likeliest frame with its neighbours; where more are allowed, a wider reach would be as full anywhere near it.
  let best = { frame: middle, mass: massWithin(middle, 1) }
  for (const frame of frames) {
    const mass = massWithin(frame, 1)
    const isNearer = Math.abs(frame - middle) < Math.abs(best.frame - middle)
    if (mass > best.mass + 1e-9 || (mass > best.mass - 1e-9 && isNearer)) best = { frame, mass }
  }
  const { frame } = best
  return { frame, within: massWithin(frame, framesAllowed(frameSeconds)), from, to }
}

/** A strike's sound after the fastest change of the picture, real seconds: the arms are fastest before it (made films: 5 to 95 % −0.02 to 0.17). */
const afterPeak = { mean: 0.05, sd: 0.075 }

/**
 * How likely the frame that a strike's sound points to is the right one, where no ball was seen to go: sound travels 3 ms a metre, and
 * a track may run late; the farther the sound is from where the motion puts a strike, the likelier it does.
 *
 * @param afterPeakSeconds Real seconds from the fastest change of the picture to the strike; null where no swing is seen.
 * @param inStep How often such a film's sound runs in step at all.
 */
export const soundInStep = (
  film: { frameSeconds: number; soundSdSeconds: number; inStep: number },
  afterPeakSeconds: number | null,
): number => {
  const { frameSeconds, soundSdSeconds, inStep } = film
  const reach = (framesAllowed(frameSeconds) + 0.25) * frameSeconds
  const within = 2 * standardNormalCdf(reach / soundSdSeconds) - 1
  if (afterPeakSeconds === null) return inStep * within
  const z = (afterPeakSeconds - afterPeak.mean) / afterPeak.sd
  const likely = (inStep * Math.exp(-0.5 * z * z)) / (afterPeak.sd * Math.sqrt(2 * Math.PI))
  return (within * likely) / (likely + (1 - inStep) * outOfStepPerSecond)
}
