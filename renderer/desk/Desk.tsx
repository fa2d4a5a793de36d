import {
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
import { useEffect, useRef, useState, type ReactNode } from 'react'
import { Button, Menu, MenuItem, MenuTrigger, Popover } from 'react-aria-components'
import { deskWords } from '../../shared-core/wording/window/desk.ts'
import { commonWords } from '../../shared-core/wording/window/common.ts'
import { dateText } from '../roster/LessonRow.tsx'
import { unitOptions } from '../roster/StudentDialog.tsx'
import { commandWords, type CommandName } from '../../shared-core/wording/window/keys.ts'
import { commandNamed } from '../keys/commands.ts'
import { keysOf } from '../keys/handle-keys.ts'
import { Action, Toggle } from '../parts/Action.tsx'
import { BackToRoster } from '../parts/BackToRoster.tsx'
import { LessonGone } from '../parts/LessonGone.tsx'
import { Pick } from '../parts/Pick.tsx'
import { bridge } from '../store/bridge.ts'
import { goTo, openDialog, useApp } from '../store/app-store.ts'
import { addDropped, addPasted } from '../store/adding.ts'
import { edit, expectView, redo, reload, undo, useDesk } from '../store/desk-store.ts'
import { followArriving } from '../store/arriving.ts'
import { telling } from '../store/messages.ts'
import { removeClip } from '../store/swings.ts'
import { LastPlanAsk } from '../hand-over/LastPlanAsk.tsx'
import { ShowStudent } from './ShowStudent.tsx'
import { Ledger } from './ledger/Ledger.tsx'
import { Stage } from './stage/Stage.tsx'
import { TalkBar } from '../talk/TalkBar.tsx'
import { Tray } from './tray/Tray.tsx'
import { useOpenedLesson } from './use-opened-lesson.ts'
import './desk.css'

/** One lesson: Tray, Stage with its Strip, Ledger. */
export function Desk({ lessonId }: { lessonId: string }) {
  const opened = useDesk((s) => (s.lessonId === lessonId ? s.opened : null))
  const isGone = useDesk((s) => s.isGone)
  const trayOpen = useDesk((s) => s.trayOpen)
  const ledgerOpen = useDesk((s) => s.ledgerOpen)
  const isShowing = useDesk((s) => s.isShowing)
  const [isOver, setOver] = useState(false)
  useOpenedLesson(lessonId)
  useEffect(() => followArriving(lessonId), [lessonId])
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

  if (isGone) return <LessonGone />
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
  const studentId = opened?.student.id
  /** What the menu offers of this lesson beside the commands. */
  const ofLesson: Record<string, () => void> = {
    'remove-clip': () => void removeClip(),
    'pair-again': () => void edit('pair.run', { lessonId }),
    card: () => studentId && openDialog({ name: 'student', studentId }),
    season: () => studentId && goTo({ name: 'season', studentId }),
    window: () => void bridge().openWindow(lessonId),
  }
  return (
    <header className="bar">
      <BackToRoster keys={keysOf('roster')} />
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
          <Menu onAction={(key) => (ofLesson[key] ?? commandNamed(String(key)).run)()}>
            <CommandItem name="add-clips" label={deskWords('addClips')} />
            <CommandItem name="add-shots" label={deskWords('addShots')} />
            <CommandItem name="live" label={deskWords('liveMore')} />
            <CommandItem name="bay" />
            <CommandItem name="keep-frame" />
            <CommandItem name="cut-clip" />
            <MenuItem className="menu-item" id="remove-clip">
              {deskWords('removeClip')}
            </MenuItem>
            <CommandItem name="swishes" label={deskWords('swishesMore')} />
            <CommandItem name="talk" label={deskWords('talkMore')} />
            <MenuItem className="menu-item" id="pair-again">
              {deskWords('pairAgain')}
            </MenuItem>
            <MenuItem className="menu-item" id="card">
              {deskWords('studentCard')}
            </MenuItem>
            <MenuItem className="menu-item" id="season">
              {commonWords('season')}
            </MenuItem>
            <CommandItem name="show-student" label={deskWords('showStudent')} />
            <MenuItem className="menu-item" id="window">
              {deskWords('secondWindow')}
            </MenuItem>
            <CommandItem name="keys" label={commonWords('keys')} icon={<Keyboard size={15} aria-hidden />} />
            <CommandItem
              name="settings"
              label={commonWords('settings')}
              icon={<Settings size={15} aria-hidden />}
            />
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

/** A command in the menu, with its key; under its own name, or another where it leads on or is said differently here. */
function CommandItem(props: { name: CommandName; label?: string; icon?: ReactNode }) {
  const { name, label = commandWords(name), icon } = props
  const keys = keysOf(name)
  return (
    <MenuItem className="menu-item" id={name} textValue={label}>
      {icon} {label} {keys && <kbd className="push">{keys}</kbd>}
    </MenuItem>
  )
}
