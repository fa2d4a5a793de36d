import { runInThread, threadFile } from '../run-in-thread.ts'
import type { BodyTask, FoundBody } from './find-body.ts'

/** Reads a clip's body points in a thread. @throws Problem as `findBody` and the model do; Cancelled */
export const readBody = (
  task: BodyTask,
  options: { signal?: AbortSignal; onProgress?: (share: number) => void } = {},
): Promise<FoundBody> =>
  runInThread(threadFile(import.meta.dirname, 'body-worker'), 'thread.body', task, options)
