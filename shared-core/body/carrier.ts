import { median } from '../statistics/median.ts'
import type { FollowMark } from '../following/followed-track.ts'
import type { Point } from '../geometry/point.ts'
import { pointOf, type BodyTrack } from './body-track.ts'
import { jointIndex } from './joints.ts'
import { legOf, withoutStrayArms } from './stray-arms.ts'

/** Where the body's points say that a followed thing is. */
export interface CarrierPlace extends Point {
  readonly frame: number
  /** Whether two points of the body say so independently. */
  readonly isSure: boolean
}

/** What carries a followed thing where its own look changes. */
export interface Carrier {
  /** By rising frame. */
  readonly places: readonly CarrierPlace[]
  /** Farther than this from the carrier's place nothing is the thing, pixels. */
  readonly reachPx: number
  /** One standard deviation of a place in x and in y, pixels. */
  readonly errorPx: number
}

/**
 * A hand's middle lies beyond the wrist by this share of the forearm: 8 of 25 cm (the hand's centre of mass lies so far from the wrist:
 * D. A. Winter, "Biomechanics and Motor Control of Human Movement", table 4.1: 0.506 of the hand's length; the forearm is 0.146
 * and the hand 0.108 of the stature; figures from memory).
 */
const beyondWrist = (0.506 * 0.108) / 0.146
/** Two hands hold one club: what both arms say of them lies no farther apart than this, a share of the leg (0.1 m). */
const handsAgree = 0.14
/** Hips to ankles, from which the other lengths are told; about 0.75 m. */
const reachLegs = { hands: 0.1, belt: 0.07 }
const errorLegs = { hands: 0.04, belt: 0.03 }

/**
 * One arm alone is believed as far beside its neighbours as it is off by itself and as hands bend their way in that time (8 m/s round
 * 0.7 m give 90 m/s²), legs and legs a second squared.
 */
const strayLegs = 0.15
const bendLegsPerS2 = 120

type Carried = keyof typeof reachLegs

/** Whether the body's points can carry what is followed under this name. */
export const isCarried = (name: string): name is Carried => name in reachLegs

/** Whether what is followed under this name is followed better once the body's points are read: the club is looked for from the hands outward. */
export const isHelpedByBody = (name: string): boolean => isCarried(name) || name === 'club head'

const middle = (a: Point, b: Point): Point => ({ x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 })

/** The hands' middle, from the arms that were found. */
const handsOn = (track: BodyTrack, k: number, leg: number): (Point & { isSure: boolean }) | null => {
  const [one, two] = (['left', 'right'] as const).map((side) => {
    const wrist = pointOf(track, k, jointIndex(`${side}Wrist`))
    const elbow = pointOf(track, k, jointIndex(`${side}Elbow`))
    return (
      wrist &&
      elbow && {
        x: wrist.x + beyondWrist * (wrist.x - elbow.x),
        y: wrist.y + beyondWrist * (wrist.y - elbow.y),
      }
    )
  })
  if (one && two) {
    const apart = Math.hypot(one.x - two.x, one.y - two.y)
    return apart <= handsAgree * leg ? { ...middle(one, two), isSure: true } : null
  }
  const only = one ?? two
  return only ? { ...only, isSure: false } : null
}

const hipsOn = (track: BodyTrack, k: number): (Point & { isSure: boolean }) | null => {
  const [one, two] = [pointOf(track, k, jointIndex('leftHip')), pointOf(track, k, jointIndex('rightHip'))]
  return one && two ? { ...middle(one, two), isSure: true } : null
}

/** What the body says of a thing on each frame that was read; null for what it says nothing of, or where its size is not known. */
export const carrierOf = (
  name: string,
  body: BodyTrack,
  marks: readonly FollowMark[],
  captureRate: number,
): Carrier | null => {
  if (!isCarried(name) || body.frames.length === 0) return null
  const leg = legOf(body)
  if (!(leg > 0)) return null
  const track = name === 'hands' ? withoutStrayArms(body) : body
  const found = Array.from(track.frames).flatMap((frame, k): CarrierPlace[] => {
    const place = name === 'hands' ? handsOn(track, k, leg) : hipsOn(track, k)
    return place ? [{ ...place, frame }] : []
  })
  const places = name === 'belt' ? besideMarks(found, marks) : withoutStrays(found, leg, captureRate)
  return { places, reachPx: reachLegs[name] * leg, errorPx: errorLegs[name] * leg }
}

/** Without single arms that lie off the line between their neighbours; the worst goes first, for it spoils the others. */
const withoutStrays = (found: readonly CarrierPlace[], leg: number, captureRate: number): CarrierPlace[] => {
  const kept = [...found]
  for (;;) {
    let worst = { index: -1, over: 0 }
    kept.forEach((place, index) => {
      const [a, b] = [kept[index - 1], kept[index + 1]]
      if (place.isSure || !a || !b) return
      const share = (place.frame - a.frame) / (b.frame - a.frame)
      const off = Math.hypot(a.x + share * (b.x - a.x) - place.x, a.y + share * (b.y - a.y) - place.y) / leg
      const seconds = (b.frame - a.frame) / captureRate
      const over = off - strayLegs - (bendLegsPerS2 / 8) * seconds ** 2
      if (over > worst.over) worst = { index, over }
    })
    if (worst.index < 0) return kept
    kept.splice(worst.index, 1)
  }
}

/** The belt is marked higher or lower than the hips' middle: as far from it as where the coach marked it. */
const besideMarks = (found: readonly CarrierPlace[], marks: readonly FollowMark[]): CarrierPlace[] => {
  const off = marks.flatMap((mark) => {
    const near = [...found].sort((a, b) => Math.abs(a.frame - mark.frame) - Math.abs(b.frame - mark.frame))[0]
    return near ? [{ x: mark.x - near.x, y: mark.y - near.y }] : []
  })
  if (off.length === 0) return []
  const [dx, dy] = [median(off.map((o) => o.x)), median(off.map((o) => o.y))]
  return found.map((place) => ({ ...place, x: place.x + dx, y: place.y + dy }))
}
