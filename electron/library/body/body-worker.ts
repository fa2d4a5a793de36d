import fs from 'node:fs'
import os from 'node:os'
import { parentPort, workerData } from 'node:worker_threads'
import { findBody, type BodyTask } from './find-body.ts'
import { loadPoseModel } from './pose-model.ts'
import { failedBy } from '../run-in-thread.ts'

/**
 * One clip's body points in a thread of its own. The coach's work comes first: the thread has a low priority where the
 * system can set one for a thread (Linux), and rests as long as it works where it can't.
 */
const stepBack = (): (() => Promise<void>) | undefined => {
  try {
    const thread = /task\/(\d+)$/.exec(fs.readlinkSync('/proc/thread-self'))?.[1]
    if (thread === undefined) throw new Error('no thread id')
    os.setPriority(Number(thread), os.constants.priority.PRIORITY_BELOW_NORMAL)
    return undefined
  } catch {
    let last = performance.now()
    return async () => {
      const worked = Math.min(1000, performance.now() - last)
      await new Promise((resolve) => setTimeout(resolve, worked))
      last = performance.now()
    }
  }
}

const abort = new AbortController()
parentPort!.on('message', () => abort.abort())

const run = async () => {
  const pause = stepBack()
  const model = await loadPoseModel()
  const track = await findBody(model, workerData as BodyTask, {
    pause,
    signal: abort.signal,
    onProgress: (share) => parentPort!.postMessage({ share }),
  })
  parentPort!.postMessage({ done: track })
}

run().catch((error: unknown) => {
  parentPort!.postMessage(failedBy(error))
})
