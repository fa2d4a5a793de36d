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
import { commandWords, keyWords, type CommandName } from '../../shared-core/wording/window/keys.ts'
import { things } from '../desk/stage/follow-words.ts'
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
import {
  cutBlockHere,
  cutClipHere,
  joinBlockHere,
  keepFrame,
  toggleMirror,
  toggleStars,
} from '../store/swings.ts'
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

const labelled = (
  group: string,
  when: Scope,
  name: string,
  label: string,
  keys: string[],
  run: () => void,
): Command => ({ name, label, group, keys, when, run })

const command = (group: string, when: Scope, name: CommandName, keys: string[], run: () => void): Command =>
  labelled(group, when, name, commandWords(name), keys, run)

const withLesson = (run: (lessonId: string) => void) => () => {
  const { lessonId } = useDesk.getState()
  if (lessonId) run(lessonId)
}

const look = keyWords('looking')
const looking = [
  command(look, 'desk', 'step-on', ['ArrowRight'], () => stepFrame(1)),
  command(look, 'desk', 'step-back', ['ArrowLeft'], () => stepFrame(-1)),
  command(look, 'desk', 'leap-on', ['Shift+ArrowRight'], () => stepFrame(10)),
  command(look, 'desk', 'leap-back', ['Shift+ArrowLeft'], () => stepFrame(-10)),
  command(look, 'desk', 'to-start', ['Home'], () => showFrame(stage()?.first ?? 0)),
  command(look, 'desk', 'to-end', ['End'], () => showFrame(stage()?.last ?? 0)),
  command(look, 'desk', 'play', ['Space'], () => togglePlay()),
  command(look, 'desk', 'play-on', ['Y'], () => togglePlay(1)),
  command(look, 'desk', 'play-back', ['R'], () => togglePlay(-1)),
  command(look, 'desk', 'slower', [','], () => changeRate(1)),
  command(look, 'desk', 'faster', ['.'], () => changeRate(-1)),
  command(look, 'desk', 'loop', ['Q'], toggleLoop),
  command(look, 'desk', 'zoom-in', ['+', '='], () => stage()?.zoom(1.25)),
  command(look, 'desk', 'zoom-out', ['-'], () => stage()?.zoom(0.8)),
  command(look, 'desk', 'fit', ['0'], () => stage()?.fit()),
  command(look, 'desk', 'pan-left', ['Alt+ArrowLeft'], () => stage()?.pan(60, 0)),
  command(look, 'desk', 'pan-right', ['Alt+ArrowRight'], () => stage()?.pan(-60, 0)),
  command(look, 'desk', 'pan-up', ['Alt+ArrowUp'], () => stage()?.pan(0, 60)),
  command(look, 'desk', 'pan-down', ['Alt+ArrowDown'], () => stage()?.pan(0, -60)),
  command(look, 'desk', 'mirror', ['M'], toggleMirror),
  command(look, 'desk', 'compare', ['K'], () => openDialog({ name: 'compare' })),
]

const changeRate = (by: 1 | -1) => {
  const index = rates.indexOf(useDesk.getState().rate as (typeof rates)[number])
  const next = rates[index + by]
  if (next) setRate(next)
}

