import { shapes, type ShapeKind } from '../../shared-core/drawing/shapes.ts'
import { momentNames } from '../../shared-core/model/entities.ts'
import {
  drawingByKeys,
  endPlacingShape,
  setRate,
  showFrame,
  stage,
  stepFrame,
  toggleLoop,
  togglePlay,
} from '../store/stage-control.ts'
import {
  askForBlock,
  leaveBay,
  leaveOutInBay,
  sayInBay,
  starInBay,
  toggleBayLoop,
  toggleFreeze,
} from '../live/bay-store.ts'
import { pairSelected } from '../desk/tray/pairing.ts'
import { closeDialog, goTo, openDialog, useApp } from '../store/app-store.ts'
import { addClipsByDialog, addShotsByDialog } from '../store/adding.ts'
import { rates, redo, showStudent, stepSwing, undo, useDesk } from '../store/desk-store.ts'
import { copyToOtherView, changeOrder, removeSelectedDrawings, toggleHidden } from '../store/drawings.ts'
import { showLedgerFace } from '../store/ledger-face.ts'
import {
  confirmAndGoOn,
  jumpToNumbered,
  momentTitle,
  placeNumbered,
  removeMoment,
  stepMoment,
  viewToMark,
} from '../store/moments.ts'
import { cutBlockHere, joinBlockHere, keepFrame, toggleMirror, toggleStars } from '../store/swings.ts'
import { openTalk, toggleTalk } from '../talk/talk-control.ts'

export type Scope = 'anywhere' | 'desk' | 'bay'

/** One thing the coach can do by key, menu or button. */
export interface Command {
  readonly name: string
  readonly label: string
  readonly group: string
  readonly keys: readonly string[]
  /** Where it works. Keys clash only where scopes overlap. */
  readonly when: Scope
  run(): void
}

const command = (
  group: string,
  when: Scope,
  name: string,
  label: string,
  keys: string[],
  run: () => void,
): Command => ({ name, label, group, keys, when, run })

const withLesson = (run: (lessonId: string) => void) => () => {
  const { lessonId } = useDesk.getState()
  if (lessonId) run(lessonId)
}

const look = 'Looking'
const looking = [
  command(look, 'desk', 'step-on', 'One frame on', ['ArrowRight'], () => stepFrame(1)),
  command(look, 'desk', 'step-back', 'One frame back', ['ArrowLeft'], () => stepFrame(-1)),
  command(look, 'desk', 'leap-on', 'Ten frames on', ['Shift+ArrowRight'], () => stepFrame(10)),
  command(look, 'desk', 'leap-back', 'Ten frames back', ['Shift+ArrowLeft'], () => stepFrame(-10)),
  command(look, 'desk', 'to-start', 'First frame', ['Home'], () => showFrame(stage()?.first ?? 0)),
  command(look, 'desk', 'to-end', 'Last frame', ['End'], () => showFrame(stage()?.last ?? 0)),
  command(look, 'desk', 'play', 'Play or stop', ['Space'], () => togglePlay()),
  command(look, 'desk', 'play-on', 'Play forward', ['Y'], () => togglePlay(1)),
  command(look, 'desk', 'play-back', 'Play in reverse', ['R'], () => togglePlay(-1)),
  command(look, 'desk', 'slower', 'Slower', [','], () => changeRate(1)),
  command(look, 'desk', 'faster', 'Faster', ['.'], () => changeRate(-1)),
  command(look, 'desk', 'loop', 'Loop between the moments around the playhead', ['Q'], toggleLoop),
  command(look, 'desk', 'zoom-in', 'Zoom in', ['+', '='], () => stage()?.zoom(1.25)),
  command(look, 'desk', 'zoom-out', 'Zoom out', ['-'], () => stage()?.zoom(0.8)),
  command(look, 'desk', 'fit', 'Whole picture', ['0'], () => stage()?.fit()),
  command(look, 'desk', 'pan-left', 'Move the picture left', ['Alt+ArrowLeft'], () => stage()?.pan(60, 0)),
  command(look, 'desk', 'pan-right', 'Move the picture right', ['Alt+ArrowRight'], () =>
    stage()?.pan(-60, 0),
  ),
  command(look, 'desk', 'pan-up', 'Move the picture up', ['Alt+ArrowUp'], () => stage()?.pan(0, 60)),
  command(look, 'desk', 'pan-down', 'Move the picture down', ['Alt+ArrowDown'], () => stage()?.pan(0, -60)),
  command(look, 'desk', 'mirror', 'Mirror the picture', ['M'], toggleMirror),
  command(look, 'desk', 'compare', 'Compare two swings', ['K'], () => openDialog({ name: 'compare' })),
]

