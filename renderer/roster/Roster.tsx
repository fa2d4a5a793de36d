import {
  CirclePlay,
  FileInput,
  Keyboard,
  Plus,
  Settings,
  ShieldAlert,
  TrendingUp,
  UserRound,
  Users,
} from 'lucide-react'
import { startTransition, useEffect, useState } from 'react'
import type { RosterEntry } from '../../shared-core/model/hand-over.ts'
import { Mark } from '../parts/Mark.tsx'
import { nodes } from '../parts/nodes.tsx'
import { keysOf } from '../keys/handle-keys.ts'
import { Action } from '../parts/Action.tsx'
import { ask, bridge } from '../store/bridge.ts'
import { telling } from '../store/messages.ts'
import { goTo, loadDemo, openDialog, useApp } from '../store/app-store.ts'
import { ExchangeJobs } from './ExchangeJobs.tsx'
import { LessonRow } from './LessonRow.tsx'
import { commonWords } from '../../shared-core/wording/window/common.ts'
import { rosterWords } from '../../shared-core/wording/window/roster.ts'
import './roster.css'

/** Students and their lessons: where a day's work begins. */
export function Roster() {
  const roster = useApp((s) => s.roster)
  const shown = useFirstScreenFirst(roster)
  const demoJob = useApp((s) => s.jobs.find((j) => j.kind === 'demo' && /waiting|running/.test(j.state)))
  const failedDemo = useApp((s) => s.jobs.findLast((j) => j.kind === 'demo' && j.state === 'failed'))
  const demoOffered = useApp((s) => s.info?.demoOffered ?? false)
  return (
    <>
      <header className="bar">
        <Mark />
        <h1>{rosterWords('leadside')}</h1>
        <span className="push" />
        {demoOffered && roster !== null && roster.length > 0 && !demoJob && (
          <Action
            withLabel
            tone="plain"
            icon={<CirclePlay size={16} />}
            label={rosterWords('demoLesson')}
            onPress={() => void loadDemo()}
          />
        )}
        {roster !== null && roster.length > 1 && (
          <Action
            withLabel
            tone="plain"
            icon={<Users size={16} />}
            label={commonWords('whatWorks')}
            onPress={() => goTo({ name: 'works' })}
          />
        )}
        {roster !== null && roster.length > 0 && <TakeAction />}
        <Action
          withLabel
          tone="lead"
          icon={<Plus size={16} />}
          label={rosterWords('student')}
          onPress={() => openDialog({ name: 'student', studentId: null })}
        />
        <Action
          tone="plain"
          icon={<Keyboard size={18} />}
          label={commonWords('keys')}
          keys={keysOf('keys')}
          onPress={() => openDialog({ name: 'keys' })}
        />
        <Action
          tone="plain"
          icon={<Settings size={18} />}
          label={commonWords('settings')}
          keys={keysOf('settings')}
          onPress={() => openDialog({ name: 'settings' })}
        />
      </header>
      <main className="roster">
        <BackupNag />
        <ExchangeJobs />
        {demoJob && (
          <div className="roster-job" role="status">
            <div className="row">
              <span>{demoJob.label}</span>
              <span className="soft">{demoJob.step}</span>
            </div>
            <div className="progress">
              <div style={{ width: `${demoJob.progress * 100}%` }} />
            </div>
          </div>
        )}
        {!demoJob && failedDemo?.problem && (
          <p className="note-box note-box-ask">
            {rosterWords('demoFailed', {
              what: failedDemo.problem.what,
              toDo: failedDemo.problem.toDo ?? '',
            })}
          </p>
        )}
        {roster?.length === 0 && !demoJob && <FirstRun />}
        {shown?.map((student) => (
          <StudentCard key={student.id} student={student} />
        ))}
      </main>
    </>
  )
}

/** Chooses a lesson file to take in. */
function TakeAction() {
  const take = async () => {
    const [file] = await bridge().pickFiles('lesson')
    if (file) openDialog({ name: 'take-lessons', file })
  }
  return (
    <Action
      withLabel
      tone="plain"
      icon={<FileInput size={16} />}
      label={rosterWords('fromColleague')}
      onPress={() => void take()}
    />
  )
}

