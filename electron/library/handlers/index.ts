import type { Handlers } from '../../../shared-core/contract/index.ts'
import type { LibraryContext } from '../context.ts'
import { annotationHandlers } from './annotations.ts'
import { bodyHandlers } from './body.ts'
import { checkHandlers } from './check.ts'
import { clipHandlers } from './clips.ts'
import { coachHandlers } from './coach.ts'
import { custodyHandlers } from './custody.ts'
import { handOverHandlers } from './hand-over.ts'
import type { LiveLessons } from '../live/live-lessons.ts'
import { liveHandlers } from './live.ts'
import { reportHandlers } from './reports.ts'
import { rosterHandlers } from './roster.ts'
import { shotHandlers } from './shots.ts'
import { swingHandlers } from './swings.ts'

/** One handler for each call of the contract; the compiler finds one that is missing. */
export const handlersOf = (context: LibraryContext, live: LiveLessons): Handlers => ({
  ...rosterHandlers(context),
  ...clipHandlers(context),
  ...shotHandlers(context),
  ...swingHandlers(context),
  ...annotationHandlers(context),
  ...bodyHandlers(context),
  ...coachHandlers(context),
  ...custodyHandlers(context),
  ...reportHandlers(context),
  ...handOverHandlers(context),
  ...checkHandlers(context),
  ...liveHandlers(live),
})
