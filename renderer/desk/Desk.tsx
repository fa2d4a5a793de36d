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
import { deskWords } from '../../shared-core/wording/window/desk.ts'
import { commonWords } from '../../shared-core/wording/window/common.ts'
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
import { cutClipHere, keepFrame, removeClip } from '../store/swings.ts'
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
        <h2>{commonWords('lessonGone')}</h2>
        <Action tone="lead" label={commonWords('toRoster')} onPress={() => goTo({ name: 'roster' })} />
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
          {isOver && <div className="drop-veil">{deskWords('dropHere')}</div>}
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
        label={commonWords('roster')}
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
        label={opened?.undoLabel ? deskWords('undo', { edit: opened.undoLabel }) : deskWords('nothingToUndo')}
        keys={keysOf('undo')}
        isDisabled={!opened?.undoLabel}
        onPress={() => void undo()}
      />
      <Action
        tone="plain"
        icon={<Redo2 size={18} />}
        label={opened?.redoLabel ? deskWords('redo', { edit: opened.redoLabel }) : deskWords('nothingToRedo')}
        keys={keysOf('redo')}
        isDisabled={!opened?.redoLabel}
        onPress={() => void redo()}
      />
      <Action
        tone="plain"
        icon={<Columns2 size={18} />}
        label={deskWords('compare')}
        keys={keysOf('compare')}
        isDisabled={!opened || opened.swings.length < 1}
        onPress={() => openDialog({ name: 'compare' })}
      />
      {opened && units && (
        <div className="bar-units">
          <Pick
            hideLabel
            label={deskWords('units')}
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
        label={commonWords('tray')}
        keys={keysOf('tray')}
        isOn={trayOpen}
        onChange={(isOn) => useDesk.setState({ trayOpen: isOn })}
      />
      <Toggle
        tone="plain"
        icon={<PanelRight size={18} />}
        label={commonWords('ledger')}
        keys={keysOf('ledger')}
        isOn={ledgerOpen}
        onChange={(isOn) => useDesk.setState({ ledgerOpen: isOn })}
      />
      <MenuTrigger>
        <Button className="button button-plain button-icon" aria-label={deskWords('more')}>
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
              if (key === 'cut-clip') void cutClipHere()
              if (key === 'remove-clip') void removeClip()
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
              {deskWords('addClips')} <Keys name="add-clips" />
            </MenuItem>
            <MenuItem className="menu-item" id="shots">
              {deskWords('addShots')} <Keys name="add-shots" />
            </MenuItem>
            <MenuItem className="menu-item" id="live" textValue={deskWords('live')}>
              {deskWords('liveMore')} <Keys name="live" />
            </MenuItem>
            <MenuItem className="menu-item" id="bay" textValue={deskWords('bay')}>
              {deskWords('bay')} <Keys name="bay" />
            </MenuItem>
            <MenuItem className="menu-item" id="keep-frame" textValue={deskWords('keepFrame')}>
              {deskWords('keepFrame')} <Keys name="keep-frame" />
            </MenuItem>
            <MenuItem className="menu-item" id="cut-clip" textValue={deskWords('cutClip')}>
              {deskWords('cutClip')} <Keys name="cut-clip" />
            </MenuItem>
            <MenuItem className="menu-item" id="remove-clip">
              {deskWords('removeClip')}
            </MenuItem>
            <MenuItem className="menu-item" id="swishes" textValue={deskWords('swishes')}>
              {deskWords('swishesMore')} <Keys name="swishes" />
            </MenuItem>
            <MenuItem className="menu-item" id="talk">
              {deskWords('talkMore')} <Keys name="talk" />
            </MenuItem>
            <MenuItem className="menu-item" id="pair">
              {deskWords('pairAgain')}
            </MenuItem>
            <MenuItem className="menu-item" id="card">
              {deskWords('studentCard')}
            </MenuItem>
            <MenuItem className="menu-item" id="season">
              {commonWords('season')}
            </MenuItem>
            <MenuItem className="menu-item" id="show" textValue={deskWords('showStudent')}>
              {deskWords('showStudent')} <Keys name="show-student" />
            </MenuItem>
            <MenuItem className="menu-item" id="window">
              {deskWords('secondWindow')}
            </MenuItem>
            <MenuItem className="menu-item" id="keys" textValue={commonWords('keys')}>
              <Keyboard size={15} aria-hidden /> {commonWords('keys')} <Keys name="keys" />
            </MenuItem>
            <MenuItem className="menu-item" id="settings" textValue={commonWords('settings')}>
              <Settings size={15} aria-hidden /> {commonWords('settings')} <Keys name="settings" />
            </MenuItem>
          </Menu>
        </Popover>
      </MenuTrigger>
      <Action
        withLabel
        tone="lead"
        icon={<PackageCheck size={17} />}
        label={deskWords('handOver')}
        onPress={() => goTo({ name: 'hand-over', lessonId })}
      />
    </header>
  )
}

function Keys({ name }: { name: string }) {
  const keys = keysOf(name)
  return keys ? <kbd className="push">{keys}</kbd> : null
}
