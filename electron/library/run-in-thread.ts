import fs from 'node:fs'
import path from 'node:path'
import { Worker } from 'node:worker_threads'
import { Problem, type ProblemBody } from '../../shared-core/problem.ts'
import { Cancelled } from './media/run-ffmpeg.ts'
import { phrase, type PhraseKey } from '../../shared-core/wording/phrase.ts'

/** The file of a thread that lies beside the caller's: bundled with the program, or as it is in the repository. */
export const threadFile = (folder: string, name: string): string => {
  const bundled = path.join(folder, `${name}.js`)
  return fs.existsSync(bundled) ? bundled : path.join(folder, `${name}.ts`)
}

/** What a thread says: how far it is, what came out, or why nothing did. */
export type ThreadSays<Output> = { share: number } | { done: Output } | { failed: ProblemBody }

/** How a thread tells why it failed. */
export const failedBy = (error: unknown): { failed: ProblemBody } => ({
  failed: (error instanceof Problem ? error : new Problem('bug.thread', { reason: (error as Error).message }))
    .body,
})

/**
 * Does one piece of work in a thread of its own; `thread` names it where it ends by itself.
 * @throws Problem as the work does; Cancelled
 */
export const runInThread = <Output>(
  file: string,
  thread: Extract<PhraseKey, `thread.${string}`>,
  workerData: unknown,
  options: { signal?: AbortSignal; onProgress?: (share: number) => void } = {},
): Promise<Output> =>
  new Promise((resolve, reject) => {
    const worker = new Worker(file, { workerData, execArgv: [] })
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
    worker.on('message', (said: ThreadSays<Output>) => {
      if ('share' in said) options.onProgress?.(said.share)
      else if (options.signal?.aborted) settle(() => reject(new Cancelled()))
      else if ('done' in said) settle(() => resolve(said.done))
      else {
        settle(() => reject(Problem.from(said.failed)))
      }
    })
    worker.once('error', (error) => settle(() => reject(error)))
    worker.once('exit', () =>
      settle(() => reject(new Problem('bug.threadEnded', { thread: phrase(thread) }))),
    )
  })
