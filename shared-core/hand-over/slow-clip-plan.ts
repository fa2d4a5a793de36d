/**
 * The time lines of slow-motion clips that hold on marked moments. Source frames are indexes into the clip, the output
 * runs at a constant rate.
 */
export interface FrameTimes {
  /** Timestamps of every source frame, seconds of the file. */
  atSeconds: ArrayLike<number>
  /** Real seconds per second of the file; below 1 for a file that plays stretched. */
  realPerFileSecond: number
  /** Source frames per real second. */
  captureRate: number
  fromFrame: number
  toFrame: number
}

export interface SlowClipInput extends FrameTimes {
  /** Source frames to hold on. */
  holdFrames: readonly number[]
  holdSeconds: number
  wantedSlowBy: number
}

/** Where each source frame of a range comes to lie in the output. */
export interface SourceTimeLine {
  fromFrame: number
  toFrame: number
  /** Output frames per second of the file. */
  outputPerFileSecond: number
  /** Output frames before the first source frame; it is shown in them, too. */
  leadFrames: number
  /** Held source frames in order, and by how many output frames all later frames are moved. */
  shifts: { frame: number; by: number }[]
  /**
   * Output frame on which each source frame of the range begins; it lasts until the next one begins, the last until
   * the end. Two equal entries: the earlier frame has no place in the output.
   */
  begins: number[]
}

export interface SlowClipPlan {
  /** Output frames per second. */
  rate: number
  /** Real speed divided by this is the speed shown. */
  slowBy: number
  /** Held frames in order: the source frame, the output frame it begins on, output frames it lasts. */
  holds: { frame: number; atOutputFrame: number; lasts: number }[]
  timeLine: SourceTimeLine
  outputFrames: number
  durationSeconds: number
}

/** Slower than this many source frames a second is a slide show. */
const leastShownRate = 10

/** The wish within what the clip can give: not faster than real, not a slide show. */
export const slowByFor = (captureRate: number, wanted: number): number =>
  Math.max(1, Math.min(wanted, Math.max(1, Math.round(captureRate / leastShownRate))))

/**
 * Output frames per second: 60 if there are that many pictures to show, where the picture is small enough.
 * 245 760 macroblocks a second: ITU-T H.264, table A-1, level 4.1.
 */
export const outputRateFor = (
  shownPerSecond: number,
  size: { readonly width: number; readonly height: number },
): number => {
  const blocks = Math.ceil(size.width / 16) * Math.ceil(size.height / 16)
  return shownPerSecond > 31 && blocks * 60 <= 245_760 ? 60 : 30
}

/** Added before rounding down, so that a time half way goes up whatever its last digits are. */
export const halfUp = 0.51

const unheldPlace = (times: FrameTimes, outputPerFileSecond: number, frame: number): number => {
  const from = times.atSeconds[times.fromFrame] ?? 0
  return Math.floor(((times.atSeconds[frame] ?? from) - from) * outputPerFileSecond + halfUp)
}

const timeLineOf = (
  times: FrameTimes,
  outputPerFileSecond: number,
  leadFrames: number,
  shifts: SourceTimeLine['shifts'],
): SourceTimeLine => {
  const begins: number[] = []
  for (let frame = times.fromFrame; frame <= times.toFrame; frame++) {
    const moved = shifts.reduce((sum, shift) => (shift.frame < frame ? sum + shift.by : sum), 0)
    // The range begins on the first output frame, whatever comes before.
    begins.push(
      frame === times.fromFrame ? 0 : leadFrames + unheldPlace(times, outputPerFileSecond, frame) + moved,
    )
  }
  return {
    fromFrame: times.fromFrame,
    toFrame: times.toFrame,
    outputPerFileSecond,
    leadFrames,
    shifts,
    begins,
  }
}

/**
 * Plans a slow clip: speed, holds, length. A held frame lasts the hold's length exactly. Holds outside the range are
 * left out; two holds on one frame are one.
 */
