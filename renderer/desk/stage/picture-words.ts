import type { GuestPicture, LessonView, Swing, View } from '../../../shared-core/model/entities.ts'
import { clubWords } from '../../../shared-core/model/club.ts'
import { dateText } from '../../roster/LessonRow.tsx'
import { blockOf, clipOf, guestOf, shotOf, swingOf, swingsInOrder, viewOf } from '../../store/desk-store.ts'

/** "Swing 3 · Baseline", and of which day if it is of another lesson. */
export const pictureTitle = (lesson: LessonView, viewId: string): string => {
  const guest = guestOf(lesson, viewId)
  if (guest) return guestTitle(guest)
  const swing = swingOf(lesson, viewOf(lesson, viewId)?.swingId ?? null)
  if (!swing) return 'a swing that is gone'
  const number = swingsInOrder(lesson).findIndex((s) => s.id === swing.id) + 1
  return [`Swing ${number}`, blockOf(lesson, swing)?.name].filter(Boolean).join(' · ')
}

const guestTitle = ({ lesson, swing, blockName }: GuestPicture) =>
  [dateText(lesson.date), `Swing ${swing.order}`, blockName].filter(Boolean).join(' · ')

export interface PictureOption {
  readonly value: string
  readonly label: string
  readonly swingId: string
  readonly camera: string
}

/** Every picture of a lesson, in the order of its Tray, by the words a coach tells swings apart with. */
export const pictureOptions = (lesson: LessonView): PictureOption[] =>
  swingsInOrder(lesson).flatMap((swing, i) =>
    swing.views.map((view) => ({
      value: view.id,
      label: optionLabel(lesson, swing, view, i + 1),
      swingId: swing.id,
      camera: clipOf(lesson, view)?.camera ?? 'other',
    })),
  )

const optionLabel = (lesson: LessonView, swing: Swing, view: View, number: number) => {
  const camera = clipOf(lesson, view)?.camera ?? 'other'
  return [
    `${number}`,
    blockOf(lesson, swing)?.name,
    swing.shotId ? clubWords(shotOf(lesson, swing)?.club ?? null) : null,
    camera === 'other' ? null : camera.replaceAll('-', ' '),
  ]
    .filter(Boolean)
    .join(' · ')
}
