/**
 * The time lines of slow-motion clips that hold on marked moments. Source frames are indexes into the clip, the output
 * runs at a constant rate.
 */
export interface FrameTimes {
  /** Timestamps of every source frame, seconds of the file. */
  atSeconds: ArrayLike<number>
  /** Real seconds per second of the file; below 1 for a file that plays stretched. */
  realPerFileSecond: number
  /** Real seconds of every source frame, where the file does not run at one pace; null where `realPerFileSecond` tells it all. */
  realSeconds?: ArrayLike<number> | null
  /** Source frames per real second. */
  captureRate: number
  fromFrame: number
  toFrame: number
}

/** What a slowed clip is made from. */
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
  /** How the frames' own times give their output frames; null where they do not: by another clip's frames, or at more than one pace. */
  byTime: {
    /** Output frames per second of the file. */
    outputPerFileSecond: number
    /** Output frames before the first source frame; it is shown in them, too. */
    leadFrames: number
    /** Held source frames in order, and by how many output frames all later frames are moved. */
    shifts: { frame: number; by: number }[]
  } | null
  /**
   * Output frame on which each source frame of the range begins; it lasts until the next one begins, the last until
   * the end. Two equal entries: the earlier frame has no place in the output.
   */
  begins: number[]
}

/** Which source frame every output frame shows. */
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
const minShownRate = 10

/** The wish within what the clip can give: not faster than real, not a slide show. */
export const slowByFor = (captureRate: number, wanted: number): number =>
  Math.max(1, Math.min(wanted, Math.max(1, Math.round(captureRate / minShownRate))))

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

/** The clock that a source's frames go by, and output frames per second of it. */
const paceOf = (
  { atSeconds, realSeconds, realPerFileSecond }: FrameTimes,
  outputPerRealSecond: number,
): { seconds: ArrayLike<number>; outputPerSecond: number } =>
  realSeconds
    ? { seconds: realSeconds, outputPerSecond: outputPerRealSecond }
    : { seconds: atSeconds, outputPerSecond: realPerFileSecond * outputPerRealSecond }

const unheldFrame = (times: FrameTimes, outputPerRealSecond: number, frame: number): number => {
  const { seconds, outputPerSecond } = paceOf(times, outputPerRealSecond)
  const from = seconds[times.fromFrame] ?? 0
  return Math.floor(((seconds[frame] ?? from) - from) * outputPerSecond + halfUp)
}

const timeLineOf = (
  times: FrameTimes,
  outputPerRealSecond: number,
  leadFrames: number,
  shifts: { frame: number; by: number }[],
): SourceTimeLine => {
  const begins: number[] = []
  for (let frame = times.fromFrame; frame <= times.toFrame; frame++) {
    const moved = shifts.reduce((sum, shift) => (shift.frame < frame ? sum + shift.by : sum), 0)
    // The range begins on the first output frame, whatever comes before.
    begins.push(
      frame === times.fromFrame ? 0 : leadFrames + unheldFrame(times, outputPerRealSecond, frame) + moved,
    )
  }
  return {
    fromFrame: times.fromFrame,
    toFrame: times.toFrame,
    byTime: times.realSeconds
      ? null
      : { outputPerFileSecond: paceOf(times, outputPerRealSecond).outputPerSecond, leadFrames, shifts },
    begins,
  }
}

/** The time line of frames that follow those of another clip: on every output frame, the one that belongs to its frame. */
const followingLine = (
  leader: SourceTimeLine,
  outputFrames: number,
  follow: (frame: number) => number,
): SourceTimeLine => {
  const fromFrame = follow(leader.fromFrame)
  const begins: number[] = []
  let toFrame = fromFrame - 1
  for (let frame = leader.fromFrame; frame <= leader.toFrame; frame++) {
    const shown = shownDuring(leader, outputFrames, frame, frame)
    if (!shown) continue
    const wanted = follow(frame)
    // Frames that are passed over begin together with the one that is seen.
    for (; toFrame < wanted; toFrame++) begins.push(shown.first)
  }
  return { fromFrame, toFrame, byTime: null, begins }
}

/**
 * Whole numbers that never fall, as few straight pieces: from index `from` on they are floor(at + 0.5 + slope · (index − from)),
 * exactly.
 */
