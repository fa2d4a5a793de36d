import { create } from 'zustand'
import type { OpenLesson, Swing } from '../../shared-core/model/entities.ts'
import { goTo, openDialog } from '../store/app-store.ts'
import { edit, shotOf, swingOf, useDesk } from '../store/desk-store.ts'
import { newestSwing } from '../store/live.ts'
import { sayNews } from '../store/messages.ts'
import { liveWords } from '../../shared-core/wording/window/live.ts'

interface BayState {
  /** The swing that stays while newer ones arrive; null shows the newest. */
  frozenSwingId: string | null
  /** Plays slowly around the impact, else stands at it. */
  isLooping: boolean
}

const movesCalmly = () => matchMedia('(prefers-reduced-motion: reduce)').matches

export const useBay = create<BayState>(() => ({ frozenSwingId: null, isLooping: true }))

/** As it is whenever a coach comes to it. */
export const openBay = () => useBay.setState({ frozenSwingId: null, isLooping: !movesCalmly() })

/** The swing on the bay view. */
export const swingInBay = (opened: OpenLesson | null, frozenSwingId: string | null): Swing | null =>
  swingOf(opened, frozenSwingId) ?? newestSwing(opened)

const shown = () => {
  const { opened } = useDesk.getState()
  const swing = swingInBay(opened, useBay.getState().frozenSwingId)
  return opened && swing ? { opened, swing } : null
}

const onShown = (act: (swing: Swing, opened: OpenLesson) => void) => () => {
  const what = shown()
  if (what) act(what.swing, what.opened)
  else sayNews(liveWords('noSwingYet'))
}

/** The picture stands at impact and stays, whatever arrives; pressed again, the newest swing comes. */
export const toggleFreeze = onShown((swing) =>
  useBay.setState(({ frozenSwingId }) => ({ frozenSwingId: frozenSwingId === null ? swing.id : null })),
)

export const toggleBayLoop = () => useBay.setState(({ isLooping }) => ({ isLooping: !isLooping }))

export const starInBay = onShown(
  (swing) => void edit('swing.update', { ids: [swing.id], patch: { isStarred: !swing.isStarred } }),
)

export const leaveOutInBay = onShown((swing, opened) => {
  const shot = shotOf(opened, swing)
  if (!shot) {
    sayNews(liveWords('noShotToLeaveOut'))
    return
  }
  void edit('shot.update', { id: shot.id, patch: { isLeftOut: !shot.isLeftOut } })
})

/** The coach's word on what was asked; the same word twice takes it back. */
export const sayInBay = (didAsked: boolean) =>
  onShown(
    (swing) =>
      void edit('swing.update', {
        ids: [swing.id],
        patch: { didAsked: swing.didAsked === didAsked ? null : didAsked },
      }),
  )

export const askForBlock = () => {
  const { lessonId } = useDesk.getState()
  if (lessonId) openDialog({ name: 'begin-block', lessonId })
}

export const leaveBay = () => {
  const { lessonId } = useDesk.getState()
  if (lessonId) goTo({ name: 'desk', lessonId })
}
