import { useMemo, useSyncExternalStore } from 'react'
import type { OpenLesson } from '../../shared-core/model/entities.ts'
import type { LessonReport } from '../../shared-core/report/lesson-report.ts'
import { betterBlock } from '../../shared-core/report/lesson-sentence.ts'
import { studentText } from '../../shared-core/report/student-words.ts'
import { sayIn, type Say } from '../../shared-core/wording/say.ts'
import { deskWords } from '../../shared-core/wording/window/desk.ts'
import { keysOf } from '../keys/handle-keys.ts'
import { Action } from '../parts/Action.tsx'
import { showStudent } from '../store/desk-store.ts'
import { LessonPicture } from './ledger/LessonPicture.tsx'
import { useSoundReport } from './ledger/use-report.ts'
import './show-student.css'

/** Read from two metres (24 px and more, common practice: a screen is read at about arm's length at 12). */
const textPx = 24

/** What is said first: which block was better, else what holds back; in the student's words. */
const sentenceOf = (report: LessonReport, say: Say): string | null => {
  const best = betterBlock(report)
  const finding =
    report.findings.find((f) => f.topic === 'change' && f.isSure && f.key.split(':')[1] === best) ??
    report.findings.find((f) => f.topic === 'holding-back')
  return finding ? studentText(finding, report, say).sentence : null
}

/** What stands above and below the chart beside the pictures, and in a narrow window, where they are above it. */
const [besidePx, belowPx] = [420, 480]

const chartHeightNow = (): number =>
  innerWidth > 1100
    ? Math.max(300, Math.min(720, innerHeight - besidePx))
    : Math.max(210, innerHeight - belowPx)

const onResize = (tell: () => void) => {
  addEventListener('resize', tell)
  return () => removeEventListener('resize', tell)
}

/** Beside the pictures on the Stage, for the student who stands there: one sentence, one picture, nothing private. */
export function ShowStudent({ opened }: { opened: OpenLesson }) {
  const report = useSoundReport()
  const sentence = useMemo(
    () => report && sentenceOf(report, sayIn(opened.student.language)),
    [report, opened.student.language],
  )
  const chartHeightPx = useSyncExternalStore(onResize, chartHeightNow)
  return (
    <aside className="show-panel" aria-label={deskWords('forStudent')}>
      <p className="show-sentence">{sentence ?? deskWords('noNumbersYet')}</p>
      {report && (
        <LessonPicture
          opened={opened}
          report={report}
          finding={sentence}
          heightPx={chartHeightPx}
          textPx={textPx}
        />
      )}
      <div className="show-foot">
        <Action
          label={deskWords('backToDesk')}
          keys={keysOf('show-student')}
          onPress={() => showStudent(false)}
        />
      </div>
    </aside>
  )
}