export const straightPieces = (values: readonly number[]): { from: number; at: number; slope: number }[] => {
  const pieces: { from: number; at: number; slope: number }[] = []
  for (let from = 0; from < values.length;) {
    const at = values[from]!
    let [least, most] = [0, Infinity]
    let next = from + 1
    for (; next < values.length; next++) {
      const [rise, run] = [values[next]! - at, next - from]
      const [low, high] = [Math.max(least, (rise - 0.5) / run), Math.min(most, (rise + 0.5) / run)]
      // Room between the two, so that no rounding of the slope leaves them.
      if (high - low < 1e-7) break
      ;[least, most] = [low, high]
    }
    pieces.push({ from, at, slope: most === Infinity ? 0 : (least + most) / 2 })
    from = next
  }
  return pieces
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
  const outputPerRealSecond = slowBy * rate
  const lasts = Math.max(1, Math.round(input.holdSeconds * rate))
  const frames = [...new Set(input.holdFrames)]
    .filter((f) => f >= input.fromFrame && f <= input.toFrame)
    .toSorted((a, b) => a - b)
  const unheld = (frame: number) => unheldFrame(input, outputPerRealSecond, frame)
  const shifts = frames.map((frame) => ({
    frame,
    by: lasts - (frame === input.toFrame ? 1 : unheld(frame + 1) - unheld(frame)),
  }))
  const timeLine = timeLineOf(input, outputPerRealSecond, 0, shifts)
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

/** Two clips side by side, locked on one moment. */
export interface ComparisonPlan {
  rate: number
  slowBy: number
  /** Output frame on which both locked frames begin. */
  lockedAt: number
  /** Output frames on which both locked frames are held. */
  lasts: number
  timeLines: readonly [SourceTimeLine, SourceTimeLine]
  outputFrames: number
  durationSeconds: number
}

/**
 * Plans two views seen together at one speed, locked on a frame of each: both begin it on the same output frame, and time
 * stands still there for the hold. The shorter lead-in waits on its first frame, the shorter end on its last. With `follow`
 * only the first runs at that speed; the second shows the frame that belongs to the first one's.
 */
export const comparisonPlan = (
  pair: readonly [FrameTimes, FrameTimes],
  lock: readonly [number, number],
  choices: { holdSeconds: number; wantedSlowBy: number; follow?: ((frame: number) => number) | null },
  size: { readonly width: number; readonly height: number } = { width: 1920, height: 1080 },
): ComparisonPlan => {
  // One speed for both, one that neither turns into a slide show.
  const slowBy = Math.min(...pair.map((p) => slowByFor(p.captureRate, choices.wantedSlowBy)))
  if (choices.follow) {
    const first = slowClipPlan(
      { ...pair[0], holdFrames: [lock[0]], holdSeconds: choices.holdSeconds, wantedSlowBy: slowBy },
      size,
    )
    const [hold] = first.holds
    return {
      rate: first.rate,
      slowBy,
      lockedAt: hold?.atOutputFrame ?? 0,
      lasts: hold?.lasts ?? 0,
      timeLines: [first.timeLine, followingLine(first.timeLine, first.outputFrames, choices.follow)],
      outputFrames: first.outputFrames,
      durationSeconds: first.durationSeconds,
    }
  }
  const rate = outputRateFor(Math.max(...pair.map((p) => p.captureRate)) / slowBy, size)
  const outputPerRealSecond = slowBy * rate
  const unheld = pair.map((p) => (frame: number) => unheldFrame(p, outputPerRealSecond, frame))
  const lockedAt = Math.max(...lock.map((frame, i) => unheld[i]!(frame)))
  const ownLength = pair.map((p, i) =>
    lock[i]! < p.toFrame ? unheld[i]!(lock[i]! + 1) - unheld[i]!(lock[i]!) : 1,
  )
  const lasts = Math.max(1, Math.round(choices.holdSeconds * rate))
  // The same for both, so that they stay together after the hold.
  const by = lasts - Math.min(...ownLength)
  const timeLines = pair.map((p, i) =>
    timeLineOf(p, outputPerRealSecond, lockedAt - unheld[i]!(lock[i]!), [{ frame: lock[i]!, by }]),
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
