import { pointOf, type BodyTrack } from './body-track.ts'
import { jointCount } from './joints.ts'

/** So many joints make a person. Our own choice: an arm at the edge of the picture is not yet a face. */
const minJoints = 4
/** Between two read frames no further apart than this, real seconds, nobody comes and goes unseen. */
const trustedSeconds = 0.25

/** Whether a person is on a frame, by the frames that were read around it; null where it was not read. */
export const personOn = (track: BodyTrack, captureRate: number): ((frame: number) => boolean | null) => {
  const { frames } = track
  const isSeen = Array.from(frames, (_, k) => {
    let found = 0
    for (let joint = 0; joint < jointCount; joint++) if (pointOf(track, k, joint)) found += 1
    return found >= minJoints
  })
  const most = Math.max(2, trustedSeconds * captureRate)
  return (frame) => {
    const after = frames.findIndex((f) => f >= frame)
    if (after < 0) return null
    if (frames[after] === frame) return isSeen[after]!
    const before = after - 1
    if (before < 0 || frames[after]! - frames[before]! > most) return null
    return isSeen[before]! || isSeen[after]!
  }
}
