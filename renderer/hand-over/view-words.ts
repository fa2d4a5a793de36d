import { clubWords } from '../../shared-core/model/club.ts'
import type { Clip, OpenLesson, Moment, Swing, View } from '../../shared-core/model/entities.ts'
import { stillTitle } from '../../shared-core/model/still.ts'
import { blockOf, clipOf, shotOf, stillsInOrder, swingsInOrder } from '../store/desk-store.ts'
import { commonWords } from '../../shared-core/wording/window/common.ts'
import { writeWords } from '../../shared-core/wording/window/write-hand-over.ts'

export interface PlacedView {
  view: View
  swing: Swing
  clip: Clip | null
  /** Its number in the Tray. */
  number: number
  title: string
  /** Block and camera. */
  detail: string
}

/** Every picture of the lesson in the order of the Tray, with the words it goes by. */
export const placedViews = (lesson: OpenLesson): PlacedView[] =>
  [...swingsInOrder(lesson), ...stillsInOrder(lesson)].flatMap((swing, i) =>
    swing.views.map((view) => {
      const clip = clipOf(lesson, view)
      const isStill = clip !== null && clip.stillKind !== null
      const shot = shotOf(lesson, swing)
      const camera = clip && clip.camera !== 'other' ? clip.camera.replaceAll('-', ' ') : null
      return {
        view,
        swing,
        clip,
        number: i + 1,
        title: isStill
          ? stillTitle(clip)
          : [commonWords('swingNumbered', { number: i + 1 }), shot ? clubWords(shot.club) : null]
              .filter(Boolean)
              .join(' · '),
        detail: isStill ? clip.fileName : [blockOf(lesson, swing)?.name, camera].filter(Boolean).join(' · '),
      }
    }),
  )

export const byFrame = (moments: readonly Moment[]): Moment[] =>
  [...moments].sort((a, b) => a.frame - b.frame)

/** "34 MB", "0.8 MB", "0.1 MB" for anything smaller. */
export const sizeText = (bytes: number) =>
  writeWords('megabytes', { value: Math.max(0.1, bytes / 1_000_000).toFixed(bytes < 10_000_000 ? 1 : 0) })
