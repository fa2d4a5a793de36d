import type { Handlers } from '../../../shared-core/contract/index.ts'
import type { LibraryContext } from '../context.ts'
import type { LiveLessons } from '../live/live-lessons.ts'
import { backupHandlers } from './backup.ts'
import { blockHandlers } from './block.ts'
import { bodyHandlers } from './body.ts'
import { clipHandlers } from './clip.ts'
import { coachPictureHandlers } from './coach-picture.ts'
import { comparisonHandlers } from './comparison.ts'
import { cueHandlers } from './cue.ts'
import { cueKindHandlers } from './cue-kind.ts'
import { deletionHandlers } from './deletion.ts'
import { demoHandlers } from './demo.ts'
import { drawingHandlers } from './drawing.ts'
import { drillHandlers } from './drill.ts'
import { editsHandlers } from './edits.ts'
import { facePhotoHandlers } from './face-photo.ts'
import { followHandlers } from './follow.ts'
import { handOverHandlers } from './hand-over.ts'
import { jobHandlers } from './job.ts'
import { lessonHandlers } from './lesson.ts'
import { lessonFileHandlers } from './lesson-file.ts'
import { libraryHandlers } from './library.ts'
import { liveHandlers } from './live.ts'
import { mediaHandlers } from './media.ts'
import { momentHandlers } from './moment.ts'
import { pairHandlers } from './pair.ts'
import { planHandlers } from './plan.ts'
import { rosterHandlers } from './roster.ts'
import { seasonHandlers } from './season.ts'
import { setAsideHandlers } from './set-aside.ts'
import { settingsHandlers } from './settings.ts'
import { shotHandlers } from './shots.ts'
import { studentHandlers } from './student.ts'
import { swingHandlers } from './swing.ts'
import { talkHandlers } from './talk.ts'
import { viewHandlers } from './view.ts'
import { worksHandlers } from './works.ts'

/** One handler for each call of the contract, in the file named after the call's prefix; the compiler finds one that is missing. */
export const handlersOf = (context: LibraryContext, live: LiveLessons): Handlers => ({
  ...rosterHandlers(context),
  ...studentHandlers(context),
  ...deletionHandlers(context),
  ...lessonHandlers(context),
  ...seasonHandlers(context),
  ...worksHandlers(context),
  ...clipHandlers(context),
  ...jobHandlers(context),
  ...mediaHandlers(context),
  ...shotHandlers(context),
  ...facePhotoHandlers(context),
  ...pairHandlers(context),
  ...swingHandlers(context),
  ...viewHandlers(context),
  ...blockHandlers(context),
  ...momentHandlers(context),
  ...cueKindHandlers(context),
  ...cueHandlers(context),
  ...drawingHandlers(context),
  ...comparisonHandlers(context),
  ...editsHandlers(context),
  ...bodyHandlers(context),
  ...followHandlers(context),
  ...drillHandlers(context),
  ...coachPictureHandlers(context),
  ...planHandlers(context),
  ...settingsHandlers(context),
  ...handOverHandlers(context),
  ...talkHandlers(context),
  ...libraryHandlers(context),
  ...backupHandlers(context),
  ...setAsideHandlers(context),
  ...lessonFileHandlers(context),
  ...demoHandlers(context),
  ...liveHandlers(live),
})
