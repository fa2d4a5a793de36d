import { drawingsOn } from '../../shared-core/drawing/drawing.ts'
import type { Shape } from '../../shared-core/drawing/shapes.ts'
import type { TalkEvent, TalkLook } from '../../shared-core/hand-over/talk-timeline.ts'
import type { OpenLesson, View } from '../../shared-core/model/entities.ts'
import { clipOf, viewOf, type Compared } from '../store/desk-store.ts'
import { movingDrawings } from '../store/moving-drawings.ts'

/** What is on the Stage right now. */
export interface OnStage {
  lesson: OpenLesson | null
  activeViewId: string | null
  frame: number
  compared: Compared | null
  secondFrame: number | null
  showsDrawings: boolean
  draft: { id: string | null; shape: Shape } | null
  pointer: TalkEvent['pointer']
  /** What is seen of each picture where the coach zoomed or moved it. */
  looks: { first: TalkLook | null; second: TalkLook | null }
}

const seen = (view: View, frame: number, draft: OnStage['draft']): NonNullable<TalkEvent['drawings']> => {
  const shapes: Shape[] = drawingsOn(movingDrawings(view), frame).map((d) =>
    draft && d.id === draft.id ? draft.shape : d.shape,
  )
  if (draft && draft.id === null) shapes.push(draft.shape)
  return JSON.parse(JSON.stringify(shapes)) as NonNullable<TalkEvent['drawings']>
}

/** The Stage as an event of the timeline, without its time; null while there is no picture. */
export const eventOf = (stage: OnStage): Omit<TalkEvent, 'atSeconds'> | null => {
  const { lesson, compared, frame, showsDrawings } = stage
  const view = viewOf(lesson, compared?.firstViewId ?? stage.activeViewId)
  const clip = clipOf(lesson, view)
  if (!view || !clip || frame < 0) return null
  const event: Omit<TalkEvent, 'atSeconds'> = {
    viewId: view.id,
    frame,
    drawings: showsDrawings ? seen(view, frame, compared ? null : stage.draft) : [],
    showsCues: showsDrawings,
    isMirrored: clip.isMirrored,
    pointer: stage.pointer ?? null,
    look: stage.looks.first,
  }
  const secondView = compared && viewOf(lesson, compared.secondViewId)
  const secondClip = clipOf(lesson, secondView)
  if (compared && secondView && secondClip && stage.secondFrame !== null) {
    event.second = {
      viewId: secondView.id,
      frame: stage.secondFrame,
      drawings: showsDrawings ? seen(secondView, stage.secondFrame, null) : [],
      isMirrored: secondClip.isMirrored !== compared.mirrorSecond,
      arrangement: compared.arrangement,
      opacity: compared.arrangement === 'over' ? compared.opacity : 1,
      look: stage.looks.second,
    }
  }
  return event
}
