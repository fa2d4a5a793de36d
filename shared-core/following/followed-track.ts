import type { Point } from '../geometry/point.ts'

/**
 * Where one marked point was found: rising frames and, for each, (x, y, error) in pixels of the shown picture; the error is one
 * standard deviation in x and in y. A frame that is not in it is a gap: the point was not found there, and no place is claimed.
 */
export interface FollowedTrack {
  readonly frames: Int32Array
  /** frames.length × 3 */
  readonly points: Float32Array
}

/** Why following stopped at a frame. */
export const lostReasons = ['unsure', 'changed', 'out-of-picture', 'jumped'] as const
export type LostReason = (typeof lostReasons)[number]

/** The first frame, in the direction of following, on which the point was not found. */
export interface Lost {
  readonly frame: number
  readonly why: LostReason
}

/** A place that the coach marked; following begins anew at each. */
export interface FollowMark {
  readonly frame: number
  readonly x: number
  readonly y: number
}

/** Where the point lies on a frame, px, and how surely. */
export interface FollowedPlace extends Point {
  /** One standard deviation in x and in y, pixels. */
  readonly errorPx: number
}

/** The track of a point that has not been followed yet. */
export const noTrack = (): FollowedTrack => ({ frames: new Int32Array(0), points: new Float32Array(0) })

/** Index of the last frame that is not after `frame`; −1 if all are. */
export const indexUpTo = (frames: Int32Array, frame: number): number => {
  let low = -1
  let high = frames.length - 1
  while (low < high) {
    const middle = (low + high + 1) >> 1
    if (frames[middle]! <= frame) low = middle
    else high = middle - 1
  }
  return low
}

/** The place of the k-th followed frame, from 0. */
export const placeAt = ({ points }: FollowedTrack, k: number): FollowedPlace => ({
  x: points[k * 3]!,
  y: points[k * 3 + 1]!,
  errorPx: points[k * 3 + 2]!,
})

/** The place on a frame; null where it was not found. */
export const placeOn = (track: FollowedTrack, frame: number): FollowedPlace | null => {
  const k = indexUpTo(track.frames, frame)
  return k >= 0 && track.frames[k] === frame ? placeAt(track, k) : null
}

/** A track from places in any order; of two on a frame the later one counts. */
export const trackOf = (places: Iterable<FollowedPlace & { readonly frame: number }>): FollowedTrack => {
  const byFrame = new Map<number, FollowedPlace>()
  for (const place of places) byFrame.set(place.frame, place)
  const frames = Int32Array.from([...byFrame.keys()].sort((a, b) => a - b))
  const points = new Float32Array(frames.length * 3)
  frames.forEach((frame, k) => {
    const { x, y, errorPx } = byFrame.get(frame)!
    points.set([x, y, errorPx], k * 3)
  })
  return { frames, points }
}

/** The way up to a frame as lines; a new line begins after every gap. */
export const wayUpTo = (track: FollowedTrack, frame: number): Point[][] => {
  const lines: Point[][] = []
  track.frames.forEach((at, k) => {
    if (at > frame) return
    const { x, y } = placeAt(track, k)
    if (k > 0 && track.frames[k - 1] === at - 1) lines.at(-1)!.push({ x, y })
    else lines.push([{ x, y }])
  })
  return lines
}
