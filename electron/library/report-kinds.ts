import { lessonReport, type LessonReport } from '../../shared-core/report/lesson-report.ts'
import type { ReportInput } from '../../shared-core/report/report-input.ts'
import { seasonView, type SeasonInput, type SeasonView } from '../../shared-core/report/season-view.ts'
import { whatWorks, type WhatWorks, type WhatWorksInput } from '../../shared-core/students/what-works.ts'

/** What the report thread can compute; a new kind of report is a line in each of the three. */
export interface ReportInputs {
  lesson: ReportInput
  season: SeasonInput
  works: WhatWorksInput
}
export interface ReportOutputs {
  lesson: LessonReport
  season: SeasonView
  works: WhatWorks
}
export type ReportKind = keyof ReportInputs

const kinds: { [K in ReportKind]: (input: ReportInputs[K]) => ReportOutputs[K] } = {
  lesson: lessonReport,
  season: seasonView,
  works: whatWorks,
}

export const computeReport = <K extends ReportKind>(kind: K, input: ReportInputs[K]): ReportOutputs[K] =>
  kinds[kind](input)
