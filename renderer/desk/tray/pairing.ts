import { edit, swingOf, useDesk } from '../../store/desk-store.ts'
import { sayNews, sayProblem } from '../../store/messages.ts'
import { Problem } from '../../../shared-core/problem.ts'

/**
 * One swing dropped on another. A shot without a clip dropped on a clip (or the other way round) pairs them; two clips
 * become two views of one swing.
 */
export const pairDropped = async (draggedId: string, targetId: string) => {
  const { view } = useDesk.getState()
  const dragged = swingOf(view, draggedId)
  const target = swingOf(view, targetId)
  if (!dragged || !target || dragged === target) return
  const hasClip = { dragged: dragged.views.length > 0, target: target.views.length > 0 }
  if (hasClip.target && dragged.shotId && !hasClip.dragged) {
    await edit('pair.set', { swingId: target.id, shotId: dragged.shotId })
    sayNews('Paired by hand; the other pairs were fitted around it')
  } else if (hasClip.dragged && target.shotId && !hasClip.target) {
    await edit('pair.set', { swingId: dragged.id, shotId: target.shotId })
    sayNews('Paired by hand; the other pairs were fitted around it')
  } else if (hasClip.dragged && hasClip.target && (!dragged.shotId || !target.shotId)) {
    await edit('swing.join', { swingId: target.id, fromSwingId: dragged.id })
    sayNews('Both clips now show the same swing')
  } else {
    sayProblem(
      new Problem('cannot-pair', 'these two swings cannot be made one', {
        toDo: hasClip.dragged
          ? 'Both have a shot. Take the shot off one of them first, in the Ledger'
          : 'A shot goes with a clip; neither of these has one',
      }),
    )
  }
}
