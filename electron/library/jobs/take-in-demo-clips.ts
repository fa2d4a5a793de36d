import path from 'node:path'
import { setTimeout as wait } from 'node:timers/promises'
import { Problem } from '../../../shared-core/problem.ts'
import type { LibraryContext } from '../context.ts'
import { Cancelled } from '../media/run-ffmpeg.ts'
import { demoFolder } from './demo-files.ts'
import type { JobRun } from './queue.ts'

/** Takes in clips of the demo and waits for them; `report` gets how many have ended, and their mean progress. */
export const takeInDemoClips = async (
  context: LibraryContext,
  run: JobRun,
  lessonId: string,
  names: readonly string[],
  report: (ended: number, progress: number) => void,
): Promise<void> => {
  const { jobIds } = await context.calls['clips.add']({
    lessonId,
    files: names.map((name) => path.join(demoFolder(), name)),
  })
  const stopClips = () => jobIds.forEach((id) => context.jobs.cancel(id))
  run.signal.addEventListener('abort', stopClips, { once: true })
  for (;;) {
    const jobs = context.jobs.list().filter((j) => jobIds.includes(j.id))
    const ended = jobs.filter((j) => !['waiting', 'running'].includes(j.state)).length
    report(ended, jobs.reduce((sum, j) => sum + j.progress, 0) / jobs.length)
    if (ended === jobs.length) {
      const failed = jobs.find((j) => j.state === 'failed')
      if (failed?.problem) throw Problem.from(failed.problem)
      break
    }
    await wait(50)
  }
  if (run.signal.aborted) throw new Cancelled()
}