export const slowClipPlan = (
  input: SlowClipInput,
  size: { readonly width: number; readonly height: number } = { width: 1920, height: 1080 },
): SlowClipPlan => {
  const slowBy = slowByFor(input.captureRate, input.wantedSlowBy)
  const rate = outputRateFor(input.captureRate / slowBy, size)
  const outputPerFileSecond = input.realPerFileSecond * slowBy * rate
  const lasts = Math.max(1, Math.round(input.holdSeconds * rate))
  const frames = [...new Set(input.holdFrames)]
    .filter((f) => f >= input.fromFrame && f <= input.toFrame)
    .toSorted((a, b) => a - b)
  const place = (frame: number) => unheldPlace(input, outputPerFileSecond, frame)
  const shifts = frames.map((frame) => ({
    frame,
    by: lasts - (frame === input.toFrame ? 1 : place(frame + 1) - place(frame)),
  }))
  const timeLine = timeLineOf(input, outputPerFileSecond, 0, shifts)
  const lastBegins = timeLine.begins.at(-1)!
  const outputFrames = lastBegins + (frames.at(-1) === input.toFrame ? lasts : 1)
  return {
    rate,
    slowBy,
    holds: frames.map((frame) => ({
      frame,
      atOutputFrame: timeLine.begins[frame - input.fromFrame]!,
      lasts,
    })),
    timeLine,
    outputFrames,
    durationSeconds: outputFrames / rate,
  }
}

export interface ComparisonPlan {
  rate: number
  slowBy: number
  /** Output frame on which both locked frames begin. */
  lockedAt: number
  /** Output frames on which both locked frames are seen. */
  lasts: number
  timeLines: readonly [SourceTimeLine, SourceTimeLine]
  outputFrames: number
  durationSeconds: number
}

/**
 * Plans two views beside each other at one speed, locked on a frame of each: both begin it on the same output frame,
 * and time stands still there for the hold. The shorter lead-in waits on its first frame, the shorter end on its last.
 */
export const comparisonPlan = (
  pair: readonly [FrameTimes, FrameTimes],
  lock: readonly [number, number],
  choices: { holdSeconds: number; wantedSlowBy: number },
  size: { readonly width: number; readonly height: number } = { width: 1920, height: 1080 },
): ComparisonPlan => {
  // One speed for both, one that neither turns into a slide show.
  const slowBy = Math.min(...pair.map((p) => slowByFor(p.captureRate, choices.wantedSlowBy)))
  const rate = outputRateFor(Math.max(...pair.map((p) => p.captureRate)) / slowBy, size)
  const perSecond = pair.map((p) => p.realPerFileSecond * slowBy * rate)
  const places = pair.map((p, i) => (frame: number) => unheldPlace(p, perSecond[i]!, frame))
  const lockedAt = Math.max(...lock.map((frame, i) => places[i]!(frame)))
  const ownLength = pair.map((p, i) =>
    lock[i]! < p.toFrame ? places[i]!(lock[i]! + 1) - places[i]!(lock[i]!) : 1,
  )
  const lasts = Math.max(1, Math.round(choices.holdSeconds * rate))
  // The same for both, so that they stay together after the hold.
  const by = lasts - Math.min(...ownLength)
  const timeLines = pair.map((p, i) =>
    timeLineOf(p, perSecond[i]!, lockedAt - places[i]!(lock[i]!), [{ frame: lock[i]!, by }]),
  ) as [SourceTimeLine, SourceTimeLine]
  const ends = timeLines.map((line, i) =>
    lock[i] === line.toFrame ? lockedAt + lasts : line.begins.at(-1)! + 1,
  )
  const outputFrames = Math.max(lockedAt + lasts, ...ends)
  return { rate, slowBy, lockedAt, lasts, timeLines, outputFrames, durationSeconds: outputFrames / rate }
}

/** Output frames on which source frames `from` to `to` are seen, ends included; null if none is. */
export const shownDuring = (
  timeLine: SourceTimeLine,
  outputFrames: number,
  from: number,
  to: number,
): { first: number; last: number } | null => {
  const begin = Math.max(from, timeLine.fromFrame)
  const next = Math.min(to, timeLine.toFrame) + 1
  if (begin >= next) return null
  const first = timeLine.begins[begin - timeLine.fromFrame]!
  const last = (next > timeLine.toFrame ? outputFrames : timeLine.begins[next - timeLine.fromFrame]!) - 1
  return last < first ? null : { first, last }
}

/** The source frame seen on an output frame. */
export const sourceFrameOn = (timeLine: SourceTimeLine, outputFrame: number): number => {
  const after = timeLine.begins.findIndex((begin) => begin > outputFrame)
  return after === -1 ? timeLine.toFrame : timeLine.fromFrame + Math.max(0, after - 1)
}

/** "1/8 of real speed", for the label beside the clip. */
export const speedWords = (slowBy: number): string =>
  Math.abs(slowBy - 1) < 0.005
    ? 'real speed'
    : Number.isInteger(slowBy)
      ? `1/${slowBy} of real speed`
      : `${Math.round(100 / slowBy)} % of real speed`
