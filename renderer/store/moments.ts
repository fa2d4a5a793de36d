import { momentNames, type Moment, type View } from '../../shared-core/model/entities.ts'
import { showFrame } from './stage-control.ts'
import { ask } from './bridge.ts'
import { activeView, edit, expectPicture, reload, shownView, useDesk } from './desk-store.ts'
import { sayNews, telling } from './messages.ts'
import { newsWords } from '../../shared-core/wording/window/news.ts'

export const momentTitle = (name: string) => name.charAt(0).toUpperCase() + name.slice(1)

export const momentsInOrder = (view: View): Moment[] => [...view.moments].sort((a, b) => a.frame - b.frame)

const changeMoments = (viewId: string, change: (moments: Moment[]) => Moment[]) =>
  expectPicture(viewId, (view) => ({ ...view, moments: change(view.moments) }))

/** The picture on show if its moments may be changed here: a swing of another lesson is marked in that lesson. */
export const viewToMark = (): View | null => {
  const state = useDesk.getState()
  if (state.compared && state.compared.firstViewId !== state.activeViewId) {
    sayNews(newsWords('pictureOfAnotherLesson'))
    return null
  }
  return activeView(state)
}

/** Places a moment at the playhead; the same moment twice is moved. */
export const placeMoment = async (name: string) => {
  const state = useDesk.getState()
  if (state.frame < 0) return
  const view = viewToMark()
  if (!view) return
  const placed = await edit('moment.place', { viewId: view.id, name, frame: state.frame })
  if (placed) useDesk.setState({ selectedMomentId: placed.id })
}

export const placeNumbered = (number: number) => {
  const name = momentNames[number - 1]
  if (name) void placeMoment(name)
}

export const moveMoment = async (viewId: string, id: string, frame: number) => {
  changeMoments(viewId, (moments) =>
    moments.map((m) => (m.id === id ? { ...m, frame, how: 'coach', confidence: 1, isConfirmed: true } : m)),
  )
  await edit('moment.move', { id, frame })
}

export const removeMoment = async (id: string) => {
  if (!viewToMark()) return
  await edit('moment.remove', { id })
  useDesk.setState({ selectedMomentId: null })
}

export const jumpToMoment = (moment: Moment) => {
  useDesk.setState({ selectedMomentId: moment.id })
  showFrame(moment.frame)
}

/** The next moment on the Strip, or the one before. */
export const stepMoment = (by: 1 | -1) => {
  const state = useDesk.getState()
  const view = shownView(state)
  if (!view) return
  const list = momentsInOrder(view)
  const next =
    by === 1
      ? list.find((m) => m.frame > state.frame)
      : [...list].reverse().find((m) => m.frame < state.frame)
  if (next) jumpToMoment(next)
}

export const jumpToNumbered = (number: number) => {
  const view = shownView(useDesk.getState())
  const moment = view?.moments.find((m) => m.name === momentNames[number - 1])
  if (moment) jumpToMoment(moment)
}

/** Confirms the moment in hand (or the first unconfirmed one) and goes to the next that waits. */
export const confirmAndGoOn = async () => {
  const state = useDesk.getState()
  const view = viewToMark()
  if (!view) return
  const waiting = momentsInOrder(view).filter((m) => !m.isConfirmed)
  const inHand =
    waiting.find((m) => m.id === state.selectedMomentId) ?? waiting.find((m) => m.frame === state.frame)
  if (!inHand) {
    const first = waiting[0]
    if (first) jumpToMoment(first)
    else goToNextWaitingSwing(view)
    return
  }
  changeMoments(view.id, (moments) =>
    moments.map((m) => (m.id === inHand.id ? { ...m, isConfirmed: true } : m)),
  )
  const next = waiting[waiting.indexOf(inHand) + 1] ?? waiting.find((m) => m !== inHand)
  if (next) jumpToMoment(next)
  await telling(ask('moment.confirm', { id: inHand.id }))
  await reload()
  if (!next) goToNextWaitingSwing(view)
}

/** When this swing is done, the next one that still has something to confirm. */
const goToNextWaitingSwing = (done: View) => {
  const { opened: lesson } = useDesk.getState()
  if (!lesson) return
  const index = lesson.swings.findIndex((s) => s.id === done.swingId)
  const rest = [...lesson.swings.slice(index + 1), ...lesson.swings.slice(0, index)]
  const next = rest.find((s) => s.views.some((v) => v.moments.some((m) => !m.isConfirmed)))
  const waiting = next?.views.find((v) => v.moments.some((m) => !m.isConfirmed))
  if (!next || !waiting) return
  const moment = momentsInOrder(waiting).find((m) => !m.isConfirmed)!
  useDesk.setState({
    activeSwingId: next.id,
    activeViewId: waiting.id,
    selectedIds: new Set([next.id]),
    selectedDrawingIds: new Set(),
    loop: null,
    compared: null,
    selectedMomentId: moment.id,
  })
}
