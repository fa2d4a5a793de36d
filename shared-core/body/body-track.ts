import { jointCount } from './joints.ts'

/**
 * Body points of one clip: for each read frame, in rising order, the joints as (x, y, score), in pixels of the shown picture
 * and 0 to 1. What stands below `minScore` is a gap.
 */
export interface BodyTrack {
  readonly frames: Int32Array
  /** frames.length × 17 × 3 */
  readonly points: Float32Array
  /**
   * How the picture shows the hands go to each read frame from the one read before it: frames.length × {@link shiftFields}, none where they
   * were not followed (NaN). Absent where the track was read before that was looked for, or came with a lesson from elsewhere.
   */
  readonly shifts?: Float32Array
}

/** Of a shift: over how many frames, x and y in pixels of the shown picture, and one standard deviation of each. */
export const shiftFields = 5

/**
 * Below this score a point is a gap, not a guess. Our own choice (0.3 is common practice for this model, from memory); not tuned.
 */
export const minScore = 0.3

/** A joint set by hand on one frame. */
export interface BodyCorrection {
  readonly frame: number
  readonly joint: number
  readonly x: number
  readonly y: number
}

/** A joint on a frame: pixels, and the model's score, 0 to 1. */
export interface PlacedPoint {
  readonly x: number
  readonly y: number
  readonly score: number
}

/** A track of a clip whose body has not been read. */
export const emptyTrack = (): BodyTrack => ({ frames: new Int32Array(0), points: new Float32Array(0) })

/** A joint on the k-th read frame; null is a gap. */
export const pointOf = (track: BodyTrack, k: number, joint: number): PlacedPoint | null => {
  const at = (k * jointCount + joint) * 3
  const score = track.points[at + 2] ?? 0
  return score < minScore ? null : { x: track.points[at]!, y: track.points[at + 1]!, score }
}

/** Makes a joint a gap on the k-th read frame, in a track's own copy of its points; what was set by hand stays. */
export const makeGap = (points: Float32Array, k: number, joint: number): void => {
  const score = (k * jointCount + joint) * 3 + 2
  if (points[score]! < 1) points[score] = 0
}

/** The box round all points that can be relied on, of some joints or of all, pixels, and how many they are; null where there is none. */
export const seenBox = (
  points: Float32Array,
  joints?: readonly number[],
): { x0: number; y0: number; x1: number; y1: number; seen: number } | null => {
  const box = { x0: Infinity, y0: Infinity, x1: -Infinity, y1: -Infinity, seen: 0 }
  for (let i = 0; i < points.length; i += 3) {
    if (points[i + 2]! < minScore || (joints && !joints.includes((i / 3) % jointCount))) continue
    box.seen += 1
    box.x0 = Math.min(box.x0, points[i]!)
    box.x1 = Math.max(box.x1, points[i]!)
    box.y0 = Math.min(box.y0, points[i + 1]!)
    box.y1 = Math.max(box.y1, points[i + 1]!)
  }
  return box.seen > 0 ? box : null
}

/** Both tracks in one; where a frame is in both, the later reading counts. */
export const mergeTracks = (earlier: BodyTrack, later: BodyTrack): BodyTrack => {
  const rows = new Map<number, Float32Array>()
  const shiftRows = new Map<number, Float32Array>()
  for (const track of [earlier, later]) {
    track.frames.forEach((frame, k) => {
      rows.set(frame, track.points.subarray(k * jointCount * 3, (k + 1) * jointCount * 3))
      const shift = track.shifts?.subarray(k * shiftFields, (k + 1) * shiftFields)
      if (shift && Number.isFinite(shift[0])) shiftRows.set(frame, shift)
    })
  }
  const frames = Int32Array.from([...rows.keys()].sort((a, b) => a - b))
  const points = new Float32Array(frames.length * jointCount * 3)
  frames.forEach((frame, k) => points.set(rows.get(frame)!, k * jointCount * 3))
  if (!earlier.shifts && !later.shifts) return { frames, points }
  const shifts = new Float32Array(frames.length * shiftFields).fill(NaN)
  frames.forEach((frame, k) => shifts.set(shiftRows.get(frame) ?? [], k * shiftFields))
  return { frames, points, shifts }
}

/**
 * The track with what the coach set by hand: on its frame a correction stands as it was set; on frames around it that were read,
 * the same shift fades out over `reachFrames`, because the model errs alike from frame to frame.
 */
export const withCorrections = (
  track: BodyTrack,
  corrections: readonly BodyCorrection[],
  reachFrames = 0,
): BodyTrack => {
  if (corrections.length === 0) return track
  const missing = [...new Set(corrections.map((c) => c.frame))].filter((f) => !track.frames.includes(f))
  const whole = mergeTracks(track, {
    frames: Int32Array.from(missing),
    points: new Float32Array(missing.length * jointCount * 3),
  })
  const points = whole.points.slice()
  const isSet = new Set(corrections.map((c) => `${c.frame} ${c.joint}`))
  for (const { frame, joint, x, y } of corrections) {
    const own = whole.frames.indexOf(frame)
    const before = pointOf(whole, own, joint)
    whole.frames.forEach((other, k) => {
      const away = Math.abs(other - frame)
      const at = (k * jointCount + joint) * 3
      if (other === frame) points.set([x, y, 1], at)
      else if (before && away < reachFrames && !isSet.has(`${other} ${joint}`)) {
        const share = 1 - away / reachFrames
        points[at] = points[at]! + (x - before.x) * share
        points[at + 1] = points[at + 1]! + (y - before.y) * share
      }
    })
  }
  return { ...whole, points }
}
