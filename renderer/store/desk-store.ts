import { create } from 'zustand'
import type { CallInput, CallName, CallOutput } from '../../shared-core/contract/index.ts'
import type {
  Block,
  Clip,
  CueKind,
  GuestPicture,
  LessonView,
  Moment,
  Shot,
  Swing,
  UnitSystem,
  View,
} from '../../shared-core/model/entities.ts'
import { ask, bridge } from './bridge.ts'
import { sayNews, sayProblem, telling } from './messages.ts'
import { Problem } from '../../shared-core/problem.ts'

export interface TrayFilter {
  blockId: string | null
  club: string | null
  cueKind: string | null
  onlyStarred: boolean
  onlyUnpaired: boolean
}
export const noFilter: TrayFilter = {
  blockId: null,
  club: null,
  cueKind: null,
  onlyStarred: false,
  onlyUnpaired: false,
}

/** What the pointer does on the Stage: look and select, or place a shape of this kind, or a cue. */
export type Tool = { name: 'look' } | { name: 'shape'; kind: string } | { name: 'cue' }

/** Two swings on the Stage; saved ones have an id. */
export interface Compared {
  id: string | null
  name: string
  firstViewId: string
  secondViewId: string
  lockedOn: string
  arrangement: 'beside' | 'over'
  opacity: number
  isStretched: boolean
  mirrorSecond: boolean
}

interface DeskState {
  lessonId: string | null
  view: LessonView | null
  /** Found nothing under that id. */
  isGone: boolean
  cueKinds: CueKind[]
  report: unknown
  activeSwingId: string | null
  activeViewId: string | null
  selectedIds: ReadonlySet<string>
  filter: TrayFilter
  /** The frame whose picture is on the Stage; -1 before the first. */
  frame: number
  isPlaying: boolean
  rate: number
  direction: 1 | -1
  loop: { from: number; to: number } | null
  tool: Tool
  tone: string
  widthPx: number
  selectedDrawingIds: ReadonlySet<string>
  selectedMomentId: string | null
  showsDrawings: boolean
  compared: Compared | null
  /** Pictures of other lessons that were chosen to compare with; kept comparisons bring their own with the lesson. */
  guests: readonly GuestPicture[]
  trayOpen: boolean
  ledgerOpen: boolean
  /** The window is turned to the student: pictures, one sentence, one picture of the lesson. */
  isShowing: boolean
}

export const rates = [1, 1 / 2, 1 / 4, 1 / 8, 1 / 16] as const
export const rateText = (rate: number) => (rate === 1 ? '1' : `1/${Math.round(1 / rate)}`)

const fresh = {
  view: null,
  isGone: false,
  report: null,
  activeSwingId: null,
  activeViewId: null,
  selectedIds: new Set<string>(),
  filter: noFilter,
  frame: -1,
  isPlaying: false,
  direction: 1 as const,
  loop: null,
  tool: { name: 'look' } as Tool,
  selectedDrawingIds: new Set<string>(),
  selectedMomentId: null,
  compared: null,
  guests: [],
  isShowing: false,
}

export const useDesk = create<DeskState>(() => ({
  ...fresh,
  lessonId: null,
  cueKinds: [],
  rate: 1 / 8,
  tone: 'apricot',
  widthPx: 4,
  showsDrawings: true,
  trayOpen: true,
  ledgerOpen: true,
}))

/** Turns the window to the student, or back. */
export const showStudent = (isShowing: boolean) =>
  useDesk.setState({ isShowing, tool: { name: 'look' }, selectedDrawingIds: new Set() })

// ---- Reading -------------------------------------------------------------------------------------------------

export const unitsNow = (): UnitSystem => useDesk.getState().view?.student.units ?? 'mph-yd'
export const swingOf = (view: LessonView | null, id: string | null): Swing | null =>
  view?.swings.find((s) => s.id === id) ?? null
/** The picture of another lesson with this view. */
export const guestOf = (view: LessonView | null, viewId: string | null): GuestPicture | null =>
  view?.guests.find((g) => g.swing.views[0]?.id === viewId) ?? null
export const shotOf = (view: LessonView | null, swing: Swing | null): Shot | null =>
  (swing?.shotId && view?.shots.find((s) => s.id === swing.shotId)) || null
export const clipOf = (view: LessonView | null, picture: View | null): Clip | null =>
  (picture && (view?.clips.find((c) => c.id === picture.clipId) ?? guestOf(view, picture.id)?.clip)) || null
export const blockOf = (view: LessonView | null, swing: Swing | null): Block | null =>
  (swing && view?.blocks.find((b) => b.id === swing.blockId)) || null
export const viewOf = (view: LessonView | null, id: string | null): View | null => {
  if (!view || !id) return null
  for (const swing of view.swings) for (const v of swing.views) if (v.id === id) return v
  return guestOf(view, id)?.swing.views[0] ?? null
}
export const impactOf = (picture: View | null): Moment | null =>
  picture?.moments.find((m) => m.name === 'impact') ?? null

