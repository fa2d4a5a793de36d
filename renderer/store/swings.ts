import type { OpenLesson } from '../../shared-core/model/entities.ts'
import {
  activeSwing,
  activeView,
  clipOf,
  edit,
  editsShown,
  expectView,
  filteredSwings,
  stillsInOrder,
  swingsInOrder,
  undo,
  useDesk,
} from './desk-store.ts'
import { ask } from './bridge.ts'
import { sayNews, telling } from './messages.ts'
import { newsWords } from '../../shared-core/wording/window/news.ts'

/** The selected swings that the Tray shows, or the one on the Stage. */
export const chosenSwings = () => {
  const { opened, filter, selectedIds, activeSwingId } = useDesk.getState()
  const ids = selectedIds.size > 0 ? selectedIds : new Set(activeSwingId ? [activeSwingId] : [])
  return opened
    ? [...filteredSwings(opened, filter), ...stillsInOrder(opened)].filter((s) => ids.has(s.id))
    : []
}

/** Stars the selected swings for the hand-over; if all have stars, takes them away. */
export const toggleStars = async () => {
  const swings = chosenSwings()
  if (swings.length === 0) return
  const isStarred = !swings.every((s) => s.isStarred)
  await edit('swing.update', { ids: swings.map((s) => s.id), patch: { isStarred } })
}

/** Takes the selected swings out of the lesson; what the device recorded of a clip's swing stays. */
export const removeSwings = async () => {
  const swings = chosenSwings()
  if (swings.length === 0) return
  const keepShots = swings.filter((s) => s.views.length > 0 && s.shotId !== null).length
  const done = await edit('swing.remove', { ids: swings.map((s) => s.id) })
  if (!done) return
  const kept = keepShots === 0 ? '' : newsWords('shotsStay', { shots: keepShots })
  sayNews(newsWords('swingsRemoved', { swings: swings.length, kept }), {
    label: newsWords('undo'),
    run: () => void undo(),
  })
}

/** True if the swings follow each other in one block and are not all of it. */
export const canBeBlock = (opened: OpenLesson, ids: ReadonlySet<string>): boolean => {
  const first = swingsInOrder(opened).find((s) => ids.has(s.id))
  if (!first) return false
  const ofBlock = swingsInOrder(opened).filter((s) => s.blockId === first.blockId)
  const at = ofBlock.indexOf(first)
  return ids.size < ofBlock.length && ofBlock.slice(at, at + ids.size).every((s) => ids.has(s.id))
}

export const makeBlockOfSelected = async () => {
  const { lessonId } = useDesk.getState()
  const swings = chosenSwings()
  const [first, last] = [swings[0], swings.at(-1)]
  if (!lessonId || !first || !last) return
  await edit('block.cut', { lessonId, beforeSwingId: first.id, lastSwingId: last.id })
}

export const cutBlockHere = async () => {
  await editsShown()
  const { opened, lessonId, activeSwingId } = useDesk.getState()
  if (!opened || !lessonId || !activeSwingId) return
  const swing = opened.swings.find((s) => s.id === activeSwingId)!
  const first = swingsInOrder(opened).find((s) => s.blockId === swing.blockId)
  if (first?.id === swing.id) {
    sayNews(newsWords('alreadyBeginsBlock'))
    return
  }
  await edit('block.cut', { lessonId, beforeSwingId: activeSwingId })
}

export const joinBlockHere = async () => {
  await editsShown()
  const state = useDesk.getState()
  const swing = activeSwing(state)
  if (!state.opened || !swing) return
  const blocks = [...state.opened.blocks].sort((a, b) => a.order - b.order)
  if (blocks[0]?.id === swing.blockId) {
    sayNews(newsWords('isFirstBlock'))
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
  const clip = clipOf(state.opened, activeView(state))
  if (!clip) return
  const patch = { isMirrored: !clip.isMirrored }
  // Shown at once, so that a second press right after turns it back instead of asking for the same again.
  expectView((v) => ({ ...v, clips: v.clips.map((c) => (c.id === clip.id ? { ...c, ...patch } : c)) }))
  void edit('clip.update', { id: clip.id, patch })
}

/** The frame on the Stage comes into the lesson as a still picture of its own. */
export const keepFrame = async () => {
  const state = useDesk.getState()
  const picture = activeView(state)
  const clip = clipOf(state.opened, picture)
  if (!picture || !clip || state.frame < 0 || state.compared) return
  if (clip.stillKind !== null) {
    sayNews(newsWords('isStillAlready'))
    return
  }
  const done = await telling(ask('clip.keepFrame', { viewId: picture.id, frame: state.frame }))
  if (done) sayNews(newsWords('frameComes'))
}

/** The clip's part is cut in two where the Stage stands: a long take in which two swings were taken for one. */
export const cutClipHere = async () => {
  const state = useDesk.getState()
  const view = activeView(state)
  if (!view || state.frame < 0 || state.compared) return
  if (state.frame <= view.fromFrame) {
    sayNews(newsWords('cutInside'))
    return
  }
  const cut = await edit('view.cut', { viewId: view.id, atFrame: state.frame })
  if (cut) sayNews(newsWords('clipCut'), { label: newsWords('undo'), run: () => void undo() })
}

/** The clip on the Stage leaves the lesson, with every swing's part of it; shots stay. */
export const removeClip = async () => {
  const state = useDesk.getState()
  const clip = clipOf(state.opened, activeView(state))
  if (!clip || state.compared) return
  const swings = state.opened!.swings.filter((s) => s.views.some((v) => v.clipId === clip.id)).length
  const done = await edit('clip.remove', { id: clip.id })
  if (done) {
    sayNews(newsWords('clipRemoved', { file: clip.fileName, swings }), {
      label: newsWords('undo'),
      run: () => void undo(),
    })
  }
}
