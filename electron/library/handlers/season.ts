import type { HandlersNamed } from '../../../shared-core/contract/index.ts'
import type { LibraryContext } from '../context.ts'

export const seasonHandlers = (context: LibraryContext): HandlersNamed<'season'> => {
  const { reports } = context

  return {
    'season.report': ({ studentId, units }) => reports.season(studentId, units),
  }
}
