import { standsAlone } from '../../shared-core/model/still.ts'
import { isUnsurePair } from '../../shared-core/pairing/still-waiting.ts'
import type {
  Block,
  Clip,
  GuestPicture,
  OpenLesson,
  Moment,
  Shot,
  Swing,
  UnitSystem,
  View,
} from '../../shared-core/model/entities.ts'
import { useDesk, type DeskState, type TrayFilter } from './desk-state.ts'

export const unitsNow = (): UnitSystem => useDesk.getState().opened?.student.units ?? 'mph-yd'
export const swingOf = (opened: OpenLesson | null, id: string | null): Swing | null =>
  opened?.swings.find((s) => s.id === id) ?? null
/** The picture of another lesson with this view. */
export const guestOf = (opened: OpenLesson | null, viewId: string | null): GuestPicture | null =>
  opened?.guests.find((g) => g.swing.views[0]?.id === viewId) ?? null
export const shotOf = (opened: OpenLesson | null, swing: Swing | null): Shot | null =>
  (swing?.shotId && opened?.shots.find((s) => s.id === swing.shotId)) || null
export const clipOf = (opened: OpenLesson | null, picture: View | null): Clip | null =>
  (picture && (opened?.clips.find((c) => c.id === picture.clipId) ?? guestOf(opened, picture.id)?.clip)) ||
  null
export const blockOf = (opened: OpenLesson | null, swing: Swing | null): Block | null =>
  (swing && opened?.blocks.find((b) => b.id === swing.blockId)) || null
export const viewOf = (opened: OpenLesson | null, id: string | null): View | null => {
  if (!opened || !id) return null
  for (const swing of opened.swings) for (const v of swing.views) if (v.id === id) return v
  return guestOf(opened, id)?.swing.views[0] ?? null
}
export const impactOf = (picture: View | null): Moment | null =>
  picture?.moments.find((m) => m.name === 'impact') ?? null

export const activeSwing = (s: DeskState) => swingOf(s.opened, s.activeSwingId)
export const activeView = (s: DeskState) => viewOf(s.opened, s.activeViewId)
/** The picture the Strip and the keys go by: the first of two. */
export const shownView = (s: DeskState) =>
  s.arriving?.view ?? viewOf(s.opened, s.compared?.firstViewId ?? s.activeViewId)

/** Swings in the order of the Tray: by block, then by order. */
export const swingsInOrder = (opened: OpenLesson): Swing[] => {
  const orderOf = new Map(opened.blocks.map((b) => [b.id, b.order]))
  return opened.swings
    .filter((swing) => !standsAlone(opened, swing))
    .sort((a, b) => (orderOf.get(a.blockId) ?? 0) - (orderOf.get(b.blockId) ?? 0) || a.order - b.order)
}

/** Still pictures that stand alone, behind the swings in the Tray. */
export const stillsInOrder = (opened: OpenLesson): Swing[] =>
  opened.swings.filter((swing) => standsAlone(opened, swing)).sort((a, b) => a.order - b.order)

/** Swings that pass the Tray's filter, in order. */
export const filteredSwings = (opened: OpenLesson, filter: TrayFilter): Swing[] => {
  const shots = new Map(opened.shots.map((s) => [s.id, s]))
  return swingsInOrder(opened).filter((swing) => {
    if (filter.blockId && swing.blockId !== filter.blockId) return false
    if (filter.onlyStarred && !swing.isStarred) return false
    if (filter.onlyUnpaired && swing.shotId && swing.views.length > 0 && !isUnsurePair(swing)) return false
    if (filter.club && (swing.shotId ? shots.get(swing.shotId)?.club : null) !== filter.club) return false
    if (filter.cueKind && !swing.views.some((v) => v.cues.some((c) => c.kind === filter.cueKind))) {
      return false
    }
    return true
  })
}

/** A lesson together with pictures of other lessons. */
export const withGuests = (opened: OpenLesson, more: readonly GuestPicture[]): OpenLesson => ({
  ...opened,
  guests: [...opened.guests, ...more.filter((g) => !guestOf(opened, g.swing.views[0]!.id))],
})

/** What of the Desk changes when a lesson has been read: the newest records, and nothing on show that is gone. */
export const afterReading = (state: DeskState, read: OpenLesson): Partial<DeskState> => {
  const opened = withGuests(read, state.guests)
  const swing = swingOf(opened, state.activeSwingId)
  const patch: Partial<DeskState> = { opened, isGone: false }
  const there = new Set(opened.swings.map((s) => s.id))
  if ([...state.selectedIds].some((id) => !there.has(id))) {
    patch.selectedIds = new Set([...state.selectedIds].filter((id) => there.has(id)))
  }
  const arrived = state.arriving && viewOf(opened, state.arriving.view.id)
  if (arrived) {
    // The swing takes the place of the film that was looked at.
    patch.arriving = null
    patch.activeSwingId = arrived.swingId
    patch.activeViewId = arrived.id
    patch.selectedIds = new Set([arrived.swingId])
  } else if (state.arriving) {
    patch.activeSwingId = null
    patch.activeViewId = null
  } else if (!swing) {
    const next = swingsInOrder(opened)[0] ?? stillsInOrder(opened)[0] ?? null
    patch.activeSwingId = next?.id ?? null
    patch.activeViewId = next?.views[0]?.id ?? null
    patch.selectedIds = new Set(next ? [next.id] : [])
  } else if (!swing.views.some((v) => v.id === state.activeViewId)) {
    patch.activeViewId = swing.views[0]?.id ?? null
  }
  const { compared } = state
  if (compared && (!viewOf(opened, compared.firstViewId) || !viewOf(opened, compared.secondViewId))) {
    patch.compared = null
  }
  return patch
}
