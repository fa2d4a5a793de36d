import { realSecondsBetween, type ClipTimes } from '../timing/clip-clock.ts'
import { BodySeries, type PlayingSide } from './body-series.ts'
import type { BodyTrack } from './body-track.ts'
import { handsLeave, handsRest, handsTurn } from './hand-marks.ts'
import { chanceWithin, joinHint, type BodyInstant, type Hint } from './way-changes.ts'

/** A moment of a view; one without `how` stands as it is. */
export interface ViewMoment {
  readonly name: string
  readonly frame: number
  readonly how?: string
  readonly isConfirmed?: boolean
}

/** What a coach has marked or confirmed is never moved. */
export const isCoachs = (moment: ViewMoment): boolean =>
  moment.how === undefined || moment.how === 'coach' || moment.isConfirmed === true

/** Moments that the hands tell. */
export type HandMoment = 'takeaway' | 'top' | 'finish'

/** A moment read off the body, real seconds from the impact frame. */
export interface BodyMark extends BodyInstant {
  readonly name: HandMoment | 'brace' | 'release'
  /** 0 to 1: how likely it lies within {@link rightWithinSeconds}. */
  readonly confidence: number
}

/** What counts as right: twice the aims; takeaway, top and finish as for what is found by motion alone. */
export const rightWithinSeconds = { takeaway: 0.08, top: 0.05, finish: 0.16, brace: 0.06, release: 0.06 }

/** The surest that is said: what the errors were set on was drawn, not filmed. */
const surest = 0.95

/** The mark of an instant: the frame that shows it, the instant within the frame, and how sure. */
export const markOf = (name: BodyMark['name'], instant: BodyInstant): BodyMark => ({
  name,
  ...instant,
  confidence: Math.min(surest, chanceWithin(rightWithinSeconds[name], instant.sdSeconds)),
})

/** Errors of what the motion alone says, and how late its takeaway is in the middle (tests/worlds/moments.md). */
const motionErrors = {
  takeaway: { sdSeconds: 0.03, wildSdSeconds: 0.14, late: 0.012 },
  top: { sdSeconds: 0.025, wildSdSeconds: 0.1, late: 0 },
  finish: { sdSeconds: 0.12, wildSdSeconds: 0.4, late: 0 },
} as const

/** What marks are made from: the points of one clip, its times, its moments, and how it was filmed. */
export interface MarksInput {
  readonly track: BodyTrack
  readonly times: ClipTimes
  readonly moments: readonly ViewMoment[]
  readonly side: PlayingSide
  readonly tiltDeg: number
}

/**
 * Takeaway, top and finish where the coach has not marked them, from the hands' way and the motion's marks together. Empty
 * without an impact or where the hands were not seen.
 */
export const handMarks = (input: MarksInput): BodyMark[] => {
  const { track, times, moments } = input
  const impact = moments.find((m) => m.name === 'impact')?.frame
  if (impact === undefined || track.frames.length === 0) return []
  const body = new BodySeries(track, times, impact, input)
  const own = (name: HandMoment) => moments.find((m) => m.name === name)
  const hintOf = (name: HandMoment): Hint | null => {
    const moment = own(name)
    if (!moment || (moment.how !== 'motion' && moment.how !== 'sound+motion')) return null
    const { late, ...errors } = motionErrors[name]
    return { atSeconds: realSecondsBetween(times, impact, moment.frame) - late, ...errors }
  }
  const marks: BodyMark[] = []
  const isOpen = (name: HandMoment) => {
    const moment = own(name)
    return !moment || !isCoachs(moment)
  }
  const turn = isOpen('top') ? handsTurn(body, hintOf('top')) : null
  if (turn) marks.push(markOf('top', turn))
  const top =
    turn?.atSeconds ?? (own('top') ? realSecondsBetween(times, impact, own('top')!.frame) : undefined)
  if (top !== undefined && isOpen('takeaway')) {
    const leave = handsLeave(body, top, hintOf('takeaway'))
    if (leave && leave.atSeconds < top - 0.2) marks.push(markOf('takeaway', leave))
  }
  if (isOpen('finish')) {
    const rest = handsRest(body)
    const hint = hintOf('finish')
    if (rest) marks.push(markOf('finish', hint ? joinHint(rest, hint) : rest))
  }
  return marks
}

/** What the motion adds to a mark that was weighed with it, one standard deviation: a usual one of its errors. */
const motionSdSeconds = 0.05

/**
 * Where within its frame a takeaway or top lies that was set from the body, and how sure; for tempo, whose ratio a half frame
 * moves by a tenth. Real seconds from the impact frame; coach's marks are not in it.
 */
export const withinFrames = (input: MarksInput): Partial<Record<HandMoment, BodyInstant>> => {
  const { track, times, moments } = input
  const impact = moments.find((m) => m.name === 'impact')?.frame
  if (impact === undefined || track.frames.length === 0) return {}
  const body = new BodySeries(track, times, impact, input)
  const found: Partial<Record<HandMoment, BodyInstant>> = {}
  const topFrame = moments.find((m) => m.name === 'top')?.frame
  for (const name of ['takeaway', 'top'] as const) {
    const moment = moments.find((m) => m.name === name)
    if (!moment || isCoachs(moment) || moment.how !== 'body' || topFrame === undefined) continue
    const at = realSecondsBetween(times, impact, moment.frame)
    const instant =
      name === 'top'
        ? handsTurn(body, null, at)
        : handsLeave(body, realSecondsBetween(times, impact, topFrame))
    if (!instant) continue
    const half = body.frameSeconds / 2
    found[name] = {
      atSeconds: Math.min(at + half, Math.max(at - half, instant.atSeconds)),
      sdSeconds: 1 / Math.hypot(1 / instant.sdSeconds, 1 / motionSdSeconds),
    }
  }
  return found
}