export const activeSwing = (s: DeskState) => swingOf(s.view, s.activeSwingId)
export const activeView = (s: DeskState) => viewOf(s.view, s.activeViewId)
/** The picture the Strip and the keys go by: the first of two. */
export const shownView = (s: DeskState) => viewOf(s.view, s.compared?.firstViewId ?? s.activeViewId)

/** Swings in the order of the Tray: by block, then by order. */
export const swingsInOrder = (view: LessonView): Swing[] => {
  const place = new Map(view.blocks.map((b) => [b.id, b.order]))
  return [...view.swings].sort(
    (a, b) => (place.get(a.blockId) ?? 0) - (place.get(b.blockId) ?? 0) || a.order - b.order,
  )
}

/** Swings that pass the Tray's filter, in order. */
export const filteredSwings = (view: LessonView, filter: TrayFilter): Swing[] => {
  const shots = new Map(view.shots.map((s) => [s.id, s]))
  return swingsInOrder(view).filter((swing) => {
    if (filter.blockId && swing.blockId !== filter.blockId) return false
    if (filter.onlyStarred && !swing.isStarred) return false
    if (filter.onlyUnpaired && swing.shotId && swing.views.length > 0) return false
    if (filter.club && (swing.shotId ? shots.get(swing.shotId)?.club : null) !== filter.club) return false
    if (filter.cueKind && !swing.views.some((v) => v.cues.some((c) => c.kind === filter.cueKind))) {
      return false
    }
    return true
  })
}

// ---- Opening and following ------------------------------------------------------------------------------------

export const openLesson = async (lessonId: string) => {
  if (useDesk.getState().lessonId !== lessonId) useDesk.setState({ ...fresh, lessonId })
  const [, kinds] = await Promise.all([reload(), telling(ask('cueKind.list', {}))])
  if (kinds) useDesk.setState({ cueKinds: kinds })
  const state = useDesk.getState()
  if (!state.activeSwingId && state.view) {
    const first = swingsInOrder(state.view).find((s) => s.views.length > 0) ?? swingsInOrder(state.view)[0]
    if (first) activateSwing(first.id)
  }
}

let loading: Promise<void> | null = null
let isStale = false
/** Reads the lesson again; several wishes at once become one, and each is done when the newest lesson is on show. */
export const reload = async (): Promise<void> => {
  if (!useDesk.getState().lessonId) return
  isStale = true
  loading ??= readUntilFresh()
  await loading
}

/** Edits that the library has not answered yet. */
const underWay = new Set<Promise<unknown>>()
/** How long a read waits for them, and how often. */
const editPatienceMs = 300
const mostEditWaits = 3

const readUntilFresh = async () => {
  let waits = 0
  try {
    while (isStale) {
      isStale = false
      const { lessonId } = useDesk.getState()
      if (!lessonId) return
      try {
        const view = await ask('lesson.open', { lessonId })
        // Read before an edit that is shown already: taking it would undo that edit on the screen for a moment, and the
        // coach's next press would go by what is wrong.
        if (underWay.size > 0 && waits < mostEditWaits) {
          waits += 1
          isStale = true
          const patience = new Promise((resolve) => setTimeout(resolve, editPatienceMs))
          await Promise.race([Promise.allSettled(underWay), patience])
          continue
        }
        if (useDesk.getState().lessonId === lessonId) takeView(view)
      } catch (error) {
        if (useDesk.getState().lessonId === lessonId && !useDesk.getState().view) {
          useDesk.setState({ isGone: true })
        }
        await telling(Promise.reject(error))
      }
    }
  } finally {
    loading = null
  }
  reloadReportSoon()
}

const withGuests = (view: LessonView, more: readonly GuestPicture[]): LessonView => ({
  ...view,
  guests: [...view.guests, ...more.filter((g) => !guestOf(view, g.swing.views[0]!.id))],
})

/** Puts two pictures on the Stage; the one of this lesson is what Tray and Ledger go on showing. */
export const compare = (compared: Compared, guests: readonly GuestPicture[] = []) => {
  const { view, selectedIds } = useDesk.getState()
  if (!view) return
  const known = withGuests(view, guests)
  const ids = [compared.firstViewId, compared.secondViewId]
  const own = ids.map((id) => viewOf(known, id)).find((v) => v && !guestOf(known, v.id))
  useDesk.setState({
    view: known,
    guests,
    compared,
    ...(own ? { activeSwingId: own.swingId, activeViewId: own.id } : {}),
    ...(own && !selectedIds.has(own.swingId) ? { selectedIds: new Set([own.swingId]) } : {}),
    tool: { name: 'look' },
    loop: null,
    selectedDrawingIds: new Set(),
    selectedMomentId: null,
  })
}

