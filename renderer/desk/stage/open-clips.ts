import type { Clip, OpenLesson, View } from '../../../shared-core/model/entities.ts'
import { ClipFrames } from '../../stage-engine/clip-frames.ts'
import { ask, pictureSource } from '../../store/bridge.ts'
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

/** Clips by what they are looked at by, open and on no Stage, those touched last at the end. Each holds few pictures. */
const waiting = new Map<string, Promise<ClipFrames>>()
const maxWaiting = 4

/** What is on a Stage now. */
const onStage = new Set<string>()

const release = (source: string) => {
  const opening = waiting.get(source)
  waiting.delete(source)
  opening?.then((frames) => frames.close()).catch(() => {})
}

const keep = (source: string, opening: Promise<ClipFrames>) => {
  release(source)
  waiting.set(source, opening)
  opening.catch(() => waiting.get(source) === opening && waiting.delete(source))
  const [oldest] = waiting.keys()
  if (waiting.size > maxWaiting) release(oldest!)
}

const open = (clipId: string, source: string): Promise<ClipFrames> =>
  // The file is opened while the library looks the times up.
  ClipFrames.open(source, timestampsOf(clipId))

/** Opens a clip that is likely to be wanted next, and decodes what is around a frame. */
export const openAhead = (clip: Pick<Clip, 'id' | 'hasProxy'>, frame: number) => {
  const source = pictureSource(clip)
  if (onStage.has(source)) return
  const known = waiting.get(source)
  if (known) {
    // Touched last now.
    waiting.delete(source)
    waiting.set(source, known)
    return
  }
  const opening = open(clip.id, source)
  keep(source, opening)
  opening.then((frames) => frames.aim(frame, 1)).catch(() => {})
}

/** A clip for the Stage, opened ahead or now. Whoever takes it gives it back. */
export const takeClip = (clipId: string, source: string): Promise<ClipFrames> => {
  const opening = waiting.get(source) ?? open(clipId, source)
  waiting.delete(source)
  onStage.add(source)
  opening.catch(() => onStage.delete(source))
  return opening
}

/** A clip that left the Stage; it may be wanted again soon. */
export const giveBackClip = (source: string, frames: ClipFrames) => {
  onStage.delete(source)
  frames.shrink()
  keep(source, Promise.resolve(frames))
}

/** Lets all go that is on no Stage. */
export const closeWaitingClips = () => {
  for (const source of [...waiting.keys()]) release(source)
}

/** The frame a picture opens on: its impact, where the eye wants to be, else its first. */
export const openingFrameOf = (view: View): number => impactOf(view)?.frame ?? view.fromFrame

const openViewAhead = (lesson: OpenLesson, viewId: string | null | undefined) => {
  const view = viewOf(lesson, viewId ?? null)
  const clip = clipOf(lesson, view)
  if (view && clip) openAhead(clip, openingFrameOf(view))
}

/** Opens the swing's picture as soon as it is chosen, before the window has followed. */
export const openWhatIsChosen = (): (() => void) =>
  useDesk.subscribe((state, before) => {
    if (state.opened && state.activeViewId !== before.activeViewId && !state.compared) {
      openViewAhead(state.opened, state.activeViewId)
    }
  })

/** The swings after and before the one on show, seen by the same camera if they have one. */
export const openNeighbours = () => {
  const { opened: lesson, filter, activeSwingId, activeViewId, compared } = useDesk.getState()
  if (!lesson || compared) return
  const list = filteredSwings(lesson, filter)
  const index = list.findIndex((swing) => swing.id === activeSwingId)
  if (index < 0) return
  const camera = clipOf(lesson, viewOf(lesson, activeViewId))?.camera
  for (const swing of [list[index - 1], list[index + 1]]) {
    const same = swing?.views.find((v) => clipOf(lesson, v)?.camera === camera)
    openViewAhead(lesson, (same ?? swing?.views[0])?.id)
  }
}
