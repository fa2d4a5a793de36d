import { ArrowLeft, CircleAlert, LoaderCircle, PackageCheck, SlidersHorizontal } from 'lucide-react'
import { useEffect, useState } from 'react'
import type { OpenLesson } from '../../shared-core/model/entities.ts'
import { dateText } from '../roster/LessonRow.tsx'
import { Action } from '../parts/Action.tsx'
import { Choice } from '../parts/Choice.tsx'
import { LessonGone } from '../parts/LessonGone.tsx'
import { goTo, openDialog, useApp } from '../store/app-store.ts'
import { followLesson, openLesson, useDesk } from '../store/desk-store.ts'
import { AddSwings } from './AddSwings.tsx'
import { ComparisonsPart } from './ComparisonsPart.tsx'
import {
  leaveComposer,
  openComposer,
  previewSoon,
  reloadReport,
  saveNow,
  useComposer,
  worstSave,
} from './composer-store.ts'
import { composedFindings } from './draft-edits.ts'
import { DrillEditor } from './DrillEditor.tsx'
import { DrillPicker } from './DrillPicker.tsx'
import { FindingsPart } from './FindingsPart.tsx'
import { LastPlan } from './LastPlan.tsx'
import { LoadingAlert } from './LoadingAlert.tsx'
import { ManageTemplates } from './ManageTemplates.tsx'
import { MessagePart } from './MessagePart.tsx'
import { NextPart } from './NextPart.tsx'
import { OptionsPart } from './OptionsPart.tsx'
import { PhonePreview } from './PhonePreview.tsx'
import { PlanPart } from './PlanPart.tsx'
import { SwingsPart } from './SwingsPart.tsx'
import { TalksPart } from './TalksPart.tsx'
import { ApplyTemplate, SaveTemplate, TemplateMenu } from './Templates.tsx'
import { writeNow } from './write-now.ts'
import { WrittenPart } from './WrittenPart.tsx'
import { capital } from '../parts/capital.ts'
import { commonWords } from '../../shared-core/wording/window/common.ts'
import { handOverWords } from '../../shared-core/wording/window/hand-over.ts'
import './hand-over.css'

type Side = 'parts' | 'phone'

/** The composer: what goes into the package on the left, the student's page beside it. */
export function HandOver({ lessonId }: { lessonId: string }) {
  const opened = useDesk((s) => (s.lessonId === lessonId ? s.opened : null))
  const isGone = useDesk((s) => s.lessonId === lessonId && s.isGone)
  const isReady = useComposer((s) => s.lessonId === lessonId && s.draft !== null && s.plan !== null)
  const [side, setSide] = useState<Side>('parts')
  useEffect(() => {
    void openLesson(lessonId)
    void openComposer(lessonId)
    const stopFollowing = followLesson()
    // A window that closes or is put away keeps the last key typed.
    const keep = () => void saveNow()
    addEventListener('pagehide', keep)
    document.addEventListener('visibilitychange', keep)
    return () => {
      stopFollowing()
      removeEventListener('pagehide', keep)
      document.removeEventListener('visibilitychange', keep)
      leaveComposer()
    }
  }, [lessonId])
  const revision = opened?.revision
  useEffect(() => {
    // What changed on the Desk, in another window or on the student's card shows in the preview, too.
    const { preview, report } = useComposer.getState()
    if (revision === undefined) return
    if (preview.html !== null) previewSoon()
    if (report !== null) void reloadReport(lessonId)
  }, [lessonId, revision])

  if (isGone) return <LessonGone />
  return (
    <>
      <ComposerBar lessonId={lessonId} opened={opened} isReady={isReady} side={side} setSide={setSide} />
      {opened && isReady ? (
        <main className={`composer shows-${side}`}>
          <div className="composer-column">
            <PartsNav opened={opened} />
            <div className="composer-parts">
              <ConsentNote opened={opened} />
              <CoverNote />
              <LastPlan lesson={opened} />
              <MessagePart lesson={opened} />
              <SwingsPart lesson={opened} />
              <ComparisonsPart lesson={opened} />
              <FindingsPart lesson={opened} />
              <TalksPart lessonId={lessonId} />
              <PlanPart lesson={opened} />
              <NextPart lesson={opened} />
              <OptionsPart />
              <WrittenPart lessonId={lessonId} />
            </div>
          </div>
          <PhonePreview />
          <ComposerDialogs lesson={opened} />
        </main>
      ) : (
        <main className="empty" aria-busy="true">
          <p className="soft">{handOverWords('opening')}</p>
        </main>
      )}
    </>
  )
}

function ComposerBar(props: {
  lessonId: string
  opened: OpenLesson | null
  isReady: boolean
  side: Side
  setSide: (side: Side) => void
}) {
  const { lessonId, opened, isReady, side, setSide } = props
  const openChoices = async () => {
    if (await saveNow()) openDialog({ name: 'write-hand-over', lessonId })
  }
  return (
    <header className="bar composer-bar">
      <Action
        tone="plain"
        icon={<ArrowLeft size={18} />}
        label={handOverWords('backToDesk')}
        onPress={() => goTo({ name: 'desk', lessonId })}
      />
      <h1>{handOverWords('handOver')}</h1>
      {opened && (
        <span className="bar-sub">
          {opened.student.name} · {dateText(opened.lesson.date)}
          {opened.lesson.title && ` · ${opened.lesson.title}`}
        </span>
      )}
      <span className="push" />
      <WritingState lessonId={lessonId} />
      <SavedState />
      <div className="side-choice">
        <Choice
          label={handOverWords('whatIsShown')}
          value={side}
          options={[
            { value: 'parts', label: handOverWords('compose') },
            { value: 'phone', label: handOverWords('phone') },
          ]}
          onChange={setSide}
        />
      </div>
      {isReady && <TemplateMenu />}
      <Action
        withLabel
        tone="lead"
        icon={<PackageCheck size={17} />}
        label={commonWords('writeHandOver')}
        isDisabled={!isReady}
        onPress={() => void writeNow(lessonId)}
      />
      <Action
        icon={<SlidersHorizontal size={17} />}
        label={handOverWords('whereTo')}
        isDisabled={!isReady}
        onPress={() => void openChoices()}
      />
    </header>
  )
}

