import { rampOf, realTimes, type SlowPart } from './ramp.ts'
import { slowness } from './real-time.ts'

/** What a clip says about time: when each frame is shown in the file, and how fast it was filmed. */
export interface ClipTimes {
  /** Seconds of every frame in the file, rising. */
  readonly atSeconds: ArrayLike<number>
  /** Frames per second at which the file plays (mean). */
  readonly playbackRate: number
  /** Frames per second at which the camera filmed. */
  readonly captureRate: number
  /** Where only a part of the file is slow motion. */
  readonly slowPart?: SlowPart | null
}

/**
 * Real seconds from one frame to another. The file's own timestamps count (they may be uneven), stretched by what
 * the file was slowed: a clip filmed at 240 and playing at 30 runs eight times slower than life. A clip with a slow-motion
 * ramp runs at its camera's rate throughout.
 */
export const realSecondsBetween = (times: ClipTimes, from: number, to: number): number => {
  const real = realClock(times)
  const at = (frame: number) => real[Math.max(0, Math.min(real.length - 1, frame))] ?? 0
  return at(to) - at(from)
}

const clocks = new WeakMap<object, { slow: number; from: number; to: number; real: Float64Array }>()

/** Real seconds of the clip's frames; kept per list of timestamps, for it is asked at every frame on show. */
export const realClock = (times: ClipTimes): Float64Array => {
  const slow = slowness(times.captureRate, times.playbackRate)
  const { fromSeconds: from, toSeconds: to } = times.slowPart ?? { fromSeconds: 0, toSeconds: 0 }
  const kept = clocks.get(times.atSeconds)
  if (kept?.slow === slow && kept.from === from && kept.to === to) return kept.real
  const real = realTimes(times.atSeconds, slow, times.slowPart)
  clocks.set(times.atSeconds, { slow, from, to, real })
  return real
}

/** The same where the file does not run at one pace: with a slow-motion ramp, or slow in a part; null for any other. */
export const unevenClock = (times: ClipTimes): Float64Array | null =>
  times.slowPart || rampOf(times.atSeconds) ? realClock(times) : null

/** Milliseconds from impact, as shown beside a frame: negative before it. */
export const msFromImpact = (times: ClipTimes, impactFrame: number, frame: number): number =>
  realSecondsBetween(times, impactFrame, frame) * 1000

/** The frame that is on show `realSecondsAfter` after frame `from` (before it if negative). */
export const frameAfter = (times: ClipTimes, from: number, realSecondsAfter: number): number => {
  const real = realClock(times)
  const wanted = (real[from] ?? 0) + realSecondsAfter
  let low = 0
  let high = real.length - 1
  while (low < high) {
    const middle = (low + high + 1) >> 1
    // A microsecond is never a frame; timestamps may be off by their last digit.
    if (real[middle]! <= wanted + 1e-6) low = middle
    else high = middle - 1
  }
  return low
}

/** The frame nearest to `realSecondsAfter` after frame `from`, where `frameAfter` gives the one that is still on show then. */
export const frameNearest = (times: ClipTimes, from: number, realSecondsAfter: number): number => {
  const before = frameAfter(times, from, realSecondsAfter)
  const after = Math.min(times.atSeconds.length - 1, before + 1)
  const off = (frame: number) => Math.abs(realSecondsBetween(times, from, frame) - realSecondsAfter)
  return off(after) < off(before) ? after : before
}
