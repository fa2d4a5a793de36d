import type { OpenLesson } from '../../../shared-core/model/entities.ts'
import type { LessonReport } from '../../../shared-core/report/lesson-report.ts'
import { lessonSentence } from '../../../shared-core/report/lesson-sentence.ts'
import { ledgerWords } from '../../../shared-core/wording/window/ledger.ts'
import { Action } from '../../parts/Action.tsx'
import { NoteField } from '../../parts/NoteField.tsx'
import { SavedText } from '../../parts/SavedText.tsx'
import { edit } from '../../store/desk-store.ts'
import { ComparisonTable, CueDifferences } from './ComparisonTable.tsx'
import { CuesByBlock } from './CuesByBlock.tsx'
import { FindingsOf } from './Findings.tsx'
import { LessonPicture } from './LessonPicture.tsx'
import { MeasuresByBlock } from './MeasuresByBlock.tsx'
import { MicrophoneField } from './MicrophoneField.tsx'
import { useReport } from './use-report.ts'

/** What the lesson says: one sentence, one picture, one table; the rest folded. */
export function LessonFace({ opened }: { opened: OpenLesson }) {
  const report = useReport()
  return (
    <>
      <section className="ledger-part" aria-label={ledgerWords('lessonSays')}>
        {opened.shots.length === 0 ? (
          <p className="fine soft">{ledgerWords('findingsNeedShots')}</p>
        ) : report === null ? (
          <p className="fine soft">{ledgerWords('computing')}</p>
        ) : 'failed' in report ? (
          <p className="fine soft">{ledgerWords('findingsFailed', { why: report.failed })}</p>
        ) : (
          <Says opened={opened} report={report} />
        )}
      </section>
      <CuesByBlock opened={opened} />
      {report !== null && !('failed' in report) && <CueDifferences report={report} />}
      <MeasuresByBlock units={opened.student.units} />
      <LessonCard opened={opened} />
    </>
  )
}

function Says({ opened, report }: { opened: OpenLesson; report: LessonReport }) {
  const sentence = lessonSentence(report)
  return (
    <>
      {sentence && <p className="lesson-sentence">{sentence}</p>}
      <LessonPicture opened={opened} report={report} finding={sentence} />
      <ComparisonTable report={report} />
      <RestsOn opened={opened} notes={report.readingNotes} />
      {report.findings.length > 0 && (
        <details className="ledger-fold">
          <summary>{ledgerWords('findings')}</summary>
          <FindingsOf findings={report.findings} />
        </details>
      )}
    </>
  )
}

/** What the numbers rest on: units nobody has confirmed, values that took no part. */
function RestsOn({ opened, notes }: { opened: OpenLesson; notes: readonly string[] }) {
  if (notes.length === 0) return null
  return (
    <div className="note-box note-box-ask fine">
      {notes.map((note) => (
        <div key={note}>{note}</div>
      ))}
      {opened.shots.some((s) => s.assumed.length > 0) && (
        <Action
          small
          label={ledgerWords('unitsAreRight')}
          onPress={() => void edit('shots.confirmUnits', { lessonId: opened.lesson.id })}
        />
      )}
    </div>
  )
}

/** What the coach wrote of the lesson, and what is set for it. */
function LessonCard({ opened }: { opened: OpenLesson }) {
  const { lesson } = opened
  return (
    <section className="ledger-part" aria-label={ledgerWords('lesson')}>
      {opened.student.limits && (
        <p className="note-box note-box-ask fine">
          <b>{ledgerWords('limits')}</b> {opened.student.limits}
        </p>
      )}
      <NoteField
        key={`note-${lesson.id}`}
        lines={3}
        label={ledgerWords('notesOnLesson')}
        value={lesson.note}
        onSave={(note, noteBefore) =>
          void edit('lesson.update', { id: lesson.id, patch: { note }, noteBefore })
        }
      />
      <SavedText
        key={`next-${lesson.id}`}
        lines={2}
        label={ledgerWords('focusNext')}
        value={lesson.nextFocus}
        onSave={(nextFocus) => void edit('lesson.update', { id: lesson.id, patch: { nextFocus } })}
      />
      <details className="ledger-fold">
        <summary>{ledgerWords('details')}</summary>
        <SavedText
          key={`title-${lesson.id}`}
          label={ledgerWords('title')}
          value={lesson.title}
          onSave={(title) => void edit('lesson.update', { id: lesson.id, patch: { title } })}
        />
        <MicrophoneField opened={opened} />
        {opened.clock && (
          <p className="fine soft">
            {ledgerWords(opened.clock.offsetSeconds >= 0 ? 'clocksAhead' : 'clocksBehind', {
              seconds: Math.abs(opened.clock.offsetSeconds).toFixed(0),
              drift:
                Math.abs(opened.clock.driftPpm) >= 1
                  ? ledgerWords('clocksDrift', { drift: opened.clock.driftPpm.toFixed(0) })
                  : '',
              spread: opened.clock.residualSdSeconds.toFixed(1),
            })}
          </p>
        )}
      </details>
    </section>
  )
}