const changeRate = (by: 1 | -1) => {
  const index = rates.indexOf(useDesk.getState().rate as (typeof rates)[number])
  const next = rates[index + by]
  if (next) setRate(next)
}

const mark = 'Moments'
const marking = [
  ...momentNames.map((name, i) =>
    command(mark, 'desk', `place-${name}`, `${momentTitle(name)} at this frame`, [String(i + 1)], () =>
      placeNumbered(i + 1),
    ),
  ),
  ...momentNames.map((name, i) =>
    command(mark, 'desk', `go-${name}`, `Go to ${name}`, [`Alt+${i + 1}`], () => jumpToNumbered(i + 1)),
  ),
  command(mark, 'desk', 'next-moment', 'Next moment', ['N'], () => stepMoment(1)),
  command(mark, 'desk', 'previous-moment', 'Moment before', ['Shift+N'], () => stepMoment(-1)),
  command(
    mark,
    'desk',
    'confirm',
    'Confirm the moment, go to the next unconfirmed one; end a shape of many points',
    ['Enter'],
    () => {
      if (!endPlacingShape()) void confirmAndGoOn()
    },
  ),
  command(mark, 'desk', 'cue', 'Add a cue', ['C'], () => {
    const momentId = useDesk.getState().selectedMomentId
    if (viewToMark()) openDialog({ name: 'cue', momentId, x: null, y: null })
  }),
]

