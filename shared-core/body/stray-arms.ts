import { median } from '../statistics/median.ts'
import { makeGap, pointOf, type BodyTrack } from './body-track.ts'
import { jointIndex } from './joints.ts'

/**
 * Both hands hold the club, about a tenth of the leg apart: from here on one of the wrists may stray, from there on both can't be
 * right (0.17 and 0.33 m).
 */
const apart = 0.2
const tooFarApart = 0.4
/** A wrist this near to the other arm's elbow was taken for it, a share of the leg: 0.13 m, half a forearm. */
const onElbow = 0.16

const arms = [
  { wrist: jointIndex('leftWrist'), elbow: jointIndex('leftElbow') },
  { wrist: jointIndex('rightWrist'), elbow: jointIndex('rightElbow') },
] as const

/** Height of hips over ankles, pixels: the middle of all frames. */
export const legOf = (track: BodyTrack): number =>
  median(
    Array.from(track.frames).flatMap((_, k) =>
      (['left', 'right'] as const).flatMap((side) => {
        const [hip, ankle] = [
          pointOf(track, k, jointIndex(`${side}Hip`)),
          pointOf(track, k, jointIndex(`${side}Ankle`)),
        ]
        return hip && ankle ? [ankle.y - hip.y] : []
      }),
    ),
  )

/**
 * The track without the arms that the model laid upon the other arm, as it does where one is hidden: gaps instead of places. Two
 * hands hold one club, so wrists far apart are not both right; wrong is the one on the other arm's elbow; much too far apart, both. What was set by
 * hand stays.
 */
export const withoutStrayArms = (track: BodyTrack): BodyTrack => {
  const leg = legOf(track)
  if (!(leg > 0)) return track
  const points = track.points.slice()
  const drop = (k: number, { wrist, elbow }: (typeof arms)[number]) => {
    makeGap(points, k, wrist)
    makeGap(points, k, elbow)
  }
  track.frames.forEach((_, k) => {
    const wrists = arms.map(({ wrist }) => pointOf(track, k, wrist))
    const [one, two] = wrists
    const distance = one && two ? Math.hypot(one.x - two.x, one.y - two.y) / leg : 0
    if (distance <= apart) return
    const isOnElbow = arms.map((_arm, i) => {
      const [own, elbow] = [wrists[i]!, pointOf(track, k, arms[1 - i]!.elbow)]
      return elbow !== null && Math.hypot(own.x - elbow.x, own.y - elbow.y) < onElbow * leg
    })
    arms.forEach((arm, i) => {
      if (isOnElbow[i] || (distance > tooFarApart && !isOnElbow[1 - i])) drop(k, arm)
    })
  })
  return { ...track, points }
}
