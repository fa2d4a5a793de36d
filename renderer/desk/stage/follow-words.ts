import type { LostReason } from '../../../shared-core/following/followed-track.ts'
import type { FollowedOnStage } from '../../store/followed.ts'

const why: Record<LostReason, string> = {
  unsure: 'two places look alike there',
  changed: 'it looks different there or is hidden',
  'out-of-picture': 'it leaves the picture',
  jumped: 'it moves too far from one frame to the next',
}

/** How far a point was followed, and where and why it was lost. */
export const lostWords = (
  point: Pick<FollowedOnStage, 'lost' | 'track' | 'fromFrame' | 'toFrame'>,
): string => {
  const of = point.toFrame - point.fromFrame + 1
  const { length } = point.track.frames
  if (length === 0) return 'Not followed yet'
  const lost = point.lost.map(({ frame, why: reason }) => `lost at frame ${frame}: ${why[reason]}`)
  return [`Found on ${length} of ${of} frames`, ...lost].join('; ')
}
