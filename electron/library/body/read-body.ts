import type { BodyTrack } from '../../../shared-core/body/body-track.ts'
import { runInThread, threadFile } from '../run-in-thread.ts'
import type { BodyTask } from './find-body.ts'

/** Reads a clip's body points in a thread. @throws Problem as `findBody` and the model do; Cancelled */
export const readBody = (
  task: BodyTask,
  options: { signal?: AbortSignal; onProgress?: (share: number) => void } = {},
): Promise<BodyTrack> =>
  runInThread(threadFile(import.meta.dirname, 'body-worker'), 'thread.body', task, options)
