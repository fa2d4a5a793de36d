import type { BodyPart, PartTrack } from '../body/body-part.ts'
import { indexUpTo, placeAt, wayUpTo, type FollowedTrack } from '../following/followed-track.ts'
import { boxAround, cornersOf, growBox, type Box } from '../geometry/box.ts'
import type { Point } from '../geometry/point.ts'
import { shift, type Similarity } from '../geometry/similarity.ts'
import { definitionOf, type Shape } from './shapes.ts'
import type { Tie } from '../model/tie.ts'

/** Where what a drawing can be tied to is, frame by frame. */
export interface Motions {
  readonly followed: (id: string) => FollowedTrack | null
  readonly part: (part: BodyPart) => PartTrack | null
  /** Frames a second of real time. */
  readonly captureRate: number
}

/** The shapes a drawing has on a frame: none where what it is tied to was not found; several for a way with gaps. */
export type Motion = (frame: number) => readonly Shape[]

/** Between two found places no further apart than this, real seconds, a drawing moves in a straight line. */
const bridgedSeconds = 0.1
/** A cover between two found places further apart than this hides every place that was found. */
const trustedSeconds = 0.25
/** A moved cover is larger than the drawn one by this share of its smaller side, on every side. Our own choice. */
const coverMargin = 0.1

type Ends = readonly [Point] | readonly [Point, Point]

const asPart = (track: FollowedTrack): PartTrack => ({
  frames: track.frames,
  ends: Array.from(track.frames, (_, k) => [placeAt(track, k)] as const),
})

const mixed = (a: Ends, b: Ends, share: number): Ends =>
  a.map((p, i) => ({ x: p.x + (b[i]!.x - p.x) * share, y: p.y + (b[i]!.y - p.y) * share })) as unknown as Ends

/** The map that lays the ends of one frame onto those of another: a shift, or with two ends a turn and a stretch as well. */
const mapBetween = (from: Ends, to: Ends): Similarity => {
  const [a0, b0] = from
  const [a, b] = to
  if (!b0 || !b) return shift(a.x - a0.x, a.y - a0.y)
  const [ux, uy, vx, vy] = [b0.x - a0.x, b0.y - a0.y, b.x - a.x, b.y - a.y]
  const square = ux * ux + uy * uy
  if (square < 1) return shift(a.x - a0.x, a.y - a0.y)
  const turn = { a: (vx * ux + vy * uy) / square, b: (vy * ux - vx * uy) / square }
  return {
    ...turn,
    dx: a.x - (turn.a * a0.x - turn.b * a0.y),
    dy: a.y - (turn.b * a0.x + turn.a * a0.y),
    isMirrored: false,
  }
}

const nearest = (track: PartTrack, frame: number): Ends => {
  const k = Math.max(0, indexUpTo(track.frames, frame))
  const after = Math.min(track.frames.length - 1, k + 1)
  const isNearer = Math.abs(track.frames[after]! - frame) < Math.abs(track.frames[k]! - frame)
  return track.ends[isNearer ? after : k]!
}

/** Where a part is on a frame; null beyond what was found, or where the places found are too far apart. */
export const endsOn = (track: PartTrack, frame: number, captureRate: number): Ends | null => {
  const k = indexUpTo(track.frames, frame)
  if (k < 0) return null
  const before = track.frames[k]!
  if (before === frame) return track.ends[k]!
  const after = track.frames[k + 1]
  if (after === undefined || after - before > Math.max(2, bridgedSeconds * captureRate)) return null
  return mixed(track.ends[k]!, track.ends[k + 1]!, (frame - before) / (after - before))
}

const movedBy = (shape: Shape, map: Similarity): Shape =>
  ({ ...definitionOf(shape).transform(shape, map), style: shape.style }) as Shape

const joinedBox = (boxes: readonly Box[]): Box => boxAround(boxes.flatMap((box) => cornersOf(box)))

/** The fastest that a part was seen to move from one found place to the next, pixels a frame. */
const fastest = ({ frames, ends }: PartTrack): number => {
  let max = 0
  for (let k = 1; k < frames.length; k++) {
    const [[a], [b]] = [ends[k - 1]!, ends[k]!]
    max = Math.max(max, Math.hypot(a.x - b.x, a.y - b.y) / (frames[k]! - frames[k - 1]!))
  }
  return max
}

/**
 * A cover never shows what it hid: it is a little larger than drawn while it moves. Between two found places it holds both and as
 * far around as what it hides can have gone at the fastest it was seen to move; where nothing near in time was found, that around
 * every found place.
 */
const coverMotion = (shape: Shape, track: PartTrack, tie: Tie, captureRate: number): Motion => {
  const { over, bounds } = definitionOf(shape)
  const { frames } = track
  if (!over || frames.length === 0) return () => [shape]
  const own = bounds(shape, { tiltDeg: 0, pixelsPerMeter: null, lengths: 'metric' })
  const start = nearest(track, tie.frame)[0]
  const margin = coverMargin * Math.min(own.width, own.height)
  const perFrame = fastest(track)
  const boxAt = (k: number): Box => {
    const [at] = track.ends[k]!
    return growBox({ ...own, x: own.x + at.x - start.x, y: own.y + at.y - start.y }, margin)
  }
  const everywhere = joinedBox(Array.from(frames, (_, k) => boxAt(k)))
  const max = Math.max(2, trustedSeconds * captureRate)
  return (frame) => {
    const k = indexUpTo(frames, frame)
    const [before, after] = [frames[k] ?? -Infinity, frames[k + 1] ?? Infinity]
    if (before === frame) return [over(shape, boxAt(k), true)]
    const held = after - before <= max ? joinedBox([boxAt(k), boxAt(k + 1)]) : everywhere
    const unseen = Math.min(frame - before, after - frame, max)
    return [over(shape, growBox(held, perFrame * unseen), false)]
  }
}

/** How a tied shape moves; null where what it is tied to is not known (any more): it stays where it was drawn. */
export const motionOf = (shape: Shape, tie: Tie, motions: Motions): Motion | null => {
  const { captureRate } = motions
  if (tie.to.kind === 'way') {
    const track = motions.followed(tie.to.id)
    if (!track) return null
    return (frame) =>
      wayUpTo(track, frame).map((points) => ({ ...(shape as Shape & { kind: 'freehand' }), points }) as Shape)
  }
  const followed = tie.to.kind === 'followed' ? motions.followed(tie.to.id) : null
  const track = tie.to.kind === 'body' ? motions.part(tie.to.part) : followed && asPart(followed)
  if (!track) return null
  if (definitionOf(shape).hides) return coverMotion(shape, track, tie, captureRate)
  if (track.frames.length === 0) return null
  const start = endsOn(track, tie.frame, captureRate) ?? nearest(track, tie.frame)
  return (frame) => {
    const now = endsOn(track, frame, captureRate)
    return now ? [movedBy(shape, mapBetween(start, now))] : []
  }
}
