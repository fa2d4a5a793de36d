import { create } from 'zustand'
import type { Arriving, CueKind, GuestPicture, OpenLesson } from '../../shared-core/model/entities.ts'

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

/**
 * What the pointer does on the Stage: look and select, or place a shape of this kind, or a cue, or mark a point that is
 * followed (`id` null: a new one).
 */
export type Tool =
  | { name: 'look' }
  | { name: 'shape'; kind: string }
  | { name: 'cue' }
  | { name: 'follow'; id: string | null; what: string }

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

/** A film on the Stage that is still being taken in: it is looked at, and nothing is marked on it. */
export interface ArrivingFilm extends Arriving {
  jobId: string
  /** What was on the Stage before. */
  before: { swingId: string | null; viewId: string | null }
  /** The coach has played it or gone to another frame. */
  isTouched: boolean
}

export interface DeskState {
  lessonId: string | null
  opened: OpenLesson | null
  /** Found nothing under that id. */
  isGone: boolean
  cueKinds: CueKind[]
  report: unknown
  activeSwingId: string | null
  activeViewId: string | null
  /** While it is there, no swing is active. */
  arriving: ArrivingFilm | null
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
  /** The body's points on the picture, to be put right by hand. */
  showsJoints: boolean
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

/** The Desk as a lesson is opened on it. */
export const fresh = {
  opened: null,
  isGone: false,
  report: null,
  activeSwingId: null,
  activeViewId: null,
  arriving: null,
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
  showsJoints: false,
  trayOpen: true,
  ledgerOpen: true,
}))

/** Turns the window to the student, or back. */
export const showStudent = (isShowing: boolean) =>
  useDesk.setState({ isShowing, tool: { name: 'look' }, selectedDrawingIds: new Set() })
