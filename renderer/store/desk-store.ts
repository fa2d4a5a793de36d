import type { CallInput, CallName, CallOutput } from '../../shared-core/contract/index.ts'
import type { GuestPicture, OpenLesson, Swing, View } from '../../shared-core/model/entities.ts'
import { ask, bridge } from './bridge.ts'
import {
  afterReading,
  clipOf,
  filteredSwings,
  guestOf,
  swingOf,
  swingsInOrder,
  viewOf,
  withGuests,
} from './desk-selectors.ts'
import { fresh, useDesk, type Compared } from './desk-state.ts'
import { LessonSync } from './lesson-sync.ts'
import { sayNews, sayProblem, telling } from './messages.ts'

// The Desk's store: what is shown (desk-state), what is read from it (desk-selectors), and here what is done with it.
export * from './desk-selectors.ts'
export * from './desk-state.ts'

const sync = new LessonSync({
  ask,
  lessonId: () => useDesk.getState().lessonId,
  opened: () => useDesk.getState().opened,
  hasPicture: () => {
    const { frame, activeViewId } = useDesk.getState()
    return frame >= 0 || activeViewId === null
  },
  takeView: (opened) => useDesk.setState(afterReading(useDesk.getState(), opened)),
  takeGone: () => useDesk.setState({ isGone: true }),
  takeReport: (report) => useDesk.setState({ report }),
  sayNews,
  sayProblem,
})

/** Reads the lesson again; several requests at once become one, and each is done when the newest lesson is on show. */
export const reload = () => sync.reload()

/** Makes an edit and reads the lesson again. Null if it failed; the coach has been told why. */
export const edit = <N extends CallName>(name: N, input: CallInput<N>): Promise<CallOutput<N> | null> =>
  sync.edit(name, input)

/** Done when the edit before is on show. */
export const editsShown = () => sync.settled()

export const undo = () => sync.step('undo')
export const redo = () => sync.step('redo')

export const openLesson = async (lessonId: string) => {
  if (useDesk.getState().lessonId !== lessonId) useDesk.setState({ ...fresh, lessonId })
  const [, kinds] = await Promise.all([reload(), telling(ask('cueKind.list', {}))])
  if (kinds) useDesk.setState({ cueKinds: kinds })
  const state = useDesk.getState()
  if (!state.activeSwingId && !state.arriving && state.opened) {
    const first =
      swingsInOrder(state.opened).find((s) => s.views.length > 0) ?? swingsInOrder(state.opened)[0]
    if (first) activateSwing(first.id)
  }
}

/** Puts two pictures on the Stage; the one of this lesson is what Tray and Ledger go on showing. */
export const compare = (compared: Compared, guests: readonly GuestPicture[] = []) => {
  const { opened, selectedIds } = useDesk.getState()
  if (!opened) return
  const known = withGuests(opened, guests)
  const ids = [compared.firstViewId, compared.secondViewId]
  const own = ids.map((id) => viewOf(known, id)).find((v) => v && !guestOf(known, v.id))
  useDesk.setState({
    opened: known,
    guests,
    compared,
    arriving: null,
    ...(own ? { activeSwingId: own.swingId, activeViewId: own.id } : {}),
    ...(own && !selectedIds.has(own.swingId) ? { selectedIds: new Set([own.swingId]) } : {}),
    tool: { name: 'look' },
    loop: null,
    selectedDrawingIds: new Set(),
    selectedMomentId: null,
  })
}

export const followLesson = () =>
  bridge().on('lesson.changed', ({ lessonId, revision }) => {
    const state = useDesk.getState()
    if (lessonId === state.lessonId && revision !== state.opened?.revision) void reload()
    if (state.opened?.guests.some((g) => g.lesson.id === lessonId)) void reload()
  })

/** Changes what is shown at once; the library's answer follows and wins. */
export const expectView = (change: (opened: OpenLesson) => OpenLesson) => {
  const { opened } = useDesk.getState()
  if (opened) useDesk.setState({ opened: change(opened) })
}

/** `expectView` for one picture of a swing. */
export const expectPicture = (viewId: string, change: (picture: View) => View) =>
  expectView((lesson) => ({
    ...lesson,
    swings: lesson.swings.map((swing) =>
      swing.views.some((v) => v.id === viewId)
        ? { ...swing, views: swing.views.map((v) => (v.id === viewId ? change(v) : v)) }
        : swing,
    ),
  }))

export const activateSwing = (id: string, viewId?: string) => {
  const { opened, activeSwingId } = useDesk.getState()
  const swing = swingOf(opened, id)
  if (!swing) return
  if (id === activeSwingId && viewId === undefined) return
  useDesk.setState({
    activeSwingId: id,
    activeViewId: viewId ?? sameCamera(swing) ?? null,
    arriving: null,
    selectedIds: new Set([id]),
    selectedDrawingIds: new Set(),
    selectedMomentId: null,
    loop: null,
    compared: null,
    tool: { name: 'look' },
  })
}

/** Keeps to the camera the coach was looking through, if the swing has it. */
const sameCamera = (swing: Swing): string | undefined => {
  const { opened, activeViewId } = useDesk.getState()
  const camera = clipOf(opened, viewOf(opened, activeViewId))?.camera
  const same = swing.views.find((v) => clipOf(opened, v)?.camera === camera)
  return (same ?? swing.views[0])?.id
}

/** The next swing of the Tray (as filtered), or the one before. */
export const stepSwing = (by: 1 | -1) => {
  const { opened, filter, activeSwingId } = useDesk.getState()
  if (!opened) return
  const list = filteredSwings(opened, filter)
  const index = list.findIndex((s) => s.id === activeSwingId)
  const next = list[index < 0 ? 0 : index + by]
  if (next) activateSwing(next.id)
}
