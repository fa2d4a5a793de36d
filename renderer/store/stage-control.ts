import type { Shape } from '../../shared-core/drawing/shapes.ts'
import type { Player } from '../stage-engine/player.ts'
import { shownView, useDesk } from './desk-store.ts'

/**
 * The one place that commands, the Strip and the Stage reach the picture on show through. The Stage puts its
 * player here while it is open.
 */
export interface StageControl {
  readonly player: Player
  /** The second picture, if two swings are compared, and the frame of it that belongs to one of the first. */
  readonly second: { player: Player; frameFor: (frame: number) => number } | null
  readonly first: number
  readonly last: number
  /** The part of a picture that is seen, source pixels of the picture as shown; null for all of it. */
  seen(on: 'first' | 'second'): { x: number; y: number; width: number; height: number } | null
  zoom(factor: number): void
  fit(): void
  pan(dx: number, dy: number): void
}

let endPlacing: (() => boolean) | null = null
/** The drawing layer hands in how a shape of any number of points is ended; true if there was one to end. */
export const takeEndPlacing = (end: (() => boolean) | null) => {
  endPlacing = end
}
export const endPlacingShape = (): boolean => endPlacing?.() ?? false

/** What the keys for drawings do; the drawing layer hands it in while there is a picture to draw on. */
export interface DrawingKeysControl {
  /** The next drawing or cue on the frame, or the crosshair of the tool in hand. */
  takeItem(by: 1 | -1): void
  takePoint(by: 1 | -1): void
  leave(): void
}
let drawingKeys: DrawingKeysControl | null = null
export const takeDrawingKeys = (next: DrawingKeysControl | null) => {
  drawingKeys = next
}
export const drawingByKeys = (): DrawingKeysControl | null => drawingKeys

/** Follows what the store does not hold: the pointer over the pictures, and a shape while it is drawn or moved. */
export interface StageWatch {
  /** Source pixels; null once the pointer has left. */
  pointer(on: 'first' | 'second', at: { x: number; y: number } | null): void
  /** The shape as it is now, in source pixels; `id` if it takes the place of a saved drawing. Null when it is done. */
  draft(shape: { id: string | null; shape: Shape } | null): void
  /** A picture was zoomed or moved. */
  moved(): void
}
let watch: StageWatch | null = null
export const watchStage = (next: StageWatch | null) => {
  watch = next
}
export const stageWatch = (): StageWatch | null => watch

let control: StageControl | null = null
export const takeStage = (next: StageControl | null) => {
  control = next
}
export const stage = (): StageControl | null => control

/** Whoever looks at a film that is being taken in stays at its frame when its swing stands. */
const touch = () => {
  const { arriving } = useDesk.getState()
  if (arriving && !arriving.isTouched) useDesk.setState({ arriving: { ...arriving, isTouched: true } })
}

export const showFrame = (frame: number) => {
  if (!control) return
  touch()
  const wanted = Math.max(control.first, Math.min(control.last, Math.round(frame)))
  void control.player.show(wanted).catch(() => {})
}

export const stepFrame = (by: number) => {
  if (control) showFrame(control.player.wantedFrame + by)
}

export const togglePlay = (direction?: 1 | -1) => {
  if (!control) return
  const { isPlaying, direction: current } = useDesk.getState()
  if (isPlaying && (direction === undefined || direction === current)) {
    control.player.stop()
    return
  }
  if (direction !== undefined) useDesk.setState({ direction })
  startPlaying()
}

/** Begins to play with the rate, direction and loop that are set. */
export const startPlaying = () => {
  if (!control) return
  touch()
  const { rate, direction, loop } = useDesk.getState()
  control.player.play({
    rate,
    direction,
    first: loop?.from ?? control.first,
    last: loop?.to ?? control.last,
    loop: loop !== null,
  })
  useDesk.setState({ isPlaying: true })
}

export const setRate = (rate: number) => {
  useDesk.setState({ rate })
  if (useDesk.getState().isPlaying) startPlaying()
}

/** Loops between the moments around the playhead; a second call ends the loop. */
export const toggleLoop = () => {
  const state = useDesk.getState()
  const view = shownView(state)
  if (state.loop || !view || !control) {
    useDesk.setState({ loop: null })
  } else {
    const frames = [control.first, ...view.moments.map((m) => m.frame), control.last].sort((a, b) => a - b)
    const from = [...frames].reverse().find((f) => f <= state.frame) ?? control.first
    const to = frames.find((f) => f > state.frame) ?? control.last
    setLoop(from, to > from ? to : control.last)
    return
  }
  if (state.isPlaying) startPlaying()
}

export const setLoop = (from: number, to: number) => {
  if (to - from < 1) return
  useDesk.setState({ loop: { from, to } })
  if (useDesk.getState().isPlaying) startPlaying()
}
