import type { LessonView, View } from '../../../shared-core/model/entities.ts'
import { ClipFrames } from '../../stage-engine/clip-frames.ts'
import { ask, mediaUrl } from '../../store/bridge.ts'
import { clipOf, filteredSwings, impactOf, useDesk, viewOf } from '../../store/desk-store.ts'

const timestamps = new Map<string, Promise<number[]>>()
/** The time of every frame of a clip; read once. */
export const timestampsOf = (clipId: string): Promise<number[]> => {
  const known = timestamps.get(clipId)
  if (known) return known
  const read = ask('clip.timestamps', { id: clipId }).then((answer) => answer.atSeconds)
  timestamps.set(clipId, read)
  read.catch(() => timestamps.delete(clipId))
  return read
}

/** Clips that are open and on no Stage, those touched last at the end. Each holds only a few pictures. */
const waiting = new Map<string, Promise<ClipFrames>>()
const mostWaiting = 4

/** Clips that are on a Stage now. */
const onStage = new Set<string>()

const letGo = (clipId: string) => {
  const opening = waiting.get(clipId)
  waiting.delete(clipId)
  opening?.then((frames) => frames.close()).catch(() => {})
}

const keep = (clipId: string, opening: Promise<ClipFrames>) => {
  letGo(clipId)
  waiting.set(clipId, opening)
  opening.catch(() => waiting.get(clipId) === opening && waiting.delete(clipId))
  const [oldest] = waiting.keys()
  if (waiting.size > mostWaiting) letGo(oldest!)
}

const open = (clipId: string): Promise<ClipFrames> =>
  // The file is opened while the library looks the times up.
  ClipFrames.open(mediaUrl(clipId, 'play'), timestampsOf(clipId))

/** Opens a clip that is likely to be wanted next, and decodes what is around a frame. */
export const openAhead = (clipId: string, frame: number) => {
  if (onStage.has(clipId)) return
  const known = waiting.get(clipId)
  if (known) {
    // Touched last now.
    waiting.delete(clipId)
    waiting.set(clipId, known)
    return
  }
  const opening = open(clipId)
  keep(clipId, opening)
  opening.then((frames) => frames.aim(frame, 1)).catch(() => {})
}

/** A clip for the Stage, opened ahead or now. Whoever takes it gives it back. */
export const takeClip = (clipId: string): Promise<ClipFrames> => {
  const opening = waiting.get(clipId) ?? open(clipId)
  waiting.delete(clipId)
  onStage.add(clipId)
  opening.catch(() => onStage.delete(clipId))
  return opening
}

/** A clip that left the Stage; it may be wanted again soon. */
export const giveBackClip = (clipId: string, frames: ClipFrames) => {
  onStage.delete(clipId)
  frames.shrink()
  keep(clipId, Promise.resolve(frames))
}

/** Lets all go that is on no Stage. */
export const closeWaitingClips = () => {
  for (const clipId of [...waiting.keys()]) letGo(clipId)
}

/** The frame a picture opens on: its impact, where the eye wants to be, else its first. */
export const openingFrameOf = (view: View): number => impactOf(view)?.frame ?? view.fromFrame

const openViewAhead = (lesson: LessonView, viewId: string | null | undefined) => {
  const view = viewOf(lesson, viewId ?? null)
  if (view) openAhead(view.clipId, openingFrameOf(view))
}

/** Opens the swing's picture as soon as it is chosen, before the window has followed. */
export const openWhatIsChosen = (): (() => void) =>
  useDesk.subscribe((state, before) => {
    if (state.view && state.activeViewId !== before.activeViewId && !state.compared) {
      openViewAhead(state.view, state.activeViewId)
    }
  })

/** The swings after and before the one on show, seen by the same camera if they have one. */
export const openNeighbours = () => {
  const { view: lesson, filter, activeSwingId, activeViewId, compared } = useDesk.getState()
  if (!lesson || compared) return
  const list = filteredSwings(lesson, filter)
  const place = list.findIndex((swing) => swing.id === activeSwingId)
  if (place < 0) return
  const camera = clipOf(lesson, viewOf(lesson, activeViewId))?.camera
  for (const swing of [list[place - 1], list[place + 1]]) {
    const same = swing?.views.find((v) => clipOf(lesson, v)?.camera === camera)
    openViewAhead(lesson, (same ?? swing?.views[0])?.id)
  }
}
