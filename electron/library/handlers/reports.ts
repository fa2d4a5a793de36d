import type { Handlers } from '../../../shared-core/contract/index.ts'
import type { LibraryContext } from '../context.ts'

export const reportHandlers = ({
  reports,
}: LibraryContext): Pick<Handlers, 'lesson.report' | 'season.report'> => ({
  'lesson.report': ({ lessonId, units }) => reports.lesson(lessonId, units),
  'season.report': ({ studentId, units }) => reports.season(studentId, units),
})