/** After two weeks without a backup. */
function BackupNag() {
  const [isOverdue, setOverdue] = useState(false)
  const backups = useApp((s) => s.jobs.filter((j) => j.kind === 'backup' && j.state === 'done').length)
  useEffect(() => {
    void telling(ask('backup.state', {})).then((state) => state && setOverdue(state.isOverdue))
  }, [backups])
  if (!isOverdue) return null
  return (
    <p className="note-box note-box-ask row row-wrap">
      <span>{rosterWords('noBackup')}</span>
      <span className="push" />
      <Action small label={rosterWords('backUp')} onPress={() => openDialog({ name: 'keeping' })} />
    </p>
  )
}

/** Students that fill a screen. */
const firstStudents = 8

/** The first screen of students at once, the others right after it, without holding up a press. */
const useFirstScreenFirst = (roster: RosterEntry[] | null) => {
  const [isWhole, setWhole] = useState(false)
  const isLoaded = roster !== null
  useEffect(() => {
    if (isLoaded) startTransition(() => setWhole(true))
  }, [isLoaded])
  return isWhole ? roster : roster?.slice(0, firstStudents)
}

function FirstRun() {
  return (
    <section className="first-run">
      <h2>{rosterWords('firstTitle')}</h2>
      <p className="soft">{rosterWords('firstWords')}</p>
      <ol className="first-steps">
        <li>{nodes(rosterWords, 'firstAdd', { add: <b>{rosterWords('add')}</b> })}</li>
        <li>{nodes(rosterWords, 'firstMark', { mark: <b>{rosterWords('mark')}</b> })}</li>
        <li>{nodes(rosterWords, 'firstHandOver', { handOver: <b>{rosterWords('handOver')}</b> })}</li>
      </ol>
      <div className="row row-wrap">
        <Action
          withLabel
          tone="lead"
          icon={<Plus size={16} />}
          label={rosterWords('addStudent')}
          onPress={() => openDialog({ name: 'student', studentId: null })}
        />
        <Action
          withLabel
          icon={<CirclePlay size={16} />}
          label={rosterWords('openDemoLesson')}
          onPress={() => void loadDemo()}
        />
        <TakeAction />
      </div>
    </section>
  )
}

function StudentCard({ student }: { student: RosterEntry }) {
  const lessons = [...student.lessons].sort((a, b) => b.date.localeCompare(a.date))
  return (
    <section className="student-card" aria-label={student.name}>
      <div className="student-head">
        <h2 className="student-name">{student.name}</h2>
        <span className="soft fine">
          {rosterWords(student.side === 'right' ? 'playsRight' : 'playsLeft')}
        </span>
        {student.isMinor && <span className="badge">{rosterWords('minor')}</span>}
        {student.givenBy !== null && (
          <span className="badge">
            {rosterWords('fromGiver', { giver: student.givenBy || rosterWords('colleague') })}
          </span>
        )}
        {student.consentGap !== null && (
          <span className="badge badge-ask">
            <ShieldAlert size={13} aria-hidden /> {student.consentGap}
          </span>
        )}
        <span className="push" />
        <Action
          small
          withLabel
          tone="plain"
          icon={<UserRound size={15} />}
          label={rosterWords('card')}
          onPress={() => openDialog({ name: 'student', studentId: student.id })}
        />
        {lessons.length > 0 && (
          <Action
            small
            withLabel
            tone="plain"
            icon={<TrendingUp size={15} />}
            label={commonWords('season')}
            onPress={() => goTo({ name: 'season', studentId: student.id })}
          />
        )}
        <Action
          small
          withLabel
          icon={<Plus size={15} />}
          label={commonWords('lesson')}
          onPress={() => openDialog({ name: 'lesson', studentId: student.id })}
        />
      </div>
      {lessons.length === 0 ? (
        <p className="student-empty soft">{rosterWords('noLessonYet')}</p>
      ) : (
        <ul>
          {lessons.map((lesson) => (
            <LessonRow key={lesson.id} lesson={lesson} student={student} />
          ))}
        </ul>
      )}
    </section>
  )
}
