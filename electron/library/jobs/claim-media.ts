import { setTimeout as wait } from 'node:timers/promises'
import { and, eq } from 'drizzle-orm'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'
import { Cancelled } from '../media/run-ffmpeg.ts'
import { isRegistered } from '../process-registry.ts'
import type { JobRun } from './queue.ts'
import { phrase } from '../../../shared-core/wording/phrase.ts'

const lookMs = 100

/**
 * Makes this job the one that writes the files of `hash`, in one transaction, over all processes. While another job has
 * the claim it is waited for; a claim of a process that is no more is taken over.
 * @returns true if the files are to be made now, false if they are there
 */
export const claimMedia = async (context: LibraryContext, hash: string, run: JobRun): Promise<boolean> => {
  const { db, journal, folder, jobs } = context
  const owner = context.processId
  for (;;) {
    if (run.signal.aborted) throw new Cancelled()
    const answer = journal.alone((): 'made' | 'mine' | 'wait' => {
      if (db.select({ hash: t.media.hash }).from(t.media).where(eq(t.media.hash, hash)).get()) return 'made'
      const claim = db.select().from(t.mediaClaim).where(eq(t.mediaClaim.hash, hash)).get()
      const isHeld =
        claim !== undefined &&
        claim.jobId !== run.id &&
        (claim.owner === owner || isRegistered(folder, claim.owner)) &&
        jobs.isOwned(claim.jobId)
      if (isHeld) return 'wait'
      const mine = { hash, jobId: run.id, owner }
      db.insert(t.mediaClaim).values(mine).onConflictDoUpdate({ target: t.mediaClaim.hash, set: mine }).run()
      return 'mine'
    })
    if (answer !== 'wait') return answer === 'mine'
    run.say(phrase('step.waitingForClip'))
    await wait(lookMs)
  }
}

export const releaseClaim = ({ db }: Pick<LibraryContext, 'db'>, hash: string, jobId: string): void => {
  db.delete(t.mediaClaim)
    .where(and(eq(t.mediaClaim.hash, hash), eq(t.mediaClaim.jobId, jobId)))
    .run()
}
