import type { OpenLesson, Swing } from '../../../shared-core/model/entities.ts'
import { standsAlone } from '../../../shared-core/model/still.ts'
import { edit, swingOf, useDesk } from '../../store/desk-store.ts'
import { chosenSwings } from '../../store/swings.ts'
import { sayNews, sayProblem } from '../../store/messages.ts'
import { Problem } from '../../../shared-core/problem.ts'
import { trayWords } from '../../../shared-core/wording/window/tray.ts'

type Pairing =
  { how: 'pair'; swingId: string; shotId: string } | { how: 'join'; swingId: string; fromSwingId: string }

/**
 * What two swings become when one is put on the other. A shot without a clip and a clip are paired; two clips become two
 * views of one swing. Null if they can't be made one.
 */
const pairingOf = (opened: OpenLesson, put: Swing, on: Swing): Pairing | null => {
  // A still picture becomes one more view of a filmed swing.
  const isStill = { put: standsAlone(opened, put), on: standsAlone(opened, on) }
  if (isStill.put && isStill.on) return null
  if (isStill.put || isStill.on) {
    const [still, swing] = isStill.put ? [put, on] : [on, put]
    return swing.views.length > 0 ? { how: 'join', swingId: swing.id, fromSwingId: still.id } : null
  }
  const hasClip = { put: put.views.length > 0, on: on.views.length > 0 }
  if (hasClip.on && put.shotId && !hasClip.put) return { how: 'pair', swingId: on.id, shotId: put.shotId }
  if (hasClip.put && on.shotId && !hasClip.on) return { how: 'pair', swingId: put.id, shotId: on.shotId }
  if (hasClip.put && hasClip.on && (!put.shotId || !on.shotId)) {
    return { how: 'join', swingId: on.id, fromSwingId: put.id }
  }
  return null
}

const carryOut = async (pairing: Pairing) => {
  if (pairing.how === 'pair') {
    const done = await edit('pair.set', { swingId: pairing.swingId, shotId: pairing.shotId })
    if (done) sayNews(trayWords('pairedByHand'))
  } else {
    const done = await edit('swing.join', { swingId: pairing.swingId, fromSwingId: pairing.fromSwingId })
    if (done) sayNews(trayWords('twoViews'))
  }
}

const putTogether = async (put: Swing, on: Swing) => {
  const { opened } = useDesk.getState()
  const pairing = opened && pairingOf(opened, put, on)
  if (pairing) {
    await carryOut(pairing)
    return
  }
  sayProblem(new Problem(put.views.length > 0 ? 'cannot-pair.bothHaveShots' : 'cannot-pair.noClip'))
}

/** One swing dropped on another. */
export const pairDropped = async (draggedId: string, targetId: string) => {
  const { opened } = useDesk.getState()
  const dragged = swingOf(opened, draggedId)
  const target = swingOf(opened, targetId)
  if (dragged && target && dragged !== target) await putTogether(dragged, target)
}

const twoOf = (opened: OpenLesson | null, ids: ReadonlySet<string>): [Swing, Swing] | null => {
  const [first, second] = [...ids].flatMap((id) => swingOf(opened, id) ?? [])
  return ids.size === 2 && first && second ? [first, second] : null
}

/** True if exactly two swings are selected and can be made one. */
export const canPairSelected = (opened: OpenLesson | null, ids: ReadonlySet<string>): boolean => {
  const two = twoOf(opened, ids)
  return opened !== null && two !== null && pairingOf(opened, ...two) !== null
}

/** The keyboard's way to drag one onto the other. */
export const pairSelected = async () => {
  const { opened } = useDesk.getState()
  const two = twoOf(opened, new Set(chosenSwings().map((s) => s.id)))
  if (two) await putTogether(...two)
  else sayNews(trayWords('selectTwo'))
}
