import { useState } from 'react'
import type { KeyedFinding } from '../../../shared-core/report/lesson-report.ts'
import { ledgerWords } from '../../../shared-core/wording/window/ledger.ts'
import { Action } from '../../parts/Action.tsx'
import { FindingText } from '../../parts/FindingText.tsx'

/** What the numbers say, in sentences, each with how sure it is and what it rests on; the main ones first. */
export function FindingsOf({ findings }: { findings: readonly KeyedFinding[] }) {
  const [showsAll, setShowsAll] = useState(false)
  const main = findings.filter((f) => f.isMain)
  const shown = showsAll ? findings : main.length > 0 ? main : findings.slice(0, 3)
  const rest = findings.length - shown.length
  return (
    <div className="ledger-findings">
      {shown.map((finding) => (
        <FindingText key={finding.key} finding={finding} />
      ))}
      {(rest > 0 || (showsAll && main.length < findings.length)) && (
        <Action
          small
          tone="plain"
          label={showsAll ? ledgerWords('mainFindings') : ledgerWords('moreFindings', { count: rest })}
          onPress={() => setShowsAll(!showsAll)}
        />
      )}
    </div>
  )
}
