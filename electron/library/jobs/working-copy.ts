import fs from 'node:fs'
import path from 'node:path'
import { and, eq, inArray } from 'drizzle-orm'
import { z } from 'zod'
import type { LibraryContext } from '../context.ts'
import { asFloat64 } from '../database/float64.ts'
import * as t from '../database/schema.ts'
import { factsAsKept } from '../media/fields.ts'
import { probeClip, type ClipFacts } from '../media/probe.ts'
import { makePoster } from '../media/pictures.ts'
import { makeProxy } from '../media/proxy.ts'
import { impactFrame } from '../queries/impact-frame.ts'
import { posterFrameOf } from './keep-media.ts'
import type { JobQueue, JobRun } from './queue.ts'
import { phrase } from '../../../shared-core/wording/phrase.ts'

/** What was found out about a clip whose working copy was ordered, so that it is not probed once more; gone with the program. */
const probed = new WeakMap<JobQueue, Map<string, ClipFacts>>()

const taskSchema = z.object({ hash: z.string(), clipName: z.string() })

const mediaOf = ({ db }: Pick<LibraryContext, 'db'>, hash: string) =>
  db.select().from(t.media).where(eq(t.media.hash, hash)).get()

/** Has the working copy of a clip made that stands in its lesson already, unless it is there or on its way. */
export const orderWorkingCopy = (
  context: LibraryContext,
  clip: { lessonId: string; hash: string; clipName: string; facts: ClipFacts },
) => {
  const { lessonId, hash, clipName, facts } = clip
  if (mediaOf(context, hash)?.hasProxy !== false) return
  const isOrdered = context.db
    .select()
    .from(t.job)
    .where(and(eq(t.job.kind, 'working-copy'), inArray(t.job.state, ['waiting', 'running', 'failed'])))
    .all()
    .some((job) => job.task.hash === hash)
  if (isOrdered) return
  const known = probed.get(context.jobs) ?? new Map<string, ClipFacts>()
  probed.set(context.jobs, known.set(hash, facts))
  context.jobs.add('working-copy', lessonId, clipName, { hash, clipName })
}

/** Makes the working copy of a clip, and its poster anew, of the impact; the original was looked at until now. */
export const makeWorkingCopy = async (context: LibraryContext, run: JobRun): Promise<null> => {
  const { hash, clipName } = taskSchema.parse(run.task)
  const media = mediaOf(context, hash)
  if (media?.hasProxy !== false) return null
  const { db, paths, journal, jobs } = context
  const original = paths.original(hash, media.extension)
  const options = { programs: await context.mediaPrograms(), clipName, signal: run.signal }
  const work = path.join(paths.incoming, run.id)
  fs.rmSync(work, { recursive: true, force: true })
  fs.mkdirSync(work, { recursive: true })
  try {
    run.say(phrase('step.workingCopy'), 0)
    // The times that marks and drawings rest on are those that were kept.
    const known = probed.get(jobs)?.get(hash)
    probed.get(jobs)?.delete(hash)
    const facts = {
      ...factsAsKept(known ?? (await probeClip(original, options)), media.frameCount),
      frameCount: media.frameCount,
      atSeconds: asFloat64(media.timestamps),
    }
    const proxy = path.join(work, 'proxy.mp4')
    const poster = path.join(work, 'poster.jpg')
    const posterFrame = () => posterFrameOf(facts, impactFrame(context, hash))
    const frame = posterFrame()
    const made = await makeProxy(
      original,
      proxy,
      facts,
      { ...options, onProgress: (share) => run.say(phrase('step.workingCopy'), share) },
      { file: poster, frame },
    )
    // The impact was moved meanwhile. Of the copy: a jump in it is four frames, in the original as many as a second has.
    if (posterFrame() !== frame || !fs.existsSync(poster)) {
      await makePoster(proxy, poster, posterFrame(), made, options)
    }
    journal.alone(() => {
      // The clip may have been deleted meanwhile.
      if (!mediaOf(context, hash)) return
      fs.renameSync(proxy, paths.proxy(hash))
      fs.renameSync(poster, paths.poster(hash))
      db.update(t.media).set({ hasProxy: true }).where(eq(t.media.hash, hash)).run()
    })
    return null
  } finally {
    fs.rmSync(work, { recursive: true, force: true })
  }
}