const takeView = (read: LessonView) => {
  const state = useDesk.getState()
  const view = withGuests(read, state.guests)
  const swing = swingOf(view, state.activeSwingId)
  const patch: Partial<DeskState> = { view, isGone: false }
  const there = new Set(view.swings.map((s) => s.id))
  if ([...state.selectedIds].some((id) => !there.has(id))) {
    patch.selectedIds = new Set([...state.selectedIds].filter((id) => there.has(id)))
  }
  if (!swing) {
    const next = swingsInOrder(view)[0] ?? null
    patch.activeSwingId = next?.id ?? null
    patch.activeViewId = next?.views[0]?.id ?? null
    patch.selectedIds = new Set(next ? [next.id] : [])
  } else if (!swing.views.some((v) => v.id === state.activeViewId)) {
    patch.activeViewId = swing.views[0]?.id ?? null
  }
  const { compared } = state
  if (compared && (!viewOf(view, compared.firstViewId) || !viewOf(view, compared.secondViewId))) {
    patch.compared = null
  }
  useDesk.setState(patch)
}

/** The picture is on the Stage, or there is none to wait for. */
const hasPicture = ({ frame, activeViewId }: DeskState) => frame >= 0 || activeViewId === null

let reportTimer: ReturnType<typeof setTimeout> | undefined
/** @param patience how often it may be put off for the picture, which may never come */
const reloadReportSoon = (patience = 10) => {
  clearTimeout(reportTimer)
  reportTimer = setTimeout(() => {
    // The library computes the report for a while; what the first picture needs comes before it.
    if (patience > 0 && !hasPicture(useDesk.getState())) {
      reloadReportSoon(patience - 1)
      return
    }
    const { lessonId, view } = useDesk.getState()
    if (!lessonId || !view || view.shots.length === 0) {
      useDesk.setState({ report: null })
      return
    }
    ask('lesson.report', { lessonId, units: view.student.units })
      .then((report) => {
        if (useDesk.getState().lessonId === lessonId) useDesk.setState({ report })
      })
      // The report is an extra on the Desk; why it failed is shown where it would stand.
      .catch((error: unknown) => useDesk.setState({ report: { failed: (error as Error).message } }))
  }, 350)
}

export const followLesson = () =>
  bridge().on('lesson.changed', ({ lessonId, revision }) => {
    const state = useDesk.getState()
    if (lessonId === state.lessonId && revision !== state.view?.revision) void reload()
    if (state.view?.guests.some((g) => g.lesson.id === lessonId)) void reload()
  })

// ---- Editing ---------------------------------------------------------------------------------------------------

/** Makes an edit and reads the lesson again. Null if it failed; the coach has been told why. */
export const edit = async <N extends CallName>(
  name: N,
  input: CallInput<N>,
): Promise<CallOutput<N> | null> => {
  const asked = telling(ask(name, input)).finally(() => underWay.delete(asked))
  underWay.add(asked)
  const work = asked.then(async (output) => {
    await reload()
    return output
  })
  lastEdit = work
  return work
}
/** A step back waits for what is under way, so that it goes over what the coach has seen. */
let lastEdit: Promise<unknown> = Promise.resolve()

/** Changes what is shown at once; the library's answer follows and wins. */
export const expectView = (change: (view: LessonView) => LessonView) => {
  const { view } = useDesk.getState()
  if (view) useDesk.setState({ view: change(view) })
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

/** The revision at which the coach was told that the step is another window's. */
let toldAtRevision: number | null = null
const step = (way: 'undo' | 'redo') => {
  const work = lastEdit.then(async () => {
    const { lessonId, view } = useDesk.getState()
    if (!lessonId || !(way === 'undo' ? view?.undoLabel : view?.redoLabel)) return
    try {
      const { label } = await ask(`edits.${way}`, { lessonId, confirmedRevision: toldAtRevision })
      toldAtRevision = null
      await reload()
      if (label) sayNews(`${way === 'undo' ? 'Undone' : 'Done again'}: ${label}`)
    } catch (error) {
      await reload()
      if (error instanceof Problem && error.code === 'made-elsewhere') {
        toldAtRevision = useDesk.getState().view?.revision ?? null
      }
      sayProblem(error)
    }
  })
  lastEdit = work
  return work
}
export const undo = () => step('undo')
export const redo = () => step('redo')

export const activateSwing = (id: string, viewId?: string) => {
  const { view, activeSwingId } = useDesk.getState()
  const swing = swingOf(view, id)
  if (!swing) return
  if (id === activeSwingId && viewId === undefined) return
  useDesk.setState({
    activeSwingId: id,
    activeViewId: viewId ?? sameCamera(swing) ?? null,
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
  const { view, activeViewId } = useDesk.getState()
  const camera = clipOf(view, viewOf(view, activeViewId))?.camera
  const same = swing.views.find((v) => clipOf(view, v)?.camera === camera)
  return (same ?? swing.views[0])?.id
}

/** The next swing of the Tray (as filtered), or the one before. */
export const stepSwing = (by: 1 | -1) => {
  const { view, filter, activeSwingId } = useDesk.getState()
  if (!view) return
  const list = filteredSwings(view, filter)
  const place = list.findIndex((s) => s.id === activeSwingId)
  const next = list[place < 0 ? 0 : place + by]
  if (next) activateSwing(next.id)
}
