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
import { handOverWords } from '../../shared-core/wording/window/hand-over.ts'

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
      title={handOverWords('findings')}
      side={
        findings.length > first.length ? (
          <Action
            small
            tone="plain"
            label={
              showsAll
                ? handOverWords('onlyMainOnes')
                : handOverWords('showMore', { findings: findings.length - first.length })
            }
            onPress={() => setShowsAll(!showsAll)}
          />
        ) : null
      }
    >
      {failed !== null && (
        <p className="note-box note-box-ask">{handOverWords('findingsFailed', { failed })}</p>
      )}
      {caution !== null && <p className="note-box note-box-ask">{caution}</p>}
      {report === null && <p className="soft">{handOverWords('findingsComing')}</p>}
      {report !== null && failed === null && findings.length === 0 && (
        <p className="soft">{handOverWords('noFindings')}</p>
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
        <span className="unseen">{handOverWords('findingIn', { sentence: finding.sentence })}</span>
      </Check>
      <div className="finding-words">
        <Words
          hideLabel
          quiet
          lines={1}
          label={handOverWords('sentenceOf', { number })}
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
            {isShown ? '' : handOverWords('leftOut')}
            {handOverWords('howSure', { howSure: finding.howSure })}
          </span>
          {isOwnWords && (
            <span className="row push">
              <span className="badge badge-lead">{handOverWords('yourWords')}</span>
              <Action
                small
                withLabel
                icon={<RotateCcw size={14} />}
                label={handOverWords('backToToolsWords')}
                onPress={() => {
                  setTyped(null)
                  changeDraft((d) => wordFinding(d, finding, ''))
                }}
              />
            </span>
          )}
        </div>
        {isOwnWords && (
          <p className="soft fine finding-sure-line">
            {handOverWords('toolSays', { sentence: finding.sentence })}
          </p>
        )}
        {finding.caution && isShown && (
          <p className="fine finding-sure-line">
            {handOverWords('cautionGoesWithIt', { caution: finding.caution })}
          </p>
        )}
      </div>
    </div>
  )
}
