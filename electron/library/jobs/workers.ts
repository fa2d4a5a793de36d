import type { Job } from '../../../shared-core/model/entities.ts'
import type { LibraryContext } from '../context.ts'
import { addClip } from './add-clip.ts'
import { addStill } from './add-still.ts'
import { readBodyPoints } from './body-points.ts'
import { follow } from './follow.ts'
import { loadDemo } from './load-demo.ts'
import { isStillName } from '../media/still-picture.ts'
import { makeWorkingCopy } from './working-copy.ts'
import type { Worker } from './queue.ts'
import { makeBackup } from '../custody/make-backup.ts'
import { repair } from '../custody/repair.ts'
import { giveLessons } from '../exchange/give.ts'
import { takeLessons } from '../exchange/take.ts'
import { saveTalk } from '../hand-over/talk.ts'
import { writeHandOver } from '../hand-over/write.ts'

/** Photos, and frames of films that are to be kept as such, come in by the same way as clips. */
const isStillTask = ({ file, ofFrame }: Record<string, unknown>): boolean =>
  ofFrame !== undefined || (typeof file === 'string' && isStillName(file))

/** Who does which kind of job. The context comes late because the queue is part of it. */
export const workersOf = (context: () => LibraryContext): Partial<Record<Job['kind'], Worker>> => ({
  'add-clip': (run) => (isStillTask(run.task) ? addStill(context(), run) : addClip(context(), run)),
  'working-copy': (run) => makeWorkingCopy(context(), run),
  'body-points': (run) => readBodyPoints(context(), run),
  follow: (run) => follow(context(), run),
  'hand-over': (run) => writeHandOver(context(), run),
  'talk-through': (run) => saveTalk(context(), run),
  backup: (run) => makeBackup(context(), run),
  repair: (run) => repair(context(), run),
  'give-lesson': (run) => giveLessons(context(), run),
  'take-lesson': (run) => takeLessons(context(), run),
  demo: (run) => loadDemo(context(), run),
})