const shapeKeys: Record<ShapeKind, string> = {
  line: 'L',
  arrow: 'A',
  curve: 'U',
  angle: 'G',
  circle: 'O',
  box: 'B',
  freehand: 'F',
  text: 'T',
  plumb: 'P',
  level: 'V',
  ruler: 'E',
  cover: 'X',
}
const draw = 'Drawing'
const drawing = [
  ...(Object.keys(shapes) as ShapeKind[]).map((kind) =>
    command(draw, 'desk', `draw-${kind}`, `Draw: ${shapes[kind].name}`, [shapeKeys[kind]], () => {
      // Two pictures are looked at; what is drawn belongs to one.
      if (!useDesk.getState().compared) useDesk.setState({ tool: { name: 'shape', kind } })
    }),
  ),
  command(
    draw,
    'desk',
    'next-drawing',
    'By keys: the next drawing or cue here, or the tool’s crosshair',
    ['W'],
    () => drawingByKeys()?.takeItem(1),
  ),
  command(draw, 'desk', 'previous-drawing', 'By keys: the drawing or cue before', ['Shift+W'], () =>
    drawingByKeys()?.takeItem(-1),
  ),
  command(draw, 'desk', 'next-point', 'By keys: the next point of the drawing', ['I'], () =>
    drawingByKeys()?.takePoint(1),
  ),
  command(draw, 'desk', 'previous-point', 'By keys: the point before', ['Shift+I'], () =>
    drawingByKeys()?.takePoint(-1),
  ),
  command(draw, 'desk', 'pin-cue', 'Pin a cue on the picture', ['Shift+C'], () => {
    if (!useDesk.getState().compared) useDesk.setState({ tool: { name: 'cue' } })
  }),
  command(draw, 'desk', 'follow', 'Follow a point: the club head', ['Shift+F'], () => {
    const { compared, tool } = useDesk.getState()
    if (!compared && tool.name !== 'follow') {
      useDesk.setState({ tool: { name: 'follow', id: null, what: 'club head' } })
    }
  }),
  command(draw, 'desk', 'joints', 'Body points on the picture, to put them right', ['Shift+J'], () =>
    useDesk.setState(({ showsJoints }) => ({ showsJoints: !showsJoints })),
  ),
  command(draw, 'desk', 'select', 'Look and select', ['Escape'], () => {
    drawingByKeys()?.leave()
    showStudent(false)
  }),
  command(draw, 'desk', 'remove', 'Remove what is selected', ['Delete', 'Backspace'], () => {
    const { selectedDrawingIds, selectedMomentId } = useDesk.getState()
    if (selectedDrawingIds.size > 0) void removeSelectedDrawings()
    else if (selectedMomentId) void removeMoment(selectedMomentId)
  }),
  command(draw, 'desk', 'hide', 'Hide or show the selected drawing', ['H'], () => void toggleHidden()),
  command(draw, 'desk', 'all-drawings', 'Show no drawings, or all', ['Shift+H'], () =>
    useDesk.setState(({ showsDrawings }) => ({ showsDrawings: !showsDrawings })),
  ),
  command(
    draw,
    'desk',
    'copy',
    'Copy the drawing to the next swing',
    ['Mod+D'],
    () => void copyToOtherView(),
  ),
  command(draw, 'desk', 'raise', 'Drawing to the front', [']'], () => void changeOrder('front')),
  command(draw, 'desk', 'lower', 'Drawing to the back', ['['], () => void changeOrder('back')),
]

const lesson = 'Lesson'
const inLesson = [
  command(lesson, 'desk', 'next-swing', 'Next swing', ['PageDown'], () => stepSwing(1)),
  command(lesson, 'desk', 'previous-swing', 'Swing before', ['PageUp'], () => stepSwing(-1)),
  command(lesson, 'desk', 'star', 'Star for the hand-over', ['S'], () => void toggleStars()),
  command(lesson, 'desk', 'pair', 'Make one swing of the two selected', ['Z'], () => void pairSelected()),
  command(lesson, 'desk', 'cut-block', 'Begin a block with this swing', ['D'], () => void cutBlockHere()),
  command(
    lesson,
    'desk',
    'join-block',
    'Join this block to the one before',
    ['J'],
    () => void joinBlockHere(),
  ),
  command(
    lesson,
    'desk',
    'add-clips',
    'Add clips',
    ['Mod+O'],
    withLesson((id) => void addClipsByDialog(id)),
  ),
  command(
    lesson,
    'desk',
    'add-shots',
    'Add shot records',
    ['Mod+I'],
    withLesson((id) => void addShotsByDialog(id)),
  ),
  command(
    lesson,
    'desk',
    'write-hand-over',
    'Write the hand-over',
    ['Mod+E'],
    withLesson((lessonId) => openDialog({ name: 'write-hand-over', lessonId })),
  ),
  command(
    lesson,
    'desk',
    'live',
    'Live lesson',
    ['Mod+L'],
    withLesson((lessonId) => openDialog({ name: 'live', lessonId })),
  ),
  command(
    lesson,
    'desk',
    'bay',
    'Bay view',
    ['Mod+B'],
    withLesson((lessonId) => goTo({ name: 'bay', lessonId })),
  ),
  command(lesson, 'desk', 'keep-frame', 'Keep this frame as a picture', ['Shift+K'], () => void keepFrame()),
  command(lesson, 'desk', 'swishes', 'Swish meter', ['Mod+J'], () =>
    openDialog({ name: 'swishes', viewId: useDesk.getState().activeViewId }),
  ),
  command(lesson, 'desk', 'talk', 'Talk through', ['F8'], withLesson(openTalk)),
  command(lesson, 'desk', 'talk-record', 'Record the talk, or pause it', ['F9'], () => void toggleTalk()),
  command(lesson, 'desk', 'undo', 'Undo', ['Mod+Z'], () => void undo()),
  command(lesson, 'desk', 'redo', 'Redo', ['Mod+Shift+Z', 'Mod+Y'], () => void redo()),
  command(lesson, 'desk', 'tray', 'Show or hide the Tray', ['F2'], () =>
    useDesk.setState(({ trayOpen }) => ({ trayOpen: !trayOpen })),
  ),
  command(lesson, 'desk', 'show-student', 'Show the student, and back to the Desk', ['F3'], () =>
    showStudent(!useDesk.getState().isShowing),
  ),
  command(lesson, 'desk', 'this-swing', 'Ledger: this swing', ['F5'], () => showLedgerFace('swing')),
  command(lesson, 'desk', 'this-block', 'Ledger: this block', ['F6'], () => showLedgerFace('block')),
  command(lesson, 'desk', 'this-lesson', 'Ledger: this lesson', ['F7'], () => showLedgerFace('lesson')),
  command(lesson, 'desk', 'ledger', 'Show or hide the Ledger', ['F4'], () =>
    useDesk.setState(({ ledgerOpen }) => ({ ledgerOpen: !ledgerOpen })),
  ),
]

