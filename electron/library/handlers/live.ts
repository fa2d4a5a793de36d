import type { Handlers } from '../../../shared-core/contract/index.ts'
import type { LiveLessons } from '../live/live-lessons.ts'

type Names = 'live.start' | 'live.stop' | 'live.state'

/** A lesson that takes clips and shots in as they arrive. */
export const liveHandlers = (live: LiveLessons): Pick<Handlers, Names> => ({
  'live.start': async (input) => {
    await live.start(input)
    return {}
  },
  'live.stop': async ({ lessonId }) => {
    await live.stop(lessonId)
    return {}
  },
  'live.state': ({ lessonId }) => ({ state: live.state(lessonId) }),
})
