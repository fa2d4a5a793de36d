import { useState } from 'react'
import type { LessonReport } from '../../../shared-core/report/lesson-report.ts'
import { Action } from '../../parts/Action.tsx'
import { FindingText } from '../../parts/FindingText.tsx'
import { useDesk } from '../../store/desk-store.ts'

/** What the numbers of the lesson say, in sentences, each with how sure it is and what it rests on. */
export function Findings() {
  const report = useDesk((s) => s.report) as LessonReport | { failed: string } | null
  const [showsAll, setShowsAll] = useState(false)
  if (report === null) {
    return <p className="fine soft">Findings stand here once the lesson has shots.</p>
  }
  if ('failed' in report) return <p className="fine soft">The findings can’t be computed: {report.failed}</p>
  if (report.findings.length === 0) {
    return <p className="fine soft">Findings come from shot records: add the device’s file in the Tray.</p>
  }
  const main = report.findings.filter((f) => f.isMain)
  const shown = showsAll ? report.findings : main.length > 0 ? main : report.findings.slice(0, 3)
  const rest = report.findings.length - shown.length
  return (
    <div className="ledger-findings">
      {shown.map((finding) => (
        <FindingText key={finding.key} finding={finding} />
      ))}
      {(rest > 0 || showsAll) && (
        <Action
          small
          tone="plain"
          label={showsAll ? 'Only the main findings' : `${rest} more`}
          onPress={() => setShowsAll(!showsAll)}
        />
      )}
    </div>
  )
}
