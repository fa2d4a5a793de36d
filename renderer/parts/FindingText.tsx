import { commonWords } from '../../shared-core/wording/window/common.ts'
import { partWords } from '../../shared-core/wording/window/parts.ts'
import './finding.css'

export interface ShownFinding {
  sentence: string
  howSure: string
  isSure: boolean
  caution: string | null
  howWeKnow: { data: string; method: string; source: string }
}

/** A finding in words: the sentence, how sure it is, and how we know on demand. */
export function FindingText({ finding }: { finding: ShownFinding }) {
  return (
    <div className={`finding${finding.isSure ? ' finding-sure' : ''}`}>
      <p>{finding.sentence}</p>
      <p className="soft fine">{finding.howSure}</p>
      {finding.caution && <p className="note-box fine">{finding.caution}</p>}
      <details className="fine">
        <summary>{commonWords('howDoWeKnow')}</summary>
        <dl>
          <dt>{partWords('data')}</dt>
          <dd>{finding.howWeKnow.data}</dd>
          <dt>{partWords('method')}</dt>
          <dd>{finding.howWeKnow.method}</dd>
          <dt>{partWords('source')}</dt>
          <dd>{finding.howWeKnow.source}</dd>
        </dl>
      </details>
    </div>
  )
}
