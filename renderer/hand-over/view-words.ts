import { clubWords } from '../../shared-core/model/club.ts'
import type { Clip, LessonView, Moment, Swing, View } from '../../shared-core/model/entities.ts'
import { blockOf, clipOf, shotOf, swingsInOrder } from '../store/desk-store.ts'

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
export const placedViews = (lesson: LessonView): PlacedView[] =>
  swingsInOrder(lesson).flatMap((swing, i) =>
    swing.views.map((view) => {
      const clip = clipOf(lesson, view)
      const shot = shotOf(lesson, swing)
      const camera = clip && clip.camera !== 'other' ? clip.camera.replaceAll('-', ' ') : null
      return {
        view,
        swing,
        clip,
        number: i + 1,
        title: [`Swing ${i + 1}`, shot ? clubWords(shot.club) : null].filter(Boolean).join(' · '),
        detail: [blockOf(lesson, swing)?.name, camera].filter(Boolean).join(' · '),
      }
    }),
  )

export const byFrame = (moments: readonly Moment[]): Moment[] =>
  [...moments].sort((a, b) => a.frame - b.frame)

/** "34 MB", "0.8 MB", "0.1 MB" for anything smaller. */
export const sizeText = (bytes: number) =>
  `${Math.max(0.1, bytes / 1_000_000).toFixed(bytes < 10_000_000 ? 1 : 0)} MB`
