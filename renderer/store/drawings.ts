import { onMoments, readDrawings } from '../../shared-core/drawing/drawing.ts'
import type { Shape } from '../../shared-core/drawing/shapes.ts'
import type { DrawingRecord, View } from '../../shared-core/model/entities.ts'
import type { Tie } from '../../shared-core/model/tie.ts'
import { activeView, edit, expectPicture, swingsInOrder, useDesk, viewOf } from './desk-store.ts'
import { sayNews } from './messages.ts'
import { newsWords } from '../../shared-core/wording/window/news.ts'

export type ReadDrawing = Omit<DrawingRecord, 'shape'> & { shape: Shape }

/** A view's drawings, readable and where their moments are now. */
export const drawingsOf = (view: View): { drawings: ReadDrawing[]; unreadable: number } => {
  const { drawings, unreadable } = readDrawings(view.drawings)
  return { drawings: onMoments(drawings, view.moments), unreadable: unreadable.length }
}

/** Changes drawings of a view on the screen at once. */
const expectDrawings = (viewId: string, change: (drawings: DrawingRecord[]) => DrawingRecord[]) =>
  expectPicture(viewId, (view) => ({ ...view, drawings: change(view.drawings) }))

/** Keeps a new shape on the frame shown: on the moment there, if there is one. */
export const addShape = async (view: View, frame: number, shape: Shape) => {
  const moment = view.moments.find((m) => m.frame === frame) ?? null
  const { tool } = useDesk.getState()
  const added = await edit('drawing.add', {
    viewId: view.id,
    momentId: moment?.id ?? null,
    fromFrame: frame,
    toFrame: frame,
    shape: shape as unknown as DrawingRecord['shape'],
  })
  // A tool taken up while the shape was being saved stays in the hand.
  if (added && useDesk.getState().tool === tool) {
    useDesk.setState({ selectedDrawingIds: new Set([added.id]), tool: { name: 'look' } })
  }
}

/**
 * `isStep`: one of several steps of a movement by keys, undone together. `tie`: the frame on which a moving drawing was changed
 * is the one that its shape is kept for.
 */
export const changeShape = async (
  viewId: string,
  id: string,
  shape: Shape,
  options: { isStep?: boolean; tie?: Tie } = {},
) => {
  const { isStep = false, tie } = options
  const patch = { shape: shape as unknown as DrawingRecord['shape'], ...(tie ? { tie } : {}) }
  expectDrawings(viewId, (list) => list.map((d) => (d.id === id ? { ...d, ...patch } : d)))
  await edit('drawing.update', { id, patch, isStep })
}

/** Ties a drawing, as it lies on a frame, to what it shall move with; null lets it stay there. */
export const tieDrawing = (id: string, shape: Shape, tie: Tie | null) =>
  edit('drawing.update', { id, patch: { shape: shape as unknown as DrawingRecord['shape'], tie } })

/** A line of the body on the frame shown that moves with it, on the whole of the swing. */
export const addTied = async (view: View, shape: Shape, tie: Tie) => {
  const added = await edit('drawing.add', {
    viewId: view.id,
    momentId: null,
    fromFrame: view.fromFrame,
    toFrame: view.toFrame,
    shape: shape as unknown as DrawingRecord['shape'],
    tie,
  })
  if (added) useDesk.setState({ selectedDrawingIds: new Set([added.id]), tool: { name: 'look' } })
}

/** Moves the place a cue is pinned to, source pixels. */
export const moveCue = async (viewId: string, id: string, at: { x: number; y: number }) => {
  expectPicture(viewId, (view) => ({
    ...view,
    cues: view.cues.map((c) => (c.id === id ? { ...c, ...at } : c)),
  }))
  await edit('cue.update', { id, patch: at })
}

const selected = (): { view: View; drawings: DrawingRecord[] } | null => {
  const state = useDesk.getState()
  const view = activeView(state)
  if (!view) return null
  const drawings = view.drawings.filter((d) => state.selectedDrawingIds.has(d.id))
  return drawings.length > 0 ? { view, drawings } : null
}

export const removeSelectedDrawings = async () => {
  const found = selected()
  if (!found) return
  useDesk.setState({ selectedDrawingIds: new Set() })
  await edit('drawing.remove', { ids: found.drawings.map((d) => d.id) })
}

export const toggleHidden = async () => {
  const found = selected()
  if (!found) return
  const isHidden = !found.drawings.every((d) => d.isHidden)
  for (const drawing of found.drawings) await edit('drawing.update', { id: drawing.id, patch: { isHidden } })
}

export const changeOrder = async (to: 'front' | 'back') => {
  const found = selected()
  if (!found) return
  const orders = found.view.drawings.map((d) => d.order)
  const order = to === 'front' ? Math.max(...orders) + 1 : Math.min(...orders) - 1
  for (const drawing of found.drawings) await edit('drawing.update', { id: drawing.id, patch: { order } })
}

/** Changes how the selected drawings look, and how new ones will. */
export const changeStyle = async (patch: Partial<Shape['style']>) => {
  if (patch.tone) useDesk.setState({ tone: patch.tone })
  if (patch.widthPx) useDesk.setState({ widthPx: patch.widthPx })
  const found = selected()
  if (!found) return
  for (const { id, shape } of found.drawings) {
    const styled = { ...shape, style: { ...(shape['style'] as object), ...patch } }
    await edit('drawing.update', { id, patch: { shape: styled } })
  }
}

/** From one frame to another, or back onto a single one. */
export const setRange = (id: string, fromFrame: number, toFrame: number) =>
  edit('drawing.update', { id, patch: { fromFrame, toFrame, momentId: null } })

export const setMoment = (id: string, moment: { id: string; frame: number }) =>
  edit('drawing.update', {
    id,
    patch: { momentId: moment.id, fromFrame: moment.frame, toFrame: moment.frame },
  })

/** Copies the selected drawings to the same camera of the next swing that has a clip (or to the one named). */
export const copyToOtherView = async (viewId?: string) => {
  const found = selected()
  const { opened: lesson } = useDesk.getState()
  if (!found || !lesson) return
  let target = viewId ? viewOf(lesson, viewId) : null
  if (!target) {
    const swings = swingsInOrder(lesson).filter((s) => s.views.length > 0)
    const index = swings.findIndex((s) => s.id === found.view.swingId)
    const next = swings[index + 1] ?? swings[index - 1]
    const camera = lesson.clips.find((c) => c.id === found.view.clipId)?.camera
    target =
      next?.views.find((v) => lesson.clips.find((c) => c.id === v.clipId)?.camera === camera) ??
      next?.views[0] ??
      null
  }
  if (!target) {
    sayNews(newsWords('noOtherSwing'))
    return
  }
  const copied = await edit('drawing.copyTo', { ids: found.drawings.map((d) => d.id), viewId: target.id })
  if (copied) {
    sayNews(newsWords(viewId ? 'copiedThere' : 'copiedToNext', { drawings: copied.ids.length }))
  }
}
