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
        <summary>How do we know</summary>
        <dl>
          <dt>Data</dt>
          <dd>{finding.howWeKnow.data}</dd>
          <dt>Method</dt>
          <dd>{finding.howWeKnow.method}</dd>
          <dt>Source</dt>
          <dd>{finding.howWeKnow.source}</dd>
        </dl>
      </details>
    </div>
  )
}
