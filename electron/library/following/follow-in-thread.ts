import fs from 'node:fs'
import path from 'node:path'
import { Worker } from 'node:worker_threads'
import { Problem } from '../../../shared-core/problem.ts'
import { Cancelled } from '../media/run-ffmpeg.ts'
import type { Followed } from './follow-point.ts'
import type { FollowJob } from './follow-worker.ts'

/** Beside this file: bundled with the program, or as it is in the repository. */
const workerFile = (): string => {
  const bundled = path.join(import.meta.dirname, 'follow-worker.js')
  return fs.existsSync(bundled) ? bundled : path.join(import.meta.dirname, 'follow-worker.ts')
}

type Said =
  | { share: number }
  | { done: Followed }
  | { failed: { code: string; what: string; where?: string; toDo?: string } }

/** Follows a point in a thread of its own. @throws Problem as reading the clip does; Cancelled */
export const followInThread = (
  job: FollowJob,
  options: { signal?: AbortSignal; onProgress?: (share: number) => void } = {},
): Promise<Followed> =>
  new Promise((resolve, reject) => {
    const worker = new Worker(workerFile(), { workerData: job, execArgv: [] })
    let isSettled = false
    const settle = (how: () => void) => {
      if (isSettled) return
      isSettled = true
      options.signal?.removeEventListener('abort', cancel)
      void worker.terminate().then(how)
    }
    // The thread ends its own ffmpeg, then says that it failed.
    const cancel = () => worker.postMessage('cancel')
    options.signal?.addEventListener('abort', cancel, { once: true })
    if (options.signal?.aborted) cancel()
    worker.on('message', (said: Said) => {
      if ('share' in said) options.onProgress?.(said.share)
      else if (options.signal?.aborted) settle(() => reject(new Cancelled()))
      else if ('done' in said) settle(() => resolve(said.done))
      else {
        const { code, what, where, toDo } = said.failed
        settle(() => reject(new Problem(code, what, { where, toDo })))
      }
    })
    worker.once('error', (error) => settle(() => reject(error)))
    worker.once('exit', () =>
      settle(() => reject(new Problem('bug', 'the thread that follows a point ended by itself'))),
    )
  })
