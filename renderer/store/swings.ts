import { activeSwing, activeView, clipOf, edit, swingsInOrder, useDesk } from './desk-store.ts'
import { sayNews } from './messages.ts'

/** Stars the selected swings for the hand-over; if all have stars, takes them away. */
export const toggleStars = async () => {
  const { view, selectedIds, activeSwingId } = useDesk.getState()
  if (!view) return
  const ids = selectedIds.size > 0 ? [...selectedIds] : activeSwingId ? [activeSwingId] : []
  const swings = view.swings.filter((s) => ids.includes(s.id))
  if (swings.length === 0) return
  const isStarred = !swings.every((s) => s.isStarred)
  await edit('swing.update', { ids: swings.map((s) => s.id), patch: { isStarred } })
}

export const cutBlockHere = async () => {
  const { view, lessonId, activeSwingId } = useDesk.getState()
  if (!view || !lessonId || !activeSwingId) return
  const swing = view.swings.find((s) => s.id === activeSwingId)!
  const first = swingsInOrder(view).find((s) => s.blockId === swing.blockId)
  if (first?.id === swing.id) {
    sayNews('This swing already begins a block')
    return
  }
  await edit('block.cut', { lessonId, beforeSwingId: activeSwingId })
}

export const joinBlockHere = async () => {
  const state = useDesk.getState()
  const swing = activeSwing(state)
  if (!state.view || !swing) return
  const blocks = [...state.view.blocks].sort((a, b) => a.order - b.order)
  if (blocks[0]?.id === swing.blockId) {
    sayNews('This is the first block; there is none before it')
    return
  }
  await edit('block.join', { id: swing.blockId })
}

export const toggleMirror = () => {
  const state = useDesk.getState()
  if (state.compared) {
    useDesk.setState({ compared: { ...state.compared, mirrorSecond: !state.compared.mirrorSecond } })
    return
  }
  const clip = clipOf(state.view, activeView(state))
  if (clip) void edit('clip.update', { id: clip.id, patch: { isMirrored: !clip.isMirrored } })
}
