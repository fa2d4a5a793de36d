import { and, eq } from 'drizzle-orm'
import { realSecondsBetween } from '../../../shared-core/timing/clip-clock.ts'
import { asFloat64 } from '../database/float64.ts'
import type { Db } from '../database/open.ts'
import * as t from '../database/schema.ts'

/**
 * When each filmed swing's impact was by the camera's clock, seconds since 1970; null where the clip names no time.
 * Creation time plus the real time from the first frame to impact (the middle of the swing where impact is unknown).
 */
export const swingTimes = (db: Db, lessonId: string): Map<string, number | null> => {
  const views = db
    .select({
      view: t.view,
      impactFrame: t.moment.frame,
      captureRate: t.clip.captureRate,
      slowPart: t.clip.slowPart,
      recordedAt: t.media.recordedAt,
      playbackRate: t.media.playbackRate,
      timestamps: t.media.timestamps,
    })
    .from(t.view)
    .innerJoin(t.clip, eq(t.clip.id, t.view.clipId))
    .innerJoin(t.media, eq(t.media.hash, t.clip.mediaHash))
    .leftJoin(t.moment, and(eq(t.moment.viewId, t.view.id), eq(t.moment.name, 'impact')))
    .where(eq(t.clip.lessonId, lessonId))
    .all()
  const times = new Map<string, number | null>()
  for (const { view, impactFrame, recordedAt, timestamps, ...rates } of views) {
    if (times.get(view.swingId) !== undefined && times.get(view.swingId) !== null) continue
    const start = recordedAt === null ? NaN : Date.parse(recordedAt) / 1000
    if (!Number.isFinite(start)) {
      times.set(view.swingId, null)
      continue
    }
    const frame = impactFrame ?? Math.floor((view.fromFrame + view.toFrame) / 2)
    times.set(
      view.swingId,
      start + realSecondsBetween({ atSeconds: asFloat64(timestamps), ...rates }, 0, frame),
    )
  }
  return times
}
