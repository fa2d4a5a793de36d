import { Problem } from '../../../shared-core/problem.ts'
import type { LibraryContext } from '../library.ts'
import type { JobRun } from '../jobs/queue.ts'

export const writeHandOver = async (_context: LibraryContext, _run: JobRun): Promise<string> => {
  throw new Problem('not-yet', 'the hand-over is not built yet')
}
