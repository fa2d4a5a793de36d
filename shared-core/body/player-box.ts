import type { Box } from '../geometry/box.ts'
import { pointOf, type BodyTrack } from './body-track.ts'
import { jointCount } from './joints.ts'

/** Shares of a clip's points that may stick out: single points go astray. */
const leftOut = 0.02
/** Points from this many frames are enough to know where somebody stands. */
const minFrames = 3

/**
 * Where the player is in a clip, over all frames that were read, in pixels of the shown picture; the joints only, so neither
 * the crown of the head nor the club. Null where too little was read.
 */
export const playerBox = (track: BodyTrack): Box | null => {
  if (track.frames.length < minFrames) return null
  const points = Array.from(track.frames).flatMap((_frame, k) =>
    Array.from({ length: jointCount }, (_joint, joint) => pointOf(track, k, joint)).filter((p) => p !== null),
  )
  if (points.length < minFrames * 4) return null
  const ends = (values: readonly number[]): [number, number] => {
    const sorted = values.toSorted((a, b) => a - b)
    const off = Math.floor(leftOut * sorted.length)
    return [sorted[off]!, sorted[sorted.length - 1 - off]!]
  }
  const [left, right] = ends(points.map((p) => p.x))
  const [top, bottom] = ends(points.map((p) => p.y))
  return { x: left, y: top, width: right - left, height: bottom - top }
}
