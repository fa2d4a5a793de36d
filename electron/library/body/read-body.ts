import fs from 'node:fs'
import path from 'node:path'
import { Worker } from 'node:worker_threads'
import type { BodyTrack } from '../../../shared-core/body/body-track.ts'
import { Problem } from '../../../shared-core/problem.ts'
import { Cancelled } from '../media/run-ffmpeg.ts'
import type { BodyTask } from './find-body.ts'

/** Beside this file: bundled with the program, or as it is in the repository. */
const workerFile = (): string => {
  const bundled = path.join(import.meta.dirname, 'body-worker.js')
  return fs.existsSync(bundled) ? bundled : path.join(import.meta.dirname, 'body-worker.ts')
}

type Said =
  | { share: number }
  | { track: BodyTrack }
  | { failed: { code: string; what: string; where?: string; toDo?: string } }

/** Reads a clip's body points in a thread. @throws Problem as `findBody` and the model do; Cancelled */
export const readBody = (
  task: BodyTask,
  options: { signal?: AbortSignal; onProgress?: (share: number) => void } = {},
): Promise<BodyTrack> =>
  new Promise((resolve, reject) => {
    const worker = new Worker(workerFile(), { workerData: task, execArgv: [] })
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
      else if ('track' in said) settle(() => resolve(said.track))
      else {
        const { code, what, where, toDo } = said.failed
        settle(() => reject(new Problem(code, what, { where, toDo })))
      }
    })
    worker.once('error', (error) => settle(() => reject(error)))
    worker.once('exit', () =>
      settle(() => reject(new Problem('bug', 'the thread that reads body points ended by itself'))),
    )
  })
