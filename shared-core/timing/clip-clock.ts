import { realSeconds, slowness } from './real-time.ts'

/** What a clip says about time: when each frame is shown in the file, and how fast it was filmed. */
export interface ClipTimes {
  /** Seconds of every frame in the file, rising. */
  readonly atSeconds: ArrayLike<number>
  /** Frames per second at which the file plays (mean). */
  readonly playbackRate: number
  /** Frames per second at which the camera filmed. */
  readonly captureRate: number
}

/**
 * Real seconds from one frame to another. The file's own timestamps count (they may be uneven), stretched by what
 * the file was slowed: a clip filmed at 240 and playing at 30 runs eight times slower than life.
 */
export const realSecondsBetween = (times: ClipTimes, from: number, to: number): number => {
  const last = times.atSeconds.length - 1
  const at = (frame: number) => times.atSeconds[Math.max(0, Math.min(last, frame))] ?? 0
  return realSeconds(at(to) - at(from), slowness(times.captureRate, times.playbackRate))
}

/** Milliseconds from impact, as shown beside a frame: negative before it. */
export const msFromImpact = (times: ClipTimes, impactFrame: number, frame: number): number =>
  realSecondsBetween(times, impactFrame, frame) * 1000

/** The frame that is on show `realSecondsAfter` after frame `from` (before it if negative). */
export const frameAfter = (times: ClipTimes, from: number, realSecondsAfter: number): number => {
  const { atSeconds } = times
  const fileSeconds =
    (atSeconds[from] ?? 0) + realSecondsAfter * slowness(times.captureRate, times.playbackRate)
  let low = 0
  let high = atSeconds.length - 1
  while (low < high) {
    const middle = (low + high + 1) >> 1
    // A microsecond is never a frame; timestamps may be off by their last digit.
    if (atSeconds[middle]! <= fileSeconds + 1e-6) low = middle
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
