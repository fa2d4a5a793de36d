import type { Handlers } from '../../../shared-core/contract/index.ts'
import type { LibraryContext } from '../library.ts'

export const reportHandlers = (
  _context: LibraryContext,
): Pick<Handlers, 'lesson.report' | 'season.report'> => ({
  'lesson.report': () => ({ findings: [] }),
  'season.report': () => ({}),
})