const bay = 'Bay view'
const inBay = [
  command(bay, 'bay', 'freeze', 'Freeze, or go on', ['Space'], toggleFreeze),
  command(bay, 'bay', 'bay-loop', 'Loop, or stand at impact', ['L'], toggleBayLoop),
  command(bay, 'bay', 'did-it', 'Did it', ['D'], sayInBay(true)),
  command(bay, 'bay', 'not-yet', 'Not yet', ['N'], sayInBay(false)),
  command(bay, 'bay', 'bay-star', 'Star', ['S'], starInBay),
  command(bay, 'bay', 'leave-out', 'Leave it out', ['X'], leaveOutInBay),
  command(bay, 'bay', 'begin-block', 'New block', ['B'], askForBlock),
  command(bay, 'bay', 'bay-undo', 'Undo', ['Mod+Z'], () => void undo()),
  command(bay, 'bay', 'leave-bay', 'To the Desk', ['Escape'], leaveBay),
]

const around = 'Window'
const everywhere = [
  command(around, 'anywhere', 'keys', 'Keys', ['?'], () =>
    useApp.getState().dialog?.name === 'keys' ? closeDialog() : openDialog({ name: 'keys' }),
  ),
  command(around, 'anywhere', 'settings', 'Settings', ['Mod+,'], () => openDialog({ name: 'settings' })),
  command(around, 'anywhere', 'roster', 'Roster', ['Mod+R'], () => goTo({ name: 'roster' })),
]

/** Everything the coach can do by key; the sheet of keys, the menus and the key handling read this list. */
export const commands: readonly Command[] = [
  ...looking,
  ...marking,
  ...drawing,
  ...inLesson,
  ...inBay,
  ...everywhere,
]

const byName = new Map(commands.map((c) => [c.name, c]))
export const commandNamed = (name: string): Command => {
  const found = byName.get(name)
  if (!found) throw new Error(`there is no command "${name}"`)
  return found
}

/** Pairs of commands that want the same key in the same place. */
export const clashes = (list: readonly Command[]): { key: string; first: string; second: string }[] =>
  list.flatMap((a, i) =>
    list
      .slice(i + 1)
      .flatMap((b) =>
        a.when !== b.when && a.when !== 'anywhere' && b.when !== 'anywhere'
          ? []
          : a.keys
              .filter((key) => b.keys.includes(key))
              .map((key) => ({ key, first: a.name, second: b.name })),
      ),
  )
