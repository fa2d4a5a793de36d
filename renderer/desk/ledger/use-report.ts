import type { LessonReport } from '../../../shared-core/report/lesson-report.ts'
import { useDesk } from '../../store/desk-store.ts'

/** The lesson's report; null while it is computed or without shots, and the reason where it can't be. */
export const useReport = (): LessonReport | { failed: string } | null =>
  useDesk((s) => s.report) as LessonReport | { failed: string } | null

/** The report, or null for whatever reason. */
export const useSoundReport = (): LessonReport | null => {
  const report = useReport()
  return report && !('failed' in report) ? report : null
}
