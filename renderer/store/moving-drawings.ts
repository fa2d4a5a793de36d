import { withMotion, type Drawing } from '../../shared-core/drawing/drawing.ts'
import type { View } from '../../shared-core/model/entities.ts'
import { clipOf, useDesk } from './desk-store.ts'
import { drawingsOf } from './drawings.ts'
import { motionsFrom, useFollowed } from './followed.ts'

/** A view's drawings with what moves them, as far as that was read. */
export const movingDrawings = (view: View): Drawing[] => {
  const { drawings } = drawingsOf(view)
  const { opened: lesson } = useDesk.getState()
  const clip = clipOf(lesson, view)
  const motion = useFollowed.getState().clips[view.clipId]
  return clip && motion
    ? withMotion(drawings, motionsFrom(motion, lesson?.student.side ?? 'right', clip.captureRate))
    : drawings
}
