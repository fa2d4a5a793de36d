/**
 * The time line of a slow-motion clip that holds on marked moments. Frames are indexes of the source clip;
 * the output runs at a constant rate.
 */
export interface SlowClipPlan {
  /** Output frames per second. */
  rate: 30 | 60
  /** Real speed divided by this is the speed shown. */
  slowBy: number
  fromFrame: number
  toFrame: number
  /** Held frames in order: the source frame, where it first appears, and the output frames added there. */
  holds: { frame: number; atOutputFrame: number; addedFrames: number }[]
  outputFrames: number
  durationSeconds: number
}

export interface SlowClipInput {
  /** Timestamps of every source frame, seconds of the file. */
  atSeconds: ArrayLike<number>
  /** Real seconds per second of the file. */
  realPerFileSecond: number
  /** Source frames per real second. */
  captureRate: number
  fromFrame: number
  toFrame: number
  /** Source frames to hold on. */
  holdFrames: readonly number[]
  holdSeconds: number
  wantedSlowBy: number
}

/** Slow enough that no source frame is skipped at 60 frames/s, not so slow that it becomes a slide show. */
export const slowByFor = (captureRate: number, wanted: number): number =>
  Math.max(captureRate / 60, Math.min(wanted, Math.max(1, captureRate / 10)))

/** Output frame on which a source frame first appears, holds left out. */
const placeOf = (input: SlowClipInput, slowBy: number, rate: number, frame: number): number => {
  const from = input.atSeconds[input.fromFrame] ?? 0
  const at = (input.atSeconds[frame] ?? from) - from
  return Math.round(at * input.realPerFileSecond * slowBy * rate)
}

/** Plans a slow clip: speed, holds, length. Holds outside the range are left out; two holds on one frame are one. */
export const slowClipPlan = (input: SlowClipInput): SlowClipPlan => {
  const slowBy = slowByFor(input.captureRate, input.wantedSlowBy)
  const rate = input.captureRate / slowBy > 30 ? 60 : 30
  const added = Math.round(input.holdSeconds * rate)
  const frames = [...new Set(input.holdFrames)]
    .filter((f) => f >= input.fromFrame && f <= input.toFrame)
    .toSorted((a, b) => a - b)
  const holds = frames.map((frame, index) => ({
    frame,
    atOutputFrame: placeOf(input, slowBy, rate, frame) + index * added,
    addedFrames: added,
  }))
  const moving = placeOf(input, slowBy, rate, input.toFrame) + 1
  const outputFrames = moving + holds.length * added
  return {
    rate,
    slowBy,
    fromFrame: input.fromFrame,
    toFrame: input.toFrame,
    holds,
    outputFrames,
    durationSeconds: outputFrames / rate,
  }
}

/** First and last output frame on which source frames `from` to `to` are seen, holds included. */
export const shownDuring = (
  plan: SlowClipPlan,
  input: SlowClipInput,
  from: number,
  to: number,
): { first: number; last: number } => {
  const first = Math.max(from, plan.fromFrame)
  const next = Math.min(to, plan.toFrame) + 1
  const holdsBefore = (frame: number) =>
    plan.holds.filter((h) => h.frame < frame).reduce((sum, h) => sum + h.addedFrames, 0)
  const start = placeOf(input, plan.slowBy, plan.rate, first) + holdsBefore(first)
  const end =
    next > plan.toFrame
      ? plan.outputFrames - 1
      : placeOf(input, plan.slowBy, plan.rate, next) + holdsBefore(next) - 1
  return { first: start, last: Math.max(start, end) }
}

/** "1/8 of real speed", for the label beside the clip. */
export const speedWords = (slowBy: number): string =>
  Math.abs(slowBy - 1) < 0.02
    ? 'real speed'
    : Number.isInteger(slowBy)
      ? `1/${slowBy} of real speed`
      : `${Math.round(100 / slowBy)} % of real speed`
