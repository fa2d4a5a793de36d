import { RotateCcw } from 'lucide-react'
import { useMemo, useState } from 'react'
import type { OpenLesson } from '../../shared-core/model/entities.ts'
import { inStudentWords } from '../../shared-core/report/student-words.ts'
import { languageCaution } from '../../shared-core/wording/language.ts'
import { sayIn } from '../../shared-core/wording/say.ts'
import { Action } from '../parts/Action.tsx'
import { Check } from '../parts/Check.tsx'
import { changeDraft, useComposer } from './composer-store.ts'
import { composedFindings, showFinding, wordFinding, type ComposedFinding } from './draft-edits.ts'
import { Part } from './Part.tsx'
import { Words } from './Words.tsx'

/** What the numbers say: shown or not, in the tool's words or the coach's. */
export function FindingsPart({ lesson }: { lesson: OpenLesson }) {
  const draft = useComposer((s) => s.draft)!
  const report = useComposer((s) => s.report)
  const [showsAll, setShowsAll] = useState(false)
  const failed = report && 'failed' in report ? report.failed : null
  const { language } = lesson.student
  const said = useMemo(
    () => (report && !('failed' in report) ? inStudentWords(report, sayIn(language)).findings : []),
    [report, language],
  )
  const findings = composedFindings(draft, said)
  const caution = languageCaution(language)
  const first = findings.filter((f) => f.isShown || f.finding.isMain || f.isOwnWords)
  const shown = showsAll ? findings : first
  return (
    <Part
      id="findings"
      title="Findings"
      side={
        findings.length > first.length ? (
          <Action
            small
            tone="plain"
            label={showsAll ? 'Only the main ones' : `Show ${findings.length - first.length} more`}
            onPress={() => setShowsAll(!showsAll)}
          />
        ) : null
      }
    >
      {failed !== null && <p className="note-box note-box-ask">The findings can’t be computed: {failed}</p>}
      {caution !== null && <p className="note-box note-box-ask">{caution}</p>}
      {report === null && <p className="soft">The findings are being computed…</p>}
      {report !== null && failed === null && findings.length === 0 && (
        <p className="soft">
          Findings come from shot records. Add them on the Desk, or say in your message what you saw.
        </p>
      )}
      <ul className="composer-list">
        {shown.map((composed, index) => (
          <li key={composed.finding.key} className="composer-card">
            <FindingEntry composed={composed} number={index + 1} />
          </li>
        ))}
      </ul>
    </Part>
  )
}

function FindingEntry({ composed, number }: { composed: ComposedFinding; number: number }) {
  const { finding, isShown, sentence, isOwnWords } = composed
  // While the coach types, the field may be empty; what is kept then is the tool's sentence.
  const [typed, setTyped] = useState<string | null>(null)
  return (
    <div className={`finding-entry${isShown ? '' : ' is-left-out-of-it'}`}>
      <Check isOn={isShown} onChange={(on) => changeDraft((d) => showFinding(d, finding, on))}>
        <span className="unseen">In the hand-over: {finding.sentence}</span>
      </Check>
      <div className="finding-words">
        <Words
          hideLabel
          quiet
          lines={1}
          label={`Sentence of finding ${number}`}
          maxLength={2000}
          value={typed ?? sentence}
          onChange={(text) => {
            setTyped(text)
            changeDraft((d) => wordFinding(d, finding, text))
          }}
          onLeave={() => setTyped(null)}
        />
        <div className="finding-foot">
          <span className="soft fine">
            {isShown ? '' : 'Left out. '}How sure: {finding.howSure}
          </span>
          {isOwnWords && (
            <span className="row push">
              <span className="badge badge-lead">your words</span>
              <Action
                small
                withLabel
                icon={<RotateCcw size={14} />}
                label="Back to the tool’s words"
                onPress={() => {
                  setTyped(null)
                  changeDraft((d) => wordFinding(d, finding, ''))
                }}
              />
            </span>
          )}
        </div>
        {isOwnWords && <p className="soft fine finding-sure-line">The tool says: {finding.sentence}</p>}
        {finding.caution && isShown && (
          <p className="fine finding-sure-line">Its caution goes with it: {finding.caution}</p>
        )}
      </div>
    </div>
  )
}
