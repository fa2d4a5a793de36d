import { distance, type Point } from '../geometry/point.ts'
import {
  placeOn,
  trackOf,
  type FollowedPlace,
  type FollowedTrack,
  type FollowMark,
  type Lost,
} from './followed-track.ts'

/** A club head as it was seen from the hands outward on a frame. */
export interface SeenHead extends Point {
  readonly frame: number
  /** How much of a shaft is seen on this very frame, 0 to about 0.6. */
  readonly seen: number
  /** By how much the whole swing is better explained so than with the shaft elsewhere on this frame. */
  readonly margin: number
}

/**
 * From so much on it is claimed that the head was seen; below, the frame is a gap. A shaft that is seen almost whole needs less of a margin: with few
 * frames a second a club can turn anywhere between two of them. Set on the tuning seeds of scripts/worlds/path.ts.
 */
const isSure = ({ seen, margin }: SeenHead): boolean =>
  (seen >= 0.1 && margin >= 0.5) || (seen >= 0.4 && margin >= 0.3)
/**
 * What was followed by its look and what was seen from the hands are the same head so near, club lengths (half a driver's head), and surely not from
 * three times that on; in between (the head's shadow beside it) the look is the finer of the two, as long as both come together again at once.
 */
const sameShare = 0.06
const otherShare = 0.18
/** One standard deviation of a place that was seen from the hands, club lengths. Measured on the tuning seeds. */
const errorShare = 0.02
/**
 * A head lies no farther off the line between its neighbours than it is off by itself and as a club head bends its way: 50 m/s round 1.3 m
 * gives 1,900 m/s², club lengths of a metre.
 */
const strayShare = 0.08
const bendPerS2 = 1900
/** A place followed by look alone is believed so long after the hands last agreed, real seconds, and for so many frames. */
const unseenSeconds = 0.06
const unseenFrames = 3
/** So long, real seconds, it may be hidden before it counts as lost. */
const hiddenSeconds = 0.02

/** Heads that are sure by themselves and in line with their neighbours; the worst goes first, for it spoils the others. */
const sureHeads = (heads: readonly SeenHead[], lengthPx: number, captureRate: number): SeenHead[] => {
  const kept = heads.filter(isSure)
  for (;;) {
    let worst = { index: -1, over: 0 }
    kept.forEach((head, index) => {
      const [a, b] = [kept[index - 1], kept[index + 1]]
      if (!a || !b) return
      const share = (head.frame - a.frame) / (b.frame - a.frame)
      const line = { x: a.x + share * (b.x - a.x), y: a.y + share * (b.y - a.y) }
      const [before, after] = [(head.frame - a.frame) / captureRate, (b.frame - head.frame) / captureRate]
      const over = distance(head, line) / lengthPx - strayShare - (bendPerS2 * before * after) / 2
      if (over > worst.over) worst = { index, over }
    })
    if (worst.index < 0) return kept
    kept.splice(worst.index, 1)
  }
}

/**
 * The club head's track from what was followed by its look and what was seen from the hands. A look that has slid off (to the ball, a line on
 * the floor) is let go where the shaft points elsewhere; what was lost is found again where the shaft is seen. Marks stay.
 */
export const claimClub = (
  followed: { readonly track: FollowedTrack; readonly lost: readonly Lost[] },
  heads: readonly SeenHead[],
  lengthPx: number,
  marks: readonly FollowMark[],
  range: { readonly first: number; readonly last: number; readonly captureRate: number },
): { track: FollowedTrack; lost: Lost[] } => {
  const { track } = followed
  const sure = new Map(sureHeads(heads, lengthPx, range.captureRate).map((h) => [h.frame, h]))
  const looked = new Set(heads.map((h) => h.frame))
  const most = Math.max(unseenFrames, unseenSeconds * range.captureRate)
  const places = new Map<number, FollowedPlace>()
  for (const [frame, head] of sure) {
    places.set(frame, { x: head.x, y: head.y, errorPx: errorShare * lengthPx })
  }
  const takeSeen = (frame: number) => {
    const head = sure.get(frame)
    if (head) places.set(frame, { x: head.x, y: head.y, errorPx: errorShare * lengthPx })
    else places.delete(frame)
  }
  for (const frame of sure.keys()) takeSeen(frame)
  const marked = new Set(marks.map((m) => m.frame))
  for (const { frame: from } of marks) {
    for (const step of [-1, 1]) {
      let isTrusted = true
      let agreed = from
      for (let frame = from; frame >= range.first && frame <= range.last; frame += step) {
        if (frame !== from && marked.has(frame)) break
        const place = placeOn(track, frame)
        const head = sure.get(frame)
        const off = place && head && !marked.has(frame) ? distance(place, head) / lengthPx : null
        if (off !== null && (off > otherShare || (off > sameShare && Math.abs(frame - agreed) > most))) {
          // It slid off since both last agreed.
          if (isTrusted) {
            for (let back = agreed; back !== frame; back += step) if (!marked.has(back)) takeSeen(back)
          }
          isTrusted = false
        }
        if (off !== null && off <= sameShare) isTrusted = true
        if (!looked.has(frame) || (off !== null && off <= sameShare)) agreed = frame
        if (Math.abs(frame - agreed) > most && off === null) isTrusted = false
        if (place && isTrusted) places.set(frame, place)
      }
    }
  }
  for (const mark of marks) {
    const own = placeOn(track, mark.frame)
    if (own) places.set(mark.frame, own)
  }
  const claimed = trackOf([...places].map(([frame, place]) => ({ ...place, frame })))
  return { track: claimed, lost: lostOf(claimed, followed.lost, marks, range) }
}

/** From each mark outward to the next one: the first frame of a gap that is too long for something that was hidden for a moment. */
const lostOf = (
  track: FollowedTrack,
  before: readonly Lost[],
  marks: readonly FollowMark[],
  range: { readonly first: number; readonly last: number; readonly captureRate: number },
): Lost[] => {
  const most = Math.max(1, Math.round(hiddenSeconds * range.captureRate))
  const marked = new Set(marks.map((m) => m.frame))
  const lost = new Map<number, Lost>()
  for (const { frame: from } of marks) {
    for (const step of [-1, 1]) {
      let missing = 0
      for (let frame = from + step; frame >= range.first && frame <= range.last; frame += step) {
        if (marked.has(frame)) break
        missing = placeOn(track, frame) ? 0 : missing + 1
        const isEnd = frame + step < range.first || frame + step > range.last
        if (missing <= most && !(isEnd && missing > 0)) continue
        const at = frame - (missing - 1) * step
        const why = before.find((l) => Math.abs(l.frame - at) <= most)?.why ?? 'unsure'
        lost.set(at, { frame: at, why })
        break
      }
    }
  }
  return [...lost.values()].sort((a, b) => a.frame - b.frame)
}
