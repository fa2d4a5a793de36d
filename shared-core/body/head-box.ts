import { endsOn } from '../drawing/motion.ts'
import type { Box } from '../geometry/box.ts'
import { partTrack } from './body-part.ts'
import type { BodyTrack } from './body-track.ts'

/** Half a head beside a player's trunk, hips to shoulders; common practice for figures, no source. */
const headOfTrunk = 0.28

/** Half as wide as a head, or two hands, of this player on a frame, pixels; null where the trunk was not found. */
export const headRadiusOn = (
  body: BodyTrack,
  side: 'right' | 'left',
  frame: number,
  captureRate: number,
): number | null => {
  const [a, b] = endsOn(partTrack(body, 'spine', side), frame, captureRate) ?? []
  return a && b ? Math.max(8, headOfTrunk * Math.hypot(a.x - b.x, a.y - b.y)) : null
}

/** Where the head is on a frame; null where it was not found. */
export const headBoxOn = (
  body: BodyTrack,
  side: 'right' | 'left',
  frame: number,
  captureRate: number,
): Box | null => {
  const [at] = endsOn(partTrack(body, 'head', side), frame, captureRate) ?? []
  const radius = at && headRadiusOn(body, side, frame, captureRate)
  return at && radius ? { x: at.x - radius, y: at.y - radius, width: 2 * radius, height: 2 * radius } : null
}
