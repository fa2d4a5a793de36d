import {
  ArrowLeft,
  Columns2,
  Ellipsis,
  Keyboard,
  PackageCheck,
  PanelLeft,
  PanelRight,
  Redo2,
  Settings,
  Undo2,
} from 'lucide-react'
import { useEffect, useRef, useState } from 'react'
import { Button, Menu, MenuItem, MenuTrigger, Popover } from 'react-aria-components'
import { dateText } from '../roster/LessonRow.tsx'
import { unitOptions } from '../roster/StudentDialog.tsx'
import { keysOf } from '../keys/handle-keys.ts'
import { Action, Toggle } from '../parts/Action.tsx'
import { Pick } from '../parts/Pick.tsx'
import { ask, bridge } from '../store/bridge.ts'
import { goTo, loadRoster, openDialog, useApp } from '../store/app-store.ts'
import { addClipsByDialog, addDropped, addPasted, addShotsByDialog } from '../store/adding.ts'
import {
  edit,
  expectView,
  followLesson,
  openLesson,
  redo,
  reload,
  showStudent,
  undo,
  useDesk,
} from '../store/desk-store.ts'
import { followLive } from '../store/live.ts'
import { telling } from '../store/messages.ts'
import { keepFrame } from '../store/swings.ts'
import { LastPlanAsk } from '../hand-over/LastPlanAsk.tsx'
import { ShowStudent } from './ShowStudent.tsx'
import { Ledger } from './ledger/Ledger.tsx'
import { closeWaitingClips, openWhatIsChosen } from './stage/open-clips.ts'
import { Stage } from './stage/Stage.tsx'
import { openTalk } from '../talk/talk-control.ts'
import { TalkBar } from '../talk/TalkBar.tsx'
import { Tray } from './tray/Tray.tsx'
import './desk.css'

/** One lesson: Tray, Stage with its Strip, Ledger. */
export function Desk({ lessonId }: { lessonId: string }) {
  const opened = useDesk((s) => (s.lessonId === lessonId ? s.opened : null))
  const isGone = useDesk((s) => s.isGone)
  const trayOpen = useDesk((s) => s.trayOpen)
  const ledgerOpen = useDesk((s) => s.ledgerOpen)
  const isShowing = useDesk((s) => s.isShowing)
  const [isOver, setOver] = useState(false)
  useEffect(() => {
    // First, so that the clip is being opened while the window is still being laid out.
    const off = [openWhatIsChosen(), followLesson(), followLive(lessonId)]
    void openLesson(lessonId)
    return () => {
      for (const end of off) end()
      // After the pictures have given theirs back.
      setTimeout(closeWaitingClips)
    }
  }, [lessonId])
  // A clip that was taken in shows at once, whether or not the library has told of it yet.
  const taken = useApp((s) => s.jobs.filter((j) => j.lessonId === lessonId && j.state === 'done').length)
  const takenBefore = useRef(taken)
  useEffect(() => {
    if (taken > takenBefore.current) void reload()
    takenBefore.current = taken
  }, [taken])
  useEffect(() => {
    const paste = (event: ClipboardEvent) => {
      const isText =
        event.target instanceof Element && event.target.closest('input,textarea,[contenteditable]')
      if (!isText && event.clipboardData && addPasted(lessonId, event.clipboardData)) event.preventDefault()
    }
    addEventListener('paste', paste)
    return () => removeEventListener('paste', paste)
  }, [lessonId])
  useNarrowPanels()

  if (isGone) {
    return (
      <main className="empty">
        <h2>This lesson is not there any more</h2>
        <Action tone="lead" label="To the Roster" onPress={() => goTo({ name: 'roster' })} />
      </main>
    )
  }
  return (
    <>
      {!isShowing && <DeskBar lessonId={lessonId} />}
      {opened && !isShowing && (
        <LastPlanAsk key={lessonId} lessonId={lessonId} studentName={opened.student.name} />
      )}
      {opened && <TalkBar lessonId={lessonId} />}
      {opened && (
        <div
          className={`desk${isShowing ? ' is-showing' : `${trayOpen ? ' has-tray' : ''}${ledgerOpen ? ' has-ledger' : ''}`}`}
          onDragOver={(event) => {
            if (!event.dataTransfer.types.includes('Files')) return
            event.preventDefault()
            event.dataTransfer.dropEffect = 'copy'
            setOver(true)
          }}
          onDragLeave={(event) => {
            const to = event.relatedTarget
            if (!(to instanceof Node) || !event.currentTarget.contains(to)) setOver(false)
          }}
          onDrop={(event) => {
            if (!event.dataTransfer.types.includes('Files')) return
            event.preventDefault()
            setOver(false)
            void telling(addDropped(lessonId, [...event.dataTransfer.files]))
          }}
        >
          {trayOpen && !isShowing && <Tray />}
          <Stage />
          {isShowing ? <ShowStudent opened={opened} /> : ledgerOpen && <Ledger />}
          {isOver && <div className="drop-veil">Drop clips and shot records to add them to this lesson</div>}
        </div>
      )}
    </>
  )
}

/** In a narrow window the side panels step aside once; the coach can bring them back. */
const useNarrowPanels = () => {
  useEffect(() => {
    const narrow = matchMedia('(max-width: 860px)')
    const follow = () => narrow.matches && useDesk.setState({ trayOpen: false, ledgerOpen: false })
    follow()
    narrow.addEventListener('change', follow)
    return () => narrow.removeEventListener('change', follow)
  }, [])
}

