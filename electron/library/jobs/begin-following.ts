import { eq } from 'drizzle-orm'
import { isHelpedByBody } from '../../../shared-core/body/carrier.ts'
import { Problem } from '../../../shared-core/problem.ts'
import { phrase } from '../../../shared-core/wording/phrase.ts'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'
import { clipWithMedia } from '../queries/clip-with-media.ts'

/** The edit that a following belongs to: what was found is undone together with the mark that it was found from. */
export const followEdit = (followedId: string, what: 'begin' | 'again' | `mark ${number}`): string =>
  `follow:${followedId}:${what}`

/** A followed point as it is kept. @throws Problem `gone` */
export const followedRow = ({ db }: LibraryContext, id: string): typeof t.followedPoint.$inferSelect => {
  const point = db.select().from(t.followedPoint).where(eq(t.followedPoint.id, id)).get()
  if (!point) throw new Problem('gone.followedPoint', { where: id })
  return point
}

/** The job that follows a point, begun anew where one is under way: its marks are old. */
export const beginFollowing = (context: LibraryContext, id: string, edit: string): string => {
  const { db, jobs } = context
  const point = followedRow(context, id)
  const { clip } = clipWithMedia(db, point.clipId)
  for (const job of db.select().from(t.job).where(eq(t.job.kind, 'follow')).all()) {
    if (job.task['followedId'] !== id) continue
    if (job.state === 'waiting' || job.state === 'running') jobs.cancel(job.id)
  }
  return jobs.add('follow', clip.lessonId, phrase('job.follow', { point: point.name, clip: clip.fileName }), {
    followedId: id,
    edit,
  })
}

/** Points that were lost and that the body's points help with are followed anew, once these were read; a club head always: it may have slid off. */
export const followLostAnew = (context: LibraryContext, clipId: string): void => {
  const points = context.db.select().from(t.followedPoint).where(eq(t.followedPoint.clipId, clipId)).all()
  for (const { id, name, lost } of points) {
    if (isHelpedByBody(name) && (lost.length > 0 || name === 'club head')) {
      beginFollowing(context, id, followEdit(id, 'again'))
    }
  }
}
