import { runInThread, threadFile } from '../run-in-thread.ts'
import type { Followed } from './follow-point.ts'
import type { FollowJob } from './follow-worker.ts'

/** Follows a point in a thread of its own. @throws Problem as reading the clip does; Cancelled */
export const followInThread = (
  job: FollowJob,
  options: { signal?: AbortSignal; onProgress?: (share: number) => void } = {},
): Promise<Followed> =>
  runInThread(threadFile(import.meta.dirname, 'follow-worker'), 'thread.follow', job, options)