function DeskBar({ lessonId }: { lessonId: string }) {
  const opened = useDesk((s) => s.opened)
  const trayOpen = useDesk((s) => s.trayOpen)
  const ledgerOpen = useDesk((s) => s.ledgerOpen)
  const units = opened?.student.units
  return (
    <header className="bar">
      <Action
        tone="plain"
        icon={<ArrowLeft size={18} />}
        label="Roster"
        keys={keysOf('roster')}
        onPress={() => goTo({ name: 'roster' })}
      />
      <h1>{opened?.student.name}</h1>
      {opened && (
        <span className="bar-sub">
          {dateText(opened.lesson.date)}
          {opened.lesson.title && ` · ${opened.lesson.title}`}
        </span>
      )}
      <span className="push" />
      <Action
        tone="plain"
        icon={<Undo2 size={18} />}
        label={opened?.undoLabel ? `Undo: ${opened.undoLabel}` : 'Nothing to undo'}
        keys={keysOf('undo')}
        isDisabled={!opened?.undoLabel}
        onPress={() => void undo()}
      />
      <Action
        tone="plain"
        icon={<Redo2 size={18} />}
        label={opened?.redoLabel ? `Redo: ${opened.redoLabel}` : 'Nothing to redo'}
        keys={keysOf('redo')}
        isDisabled={!opened?.redoLabel}
        onPress={() => void redo()}
      />
      <Action
        tone="plain"
        icon={<Columns2 size={18} />}
        label="Compare two swings"
        keys={keysOf('compare')}
        isDisabled={!opened || opened.swings.length < 1}
        onPress={() => openDialog({ name: 'compare' })}
      />
      {opened && units && (
        <div className="bar-units">
          <Pick
            hideLabel
            label="Units"
            value={units}
            options={unitOptions}
            onChange={(next) => {
              expectView((v) => ({ ...v, student: { ...v.student, units: next } }))
              void edit('student.update', { id: opened.student.id, patch: { units: next } })
            }}
          />
        </div>
      )}
      <Toggle
        tone="plain"
        icon={<PanelLeft size={18} />}
        label="Tray"
        keys={keysOf('tray')}
        isOn={trayOpen}
        onChange={(isOn) => useDesk.setState({ trayOpen: isOn })}
      />
      <Toggle
        tone="plain"
        icon={<PanelRight size={18} />}
        label="Ledger"
        keys={keysOf('ledger')}
        isOn={ledgerOpen}
        onChange={(isOn) => useDesk.setState({ ledgerOpen: isOn })}
      />
      <MenuTrigger>
        <Button className="button button-plain button-icon" aria-label="More">
          <Ellipsis size={18} />
        </Button>
        <Popover className="popover">
          <Menu
            onAction={(key) => {
              const student = opened?.student.id
              if (key === 'clips') void addClipsByDialog(lessonId)
              if (key === 'shots') void addShotsByDialog(lessonId)
              if (key === 'live') openDialog({ name: 'live', lessonId })
              if (key === 'bay') goTo({ name: 'bay', lessonId })
              if (key === 'keep-frame') void keepFrame()
              if (key === 'swishes') {
                openDialog({ name: 'swishes', viewId: useDesk.getState().activeViewId })
              }
              if (key === 'talk') openTalk(lessonId)
              if (key === 'pair') void edit('pair.run', { lessonId })
              if (key === 'card' && student) openDialog({ name: 'student', studentId: student })
              if (key === 'season' && student) goTo({ name: 'season', studentId: student })
              if (key === 'show') showStudent(true)
              if (key === 'window') void bridge().openWindow(lessonId)
              if (key === 'keys') openDialog({ name: 'keys' })
              if (key === 'settings') openDialog({ name: 'settings' })
              if (key === 'check') void telling(ask('library.check', {})).then(loadRoster).then(reload)
            }}
          >
            <MenuItem className="menu-item" id="clips">
              Add clips… <Keys name="add-clips" />
            </MenuItem>
            <MenuItem className="menu-item" id="shots">
              Add shot records… <Keys name="add-shots" />
            </MenuItem>
            <MenuItem className="menu-item" id="live" textValue="Live lesson">
              Live lesson… <Keys name="live" />
            </MenuItem>
            <MenuItem className="menu-item" id="bay" textValue="Bay view">
              Bay view <Keys name="bay" />
            </MenuItem>
            <MenuItem className="menu-item" id="keep-frame" textValue="Keep this frame as a picture">
              Keep this frame as a picture <Keys name="keep-frame" />
            </MenuItem>
            <MenuItem className="menu-item" id="swishes" textValue="Swish meter">
              Swish meter… <Keys name="swishes" />
            </MenuItem>
            <MenuItem className="menu-item" id="talk">
              Talk through… <Keys name="talk" />
            </MenuItem>
            <MenuItem className="menu-item" id="pair">
              Pair again by the clocks
            </MenuItem>
            <MenuItem className="menu-item" id="card">
              Student’s card
            </MenuItem>
            <MenuItem className="menu-item" id="season">
              Season
            </MenuItem>
            <MenuItem className="menu-item" id="show" textValue="Show the student">
              Show the student <Keys name="show-student" />
            </MenuItem>
            <MenuItem className="menu-item" id="window">
              Second window on this lesson
            </MenuItem>
            <MenuItem className="menu-item" id="keys" textValue="Keys">
              <Keyboard size={15} aria-hidden /> Keys <Keys name="keys" />
            </MenuItem>
            <MenuItem className="menu-item" id="settings" textValue="Settings">
              <Settings size={15} aria-hidden /> Settings <Keys name="settings" />
            </MenuItem>
          </Menu>
        </Popover>
      </MenuTrigger>
      <Action
        withLabel
        tone="lead"
        icon={<PackageCheck size={17} />}
        label="Hand-over"
        onPress={() => goTo({ name: 'hand-over', lessonId })}
      />
    </header>
  )
}

function Keys({ name }: { name: string }) {
  const keys = keysOf(name)
  return keys ? <kbd className="push">{keys}</kbd> : null
}
