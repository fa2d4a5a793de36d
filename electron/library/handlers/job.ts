import type { HandlersNamed } from '../../../shared-core/contract/index.ts'
import type { LibraryContext } from '../context.ts'

export const jobHandlers = (context: LibraryContext): HandlersNamed<'jobs' | 'job'> => {
  const { jobs } = context

  return {
    'jobs.list': () => jobs.list(),
    'job.cancel': ({ id }) => {
      jobs.cancel(id)
      return {}
    },
    'job.retry': ({ id }) => {
      jobs.retry(id)
      return {}
    },
  }
}
