import { median } from '../statistics/median.ts'
import { makeGap, pointOf, type BodyTrack } from './body-track.ts'
import { jointIndex } from './joints.ts'

/**
 * How much longer than usual a leg may look. In a picture it is never longer than it is; with the knees bent toward the camera it
 * looks about a twentieth shorter, and the model errs by another (1 to 4 cm a joint). Our own choice: a knee laid upon the other one
 * makes it 1.15 to 1.2 times as long.
 */
const tooLong = 1.1

const legs = (['left', 'right'] as const).map((side) => ({
  hip: jointIndex(`${side}Hip`),
  knee: jointIndex(`${side}Knee`),
  ankle: jointIndex(`${side}Ankle`),
}))

/**
 * The track without knees that make a leg longer than a leg is: bones keep their length, and a picture only shortens them. Which of
 * the three points is off can't be told; without the knee no angle is taken from them. What was set by hand stays.
 */
export const withoutLongLegs = (track: BodyTrack): BodyTrack => {
  const lengthOf = (k: number, { hip, knee, ankle }: (typeof legs)[number]): number | null => {
    const [a, b, c] = [pointOf(track, k, hip), pointOf(track, k, knee), pointOf(track, k, ankle)]
    return a && b && c ? Math.hypot(a.x - b.x, a.y - b.y) + Math.hypot(b.x - c.x, b.y - c.y) : null
  }
  const lengths = legs.map((leg) => Array.from(track.frames, (_, k) => lengthOf(k, leg)))
  const known = lengths.flat().filter((length) => length !== null)
  if (known.length < 8) return track
  const usual = median(known)
  const points = track.points.slice()
  legs.forEach(({ knee }, i) =>
    lengths[i]!.forEach((length, k) => {
      if (length !== null && length > tooLong * usual) makeGap(points, k, knee)
    }),
  )
  return { ...track, points }
}
