import type { HandlersNamed } from '../../../shared-core/contract/index.ts'
import type { LibraryContext } from '../context.ts'
import { phrase } from '../../../shared-core/wording/phrase.ts'

export const demoHandlers = (context: LibraryContext): HandlersNamed<'demo'> => ({
  'demo.load': () => ({ jobId: context.jobs.add('demo', null, phrase('job.demo'), {}) }),
})