const mark = keyWords('moments')
const marking = [
  ...momentNames.map((name, i) =>
    labelled(
      mark,
      'desk',
      `place-${name}`,
      keyWords('atThisFrame', { moment: momentTitle(name) }),
      [String(i + 1)],
      () => placeNumbered(i + 1),
    ),
  ),
  ...momentNames.map((name, i) =>
    labelled(mark, 'desk', `go-${name}`, keyWords('goTo', { moment: name }), [`Alt+${i + 1}`], () =>
      jumpToNumbered(i + 1),
    ),
  ),
  command(mark, 'desk', 'next-moment', ['N'], () => stepMoment(1)),
  command(mark, 'desk', 'previous-moment', ['Shift+N'], () => stepMoment(-1)),
  command(mark, 'desk', 'confirm', ['Enter'], () => {
    if (!endPlacingShape()) void confirmAndGoOn()
  }),
  command(mark, 'desk', 'cue', ['C'], () => {
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
const draw = keyWords('drawing')
const drawing = [
  ...(Object.keys(shapes) as ShapeKind[]).map((kind) =>
    labelled(
      draw,
      'desk',
      `draw-${kind}`,
      keyWords('draw', { shape: shapes[kind].name }),
      [shapeKeys[kind]],
      () => {
        // Two pictures are looked at; what is drawn belongs to one.
        if (!useDesk.getState().compared) useDesk.setState({ tool: { name: 'shape', kind } })
      },
    ),
  ),
  command(draw, 'desk', 'next-drawing', ['W'], () => drawingByKeys()?.takeItem(1)),
  command(draw, 'desk', 'previous-drawing', ['Shift+W'], () => drawingByKeys()?.takeItem(-1)),
  command(draw, 'desk', 'next-point', ['I'], () => drawingByKeys()?.takePoint(1)),
  command(draw, 'desk', 'previous-point', ['Shift+I'], () => drawingByKeys()?.takePoint(-1)),
  command(draw, 'desk', 'pin-cue', ['Shift+C'], () => {
    if (!useDesk.getState().compared) useDesk.setState({ tool: { name: 'cue' } })
  }),
  command(draw, 'desk', 'follow', ['Shift+F'], () => {
    const { compared, tool } = useDesk.getState()
    if (!compared && tool.name !== 'follow') {
      useDesk.setState({ tool: { name: 'follow', id: null, what: things[0] } })
    }
  }),
  command(draw, 'desk', 'joints', ['Shift+J'], () =>
    useDesk.setState(({ showsJoints }) => ({ showsJoints: !showsJoints })),
  ),
  command(draw, 'desk', 'select', ['Escape'], () => {
    drawingByKeys()?.leave()
    showStudent(false)
  }),
  command(draw, 'desk', 'remove', ['Delete', 'Backspace'], () => {
    const { selectedDrawingIds, selectedMomentId } = useDesk.getState()
    if (selectedDrawingIds.size > 0) void removeSelectedDrawings()
    else if (selectedMomentId) void removeMoment(selectedMomentId)
  }),
  command(draw, 'desk', 'hide', ['H'], () => void toggleHidden()),
  command(draw, 'desk', 'all-drawings', ['Shift+H'], () =>
    useDesk.setState(({ showsDrawings }) => ({ showsDrawings: !showsDrawings })),
  ),
  command(draw, 'desk', 'copy', ['Mod+D'], () => void copyToOtherView()),
  command(draw, 'desk', 'raise', [']'], () => void changeOrder('front')),
  command(draw, 'desk', 'lower', ['['], () => void changeOrder('back')),
]

const lesson = keyWords('lesson')
const inLesson = [
  command(lesson, 'desk', 'next-swing', ['PageDown'], () => stepSwing(1)),
  command(lesson, 'desk', 'previous-swing', ['PageUp'], () => stepSwing(-1)),
  command(lesson, 'desk', 'star', ['S'], () => void toggleStars()),
  command(lesson, 'desk', 'pair', ['Z'], () => void pairSelected()),
  command(lesson, 'desk', 'cut-block', ['D'], () => void cutBlockHere()),
  command(lesson, 'desk', 'join-block', ['J'], () => void joinBlockHere()),
  command(
    lesson,
    'desk',
    'add-clips',
    ['Mod+O'],
    withLesson((id) => void addClipsByDialog(id)),
  ),
  command(
    lesson,
    'desk',
    'add-shots',
    ['Mod+I'],
    withLesson((id) => void addShotsByDialog(id)),
  ),
  command(
    lesson,
    'desk',
    'write-hand-over',
    ['Mod+E'],
    withLesson((lessonId) => openDialog({ name: 'write-hand-over', lessonId })),
  ),
  command(
    lesson,
    'desk',
    'live',
    ['Mod+L'],
    withLesson((lessonId) => openDialog({ name: 'live', lessonId })),
  ),
  command(
    lesson,
    'desk',
    'bay',
    ['Mod+B'],
    withLesson((lessonId) => goTo({ name: 'bay', lessonId })),
  ),
  command(lesson, 'desk', 'cut-clip', ['Shift+D'], () => void cutClipHere()),
  command(lesson, 'desk', 'keep-frame', ['Shift+K'], () => void keepFrame()),
  command(lesson, 'desk', 'swishes', ['Mod+J'], () =>
    openDialog({ name: 'swishes', viewId: useDesk.getState().activeViewId }),
  ),
  command(lesson, 'desk', 'talk', ['F8'], withLesson(openTalk)),
  command(lesson, 'desk', 'talk-record', ['F9'], () => void toggleTalk()),
  command(lesson, 'desk', 'undo', ['Mod+Z'], () => void undo()),
  command(lesson, 'desk', 'redo', ['Mod+Shift+Z', 'Mod+Y'], () => void redo()),
  command(lesson, 'desk', 'tray', ['F2'], () =>
    useDesk.setState(({ trayOpen }) => ({ trayOpen: !trayOpen })),
  ),
  command(lesson, 'desk', 'show-student', ['F3'], () => showStudent(!useDesk.getState().isShowing)),
  command(lesson, 'desk', 'this-swing', ['F5'], () => showLedgerFace('swing')),
  command(lesson, 'desk', 'this-block', ['F6'], () => showLedgerFace('block')),
  command(lesson, 'desk', 'this-lesson', ['F7'], () => showLedgerFace('lesson')),
  command(lesson, 'desk', 'ledger', ['F4'], () =>
    useDesk.setState(({ ledgerOpen }) => ({ ledgerOpen: !ledgerOpen })),
  ),
]

const bay = keyWords('bayView')
const inBay = [
  command(bay, 'bay', 'freeze', ['Space'], toggleFreeze),
  command(bay, 'bay', 'bay-loop', ['L'], toggleBayLoop),
  command(bay, 'bay', 'did-it', ['D'], sayInBay(true)),
  command(bay, 'bay', 'not-yet', ['N'], sayInBay(false)),
  command(bay, 'bay', 'bay-star', ['S'], starInBay),
  command(bay, 'bay', 'leave-out', ['X'], leaveOutInBay),
  command(bay, 'bay', 'begin-block', ['B'], askForBlock),
  command(bay, 'bay', 'bay-undo', ['Mod+Z'], () => void undo()),
  command(bay, 'bay', 'leave-bay', ['Escape'], leaveBay),
]

const around = keyWords('window')
const everywhere = [
  command(around, 'anywhere', 'keys', ['?'], () =>
    useApp.getState().dialog?.name === 'keys' ? closeDialog() : openDialog({ name: 'keys' }),
  ),
  command(around, 'anywhere', 'settings', ['Mod+,'], () => openDialog({ name: 'settings' })),
  command(around, 'anywhere', 'roster', ['Mod+R'], () => goTo({ name: 'roster' })),
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
