import type { Carrier, CarrierPlace } from '../body/carrier.ts'
import { distance, type Point } from '../geometry/point.ts'
import {
  indexUpTo,
  placeOn,
  trackOf,
  type FollowedPlace,
  type FollowedTrack,
  type FollowMark,
  type Lost,
} from './followed-track.ts'

/** Between two places of the carrier that are no farther apart in real time the thing is laid on a curve through them. */
const bridgedSeconds = 0.075
/** Where the carrier takes over, the step from the last seen place to its own fades over so much real time. */
const fadingSeconds = 0.1

/**
 * A followed track with its carrier. What the carrier says is not the thing (an arm that was slid along) is let go, and where the thing was
 * not found it is laid where the carrier has it, with the carrier's error. What the coach marked stays.
 */
export const carry = (
  followed: { readonly track: FollowedTrack; readonly lost: readonly Lost[] },
  carrier: Carrier,
  marks: readonly FollowMark[],
  range: { readonly first: number; readonly last: number; readonly captureRate: number },
): { track: FollowedTrack; lost: Lost[] } => {
  const { track } = followed
  const hints = { frames: Int32Array.from(carrier.places, (p) => p.frame), places: carrier.places }
  const marked = new Set(marks.map((m) => m.frame))
  const isBeside = (place: FollowedPlace, hint: Point | null | undefined): boolean =>
    hint !== null && hint !== undefined && distance(place, hint) > carrier.reachPx
  const seen = new Map<number, FollowedPlace>()
  track.frames.forEach((frame) => {
    const place = placeOn(track, frame)!
    const hint = curveOn(hints, frame, range.captureRate)
    // Between readings too far apart the nearest ones on both sides judge, each on its own frame.
    const k = indexUpTo(hints.frames, frame)
    const isDoubted = hint
      ? isBeside(place, hint)
      : [hints.places[k], hints.places[k + 1]].some((near) => {
          const own = near && placeOn(track, near.frame)
          return own ? isBeside(own, near) : false
        })
    if (marked.has(frame) || !isDoubted) seen.set(frame, place)
  })
  const places = Array.from({ length: range.last - range.first + 1 }, (_, i) => range.first + i).flatMap(
    (frame) => {
      const own = seen.get(frame)
      if (own) return [{ ...own, frame }]
      const hint = curveOn(hints, frame, range.captureRate)
      if (!hint) return []
      const step = stepOn(hints, seen, frame, range.captureRate)
      return [{ x: hint.x + step.x, y: hint.y + step.y, errorPx: carrier.errorPx, frame }]
    },
  )
  const carried = trackOf(places)
  return { track: carried, lost: lostIn(carried, followed.lost, marks, range) }
}

/** The frames on which the body's points say where a thing is, rising, and where. */
export interface Hints {
  readonly frames: Int32Array
  readonly places: readonly CarrierPlace[]
}

/** Catmull and Rom's curve through the carrier's places; null where they are too far apart in time. */
export const curveOn = ({ frames, places }: Hints, frame: number, captureRate: number): Point | null => {
  const k = indexUpTo(frames, frame)
  const a = places[k]
  if (a?.frame === frame) return a
  const b = places[k + 1]
  if (!a || !b || b.frame - a.frame > Math.max(2, bridgedSeconds * captureRate)) return null
  const n = b.frame - a.frame
  const near = (p: CarrierPlace | undefined) =>
    p && Math.min(Math.abs(p.frame - a.frame), Math.abs(p.frame - b.frame)) <= 2 * n ? p : undefined
  const [before, after] = [near(places[k - 1]) ?? a, near(places[k + 2]) ?? b]
  const s = (frame - a.frame) / n
  const on = (axis: 'x' | 'y') => {
    const from = ((b[axis] - before[axis]) / (b.frame - before.frame)) * n
    const to = ((after[axis] - a[axis]) / (after.frame - a.frame)) * n
    return (
      a[axis] * (1 + s * s * (2 * s - 3)) +
      b[axis] * s * s * (3 - 2 * s) +
      from * s * (1 - s) ** 2 +
      to * s * s * (s - 1)
    )
  }
  return { x: on('x'), y: on('y') }
}

/** How far beside the carrier the thing is drawn, so that its way does not jump where the carrier takes over. */
const stepOn = (
  hints: Hints,
  seen: ReadonlyMap<number, FollowedPlace>,
  frame: number,
  captureRate: number,
): Point => {
  const most = Math.floor(fadingSeconds * captureRate)
  const sum = { x: 0, y: 0 }
  for (const direction of [-1, 1]) {
    for (let n = 1; n <= most; n++) {
      const own = seen.get(frame + direction * n)
      if (!own) continue
      const hint = curveOn(hints, frame + direction * n, captureRate)
      const share = 1 - n / (most + 1)
      if (hint) {
        sum.x += share * (own.x - hint.x)
        sum.y += share * (own.y - hint.y)
      }
      break
    }
  }
  return sum
}

/** Where it is lost now: from where it was lost on to the first frame that the carrier does not have either. */
const lostIn = (
  track: FollowedTrack,
  lost: readonly Lost[],
  marks: readonly FollowMark[],
  range: { readonly first: number; readonly last: number },
): Lost[] => {
  const frames = marks.map((m) => m.frame)
  const still = lost.flatMap(({ frame, why }): Lost[] => {
    const nearest = [...frames].sort((a, b) => Math.abs(a - frame) - Math.abs(b - frame))[0] ?? frame
    const step = frame >= nearest ? 1 : -1
    let at = frame
    while (at >= range.first && at <= range.last && placeOn(track, at)) at += step
    return at < range.first || at > range.last ? [] : [{ frame: at, why }]
  })
  return still.filter((l, i) => still.findIndex((other) => other.frame === l.frame) === i)
}
