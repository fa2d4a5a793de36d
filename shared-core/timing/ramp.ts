/** Frames in a row that make a stretch of one speed. */
const minRun = 8
/** Slow motion is at least this much slower than what is shown at the speed of life (120 shown at 30: 4 times). */
const minSlowness = 3
/** And its camera runs at least this fast. A slower one whose frames grow longer fell behind in poor light: its times are true. */
const minCaptureRate = 96

/** A slow-motion ramp: frames per second filmed, and how many times slower than life its slow part is shown. */
export type Ramp = { captureRate: number; slowness: number }

const known = new WeakMap<object, Ramp | null>()

/**
 * The slow-motion ramp of a clip, or null if it has none. A phone that keeps its
 * slow motion in the file shows every frame of it at the speed of life at first, then longer, then at the speed of life
 * again: the frames' times come in stretches of short and of long gaps, and the short gap is the camera's own.
 */
export const rampOf = (atSeconds: ArrayLike<number>): Ramp | null => {
  const cached = known.get(atSeconds)
  if (cached !== undefined) return cached
  const found = findRamp(atSeconds)
  known.set(atSeconds, found)
  return found
}

const findRamp = (atSeconds: ArrayLike<number>): Ramp | null => {
  const gaps = Array.from(
    { length: Math.max(0, atSeconds.length - 1) },
    (_, i) => atSeconds[i + 1]! - atSeconds[i]!,
  )
  const runs: { gap: number; frames: number; sum: number }[] = []
  for (const gap of gaps) {
    const run = runs.at(-1)
    if (run && Math.abs(gap - run.gap) < 0.2 * run.gap) {
      run.frames++
      run.sum += gap
    } else runs.push({ gap, frames: 1, sum: gap })
  }
  const long = runs.filter((r) => r.frames >= minRun)
  // Single dropped or doubled frames break runs everywhere; a ramp has a few long ones that hold nearly all frames.
  const held = long.reduce((sum, r) => sum + r.frames, 0)
  if (long.length < 2 || long.length > 6 || held < 0.8 * gaps.length) return null
  const means = long.map((r) => r.sum / r.frames)
  const shortest = Math.min(...means)
  const slowness = Math.max(...means) / shortest
  const captureRate = 1 / shortest
  return slowness >= minSlowness && captureRate >= minCaptureRate ? { captureRate, slowness } : null
}

/**
 * The slow motion within a file of one constant rate, as phones export it: from and to, seconds after the first frame. What is before and after is
 * shown at the speed of life.
 */
export type SlowPart = { fromSeconds: number; toSeconds: number }

/**
 * Real seconds of every frame from the first. A clip with a ramp runs at its camera's rate throughout; any other is its file's time
 * divided by how much slower it plays than it was filmed, be it only in a part of it.
 *
 * @param slowness captureRate / playbackRate of the clip.
 */
export const realTimes = (
  atSeconds: ArrayLike<number>,
  slowness: number,
  slowPart: SlowPart | null = null,
): Float64Array => {
  const ramp = rampOf(atSeconds)
  if (slowPart && !ramp) {
    const { fromSeconds, toSeconds } = slowPart
    const first = atSeconds[0] ?? 0
    const slowed = (t: number) => Math.max(0, Math.min(t, toSeconds) - fromSeconds)
    return Float64Array.from(atSeconds, (t) => t - first - slowed(t - first) * (1 - 1 / slowness))
  }
  return Float64Array.from(atSeconds, (t, i) => (ramp ? i / ramp.captureRate : t / slowness))
}

/** Real seconds of an instant of the file's clock, which may lie before the first frame or after the last. */
export const realInstant = (
  atSeconds: ArrayLike<number>,
  real: ArrayLike<number>,
  fileSeconds: number,
): number => {
  const last = atSeconds.length - 1
  if (last < 1) return fileSeconds
  let low = 0
  let high = last - 1
  while (low < high) {
    const middle = (low + high + 1) >> 1
    if (atSeconds[middle]! <= fileSeconds) low = middle
    else high = middle - 1
  }
  const share = (fileSeconds - atSeconds[low]!) / (atSeconds[low + 1]! - atSeconds[low]! || 1)
  return real[low]! + share * (real[low + 1]! - real[low]!)
}