/** What is being written now, and how large it has become. */
function WritingState({ lessonId }: { lessonId: string }) {
  const job = useApp((s) =>
    s.jobs.find((j) => j.kind === 'hand-over' && j.lessonId === lessonId && j.state === 'running'),
  )
  if (!job) return null
  const size = job.step.match(/[\d.]+ [kM]B/g)?.at(-1)
  return (
    <span className="fine saved-state writing-state" role="status">
      <LoaderCircle size={14} className="turning" aria-hidden /> {Math.round(job.progress * 100)} %
      {size !== undefined && <span>{handOverWords('soFar', { size })}</span>}
    </span>
  )
}

function SavedState() {
  const state = useComposer((s) => worstSave(s.saves))
  if (state === 'failed') {
    return (
      <span className="row saved-state" role="alert">
        <CircleAlert size={15} aria-hidden /> {handOverWords('notSaved')}
        <Action small label={handOverWords('saveAgain')} onPress={() => void saveNow()} />
      </span>
    )
  }
  return (
    <span className="soft fine saved-state" role="status">
      {state === 'saved' ? handOverWords('saved') : handOverWords('saving')}
    </span>
  )
}

/** Where is what, and how much of it goes in. */
function PartsNav({ opened }: { opened: OpenLesson }) {
  const draft = useComposer((s) => s.draft)!
  const items = useComposer((s) => s.plan!.items.length)
  const written = useComposer((s) => s.written.length)
  const hasLast = useComposer((s) => s.previous !== null)
  const report = useComposer((s) => s.report)
  const findings = composedFindings(draft, report && 'findings' in report ? report.findings : []).filter(
    (f) => f.isShown,
  ).length
  const kept = draft.comparisonIds.filter((id) => opened.comparisons.some((c) => c.id === id)).length
  const parts: [string, string, number | null][] = [
    ...(hasLast ? ([['last-plan', handOverWords('lastPlan'), null]] as [string, string, null][]) : []),
    ['message', handOverWords('message'), null],
    ['swings', handOverWords('swings'), draft.swings.length],
    ['comparisons', commonWords('beforeAndAfter'), kept],
    ['findings', handOverWords('findings'), findings],
    ['talks', handOverWords('talkthroughs'), draft.talkThroughIds.length],
    ['plan', handOverWords('practice'), items],
    ['next', handOverWords('next'), null],
    ['look', handOverWords('look'), null],
    ['written', handOverWords('written'), written],
  ]
  const show = (id: string) => {
    const part = document.getElementById(`part-${id}`)
    document.querySelector('.composer-parts')?.scrollTo({ top: part?.offsetTop ?? 0 })
    document.getElementById(`part-${id}-title`)?.focus({ preventScroll: true })
  }
  return (
    <nav className="parts-nav" aria-label={handOverWords('partsOf')}>
      {parts.map(([id, name, count]) => (
        <button key={id} type="button" onClick={() => show(id)}>
          {name}
          {count !== null && <span className="parts-count">{count}</span>}
        </button>
      ))}
    </nav>
  )
}

function ConsentNote({ opened }: { opened: OpenLesson }) {
  const needsConsent = useComposer((s) => s.preview.needsConsent)
  if (!needsConsent) return null
  return (
    <div className="note-box note-box-ask row row-wrap composer-consent">
      <span>{handOverWords('needsConsent', { needsConsent: capital(needsConsent) })}</span>
      <Action
        small
        label={handOverWords('studentsCard')}
        onPress={() => openDialog({ name: 'student', studentId: opened.student.id })}
      />
    </div>
  )
}

/** Covers hide what they lie on and nothing else: how many frames go out without one is said before they do. */
function CoverNote() {
  const covers = useComposer((s) => s.preview.covers)
  if (!covers) return null
  return (
    <div
      className={`note-box ${covers.uncovered > covers.empty ? 'note-box-ask' : ''} composer-covers`}
      role="status"
    >
      {covers.sentence}
    </div>
  )
}

function ComposerDialogs({ lesson }: { lesson: OpenLesson }) {
  const dialog = useComposer((s) => s.dialog)
  const other = useApp((s) => s.dialog)
  if (other) return null
  switch (dialog?.name) {
    case 'add-swings':
      return <AddSwings lesson={lesson} />
    case 'drills':
      return <DrillPicker lesson={lesson} />
    case 'drill':
      return <DrillEditor drill={dialog.drill} />
    case 'loading':
      return <LoadingAlert items={dialog.items} index={dialog.index} student={lesson.student} />
    case 'template':
      return <ApplyTemplate template={dialog.template} />
    case 'save-template':
      return <SaveTemplate />
    case 'templates':
      return <ManageTemplates />
    default:
      return null
  }
}
