import type { HandlersNamed } from '../../../shared-core/contract/index.ts'
import type { LiveLessons } from '../live/live-lessons.ts'

/** A lesson that takes clips and shots in as they arrive. */
export const liveHandlers = (live: LiveLessons): HandlersNamed<'live'> => ({
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
