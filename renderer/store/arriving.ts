import type { Job } from '../../shared-core/model/entities.ts'
import { useApp } from './app-store.ts'
import {
  activateSwing,
  afterReading,
  reload,
  useDesk,
  type ArrivingFilm,
  type DeskState,
} from './desk-store.ts'
import { newestSwing, useLive } from './live.ts'
import { stageWatch } from './stage-control.ts'

/** Nothing is in the coach's hands that another picture would take away. */
const isFree = ({ tool, compared, isPlaying }: DeskState): boolean =>
  tool.name === 'look' &&
  !compared &&
  !isPlaying &&
  useApp.getState().dialog === null &&
  stageWatch() === null &&
  !document.activeElement?.matches('input,textarea,[contenteditable]')

/** The first film of a lesson, or one that would come up by itself as soon as its swing stands. */
const wouldComeUp = ({ opened, activeSwingId }: DeskState): boolean => {
  if (!opened) return false
  if (opened.swings.every((s) => s.views.length === 0)) return true
  if (!useLive.getState().state?.isOn || activeSwingId === null) return false
  return [newestSwing(opened, true)?.id, newestSwing(opened)?.id].includes(activeSwingId)
}

const show = ({ id, arriving }: Job) => {
  const { activeSwingId: swingId, activeViewId: viewId } = useDesk.getState()
  useDesk.setState({
    arriving: { ...arriving!, jobId: id, before: { swingId, viewId }, isTouched: false },
    activeSwingId: null,
    activeViewId: null,
    selectedIds: new Set(),
    selectedDrawingIds: new Set(),
    selectedMomentId: null,
    loop: null,
  })
}

/** What was on the Stage before comes back, if it is still there. */
const leave = ({ before }: ArrivingFilm) => {
  const state = useDesk.getState()
  if (!state.opened) return
  const back = { arriving: null, activeSwingId: before.swingId, activeViewId: before.viewId }
  const selectedIds = new Set(before.swingId === null ? [] : [before.swingId])
  useDesk.setState({
    ...back,
    selectedIds,
    ...afterReading({ ...state, ...back, selectedIds }, state.opened),
  })
}

const isStill = ({ clip }: ArrivingFilm): boolean => useDesk.getState().arriving?.clip.id === clip.id

/**
 * Shows a film on the Stage while it is taken in, for as long as a lesson is open. It is looked at under the ids that its swing's
 * picture will have, so that the swing takes its place without a picture being opened anew (`afterReading`).
 */
export const followArriving = (lessonId: string): (() => void) => {
  /** Films that the coach left, for another swing or a comparison. */
  const left = new Set<string>()
  let isEnding = false
  const look = () => {
    const state = useDesk.getState()
    if (isEnding || state.lessonId !== lessonId || !state.opened) return
    const { jobs } = useApp.getState()
    const { arriving } = state
    if (arriving) {
      const job = jobs.find((j) => j.id === arriving.jobId)
      if (job?.arriving?.clip.id === arriving.clip.id) return
      if (job?.state !== 'done') leave(arriving)
      // Its swing comes with what is read now, or it has none: the lesson has the film already.
      else void reload().then(() => isStill(arriving) && leave(arriving))
      return
    }
    if (!isFree(state) || !wouldComeUp(state)) return
    const known = new Set(state.opened.clips.map((c) => c.id))
    const job = jobs.find(
      ({ arriving: next, ...j }) =>
        j.lessonId === lessonId && next && !known.has(next.clip.id) && !left.has(next.clip.id),
    )
    if (job) show(job)
  }
  const offJobs = useApp.subscribe(({ jobs }, before) => jobs !== before.jobs && look())
  const offDesk = useDesk.subscribe((now, before) => {
    const was = before.arriving
    if (!was || now.arriving || now.lessonId !== lessonId) return
    const hasCome = now.opened?.clips.some((c) => c.id === was.clip.id)
    if (!hasCome) left.add(was.clip.id)
    // A newer one stood first, and would have come up.
    const newest = newestSwing(now.opened, true)
    const isAlone = before.opened?.swings.every((s) => s.views.length === 0)
    if (!hasCome || was.isTouched || isAlone || !newest || newest.id === now.activeSwingId) return
    if (useLive.getState().state?.isOn && isFree(now)) activateSwing(newest.id)
  })
  look()
  return () => {
    isEnding = true
    offJobs()
    offDesk()
    const { arriving } = useDesk.getState()
    if (arriving) leave(arriving)
  }
}
