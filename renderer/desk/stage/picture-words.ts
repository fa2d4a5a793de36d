import type { GuestPicture, OpenLesson, Swing, View } from '../../../shared-core/model/entities.ts'
import { clubWords } from '../../../shared-core/model/club.ts'
import { dateText } from '../../roster/LessonRow.tsx'
import { stillTitle } from '../../../shared-core/model/still.ts'
import { stageWords } from '../../../shared-core/wording/window/stage.ts'
import { commonWords } from '../../../shared-core/wording/window/common.ts'
import {
  blockOf,
  clipOf,
  guestOf,
  shotOf,
  stillsInOrder,
  swingOf,
  swingsInOrder,
  viewOf,
} from '../../store/desk-store.ts'

/** "Swing 3 · Baseline", and of which day if it is of another lesson. */
export const pictureTitle = (lesson: OpenLesson, viewId: string): string => {
  const guest = guestOf(lesson, viewId)
  if (guest) return guestTitle(guest)
  const swing = swingOf(lesson, viewOf(lesson, viewId)?.swingId ?? null)
  if (!swing) return stageWords('swingGone')
  const still = clipOf(lesson, viewOf(lesson, viewId))
  if (still && still.stillKind !== null) {
    return [stillTitle(still), dateText(lesson.lesson.date)].join(' · ')
  }
  const number = swingsInOrder(lesson).findIndex((s) => s.id === swing.id) + 1
  return [commonWords('swingNumbered', { number }), blockOf(lesson, swing)?.name].filter(Boolean).join(' · ')
}

const guestTitle = ({ lesson, swing, blockName, clip }: GuestPicture) =>
  clip.stillKind !== null
    ? [stillTitle(clip), dateText(lesson.date)].join(' · ')
    : [dateText(lesson.date), commonWords('swingNumbered', { number: swing.order }), blockName]
        .filter(Boolean)
        .join(' · ')

export interface PictureOption {
  readonly value: string
  readonly label: string
  readonly swingId: string
  readonly camera: string
}

/** Every picture of a lesson, in the order of its Tray, by the words a coach tells swings apart with. */
export const pictureOptions = (lesson: OpenLesson): PictureOption[] =>
  [...swingsInOrder(lesson), ...stillsInOrder(lesson)].flatMap((swing, i) =>
    swing.views.map((view) => {
      const clip = clipOf(lesson, view)
      const isStill = clip !== null && clip.stillKind !== null
      return {
        value: view.id,
        label: isStill ? `${stillTitle(clip)} · ${clip.fileName}` : optionLabel(lesson, swing, view, i + 1),
        swingId: swing.id,
        // Stills go with stills of their kind, as films with those of the same camera.
        camera: isStill ? `still ${clip.stillKind}` : (clip?.camera ?? 'other'),
      }
    }),
  )

const optionLabel = (lesson: OpenLesson, swing: Swing, view: View, number: number) => {
  const camera = clipOf(lesson, view)?.camera ?? 'other'
  return [
    `${number}`,
    blockOf(lesson, swing)?.name,
    swing.shotId ? clubWords(shotOf(lesson, swing)?.club ?? null) : null,
    camera === 'other' ? null : stageWords(`camera.${camera}`),
  ]
    .filter(Boolean)
    .join(' · ')
}
