import type { Db } from '../database/open.ts'
import { eq } from 'drizzle-orm'
import * as t from '../database/schema.ts'

const asSeconds = (bytes: Buffer): Float64Array => new Float64Array(new Uint8Array(bytes).buffer)

/**
 * When each filmed swing's impact was by the camera's clock, seconds since 1970; null where the clip names no time.
 * Creation time plus the real time from the first frame to impact (the middle of the swing where impact is unknown).
 */
export const swingTimes = (db: Db, lessonId: string): Map<string, number | null> => {
  const views = db
    .select({
      view: t.view,
      captureRate: t.clip.captureRate,
      recordedAt: t.media.recordedAt,
      playbackRate: t.media.playbackRate,
      timestamps: t.media.timestamps,
    })
    .from(t.view)
    .innerJoin(t.clip, eq(t.clip.id, t.view.clipId))
    .innerJoin(t.media, eq(t.media.hash, t.clip.mediaHash))
    .where(eq(t.clip.lessonId, lessonId))
    .all()
  const impacts = new Map(
    db
      .select({ viewId: t.moment.viewId, frame: t.moment.frame })
      .from(t.moment)
      .where(eq(t.moment.name, 'impact'))
      .all()
      .map((m) => [m.viewId, m.frame]),
  )
  const times = new Map<string, number | null>()
  for (const { view, captureRate, recordedAt, playbackRate, timestamps } of views) {
    if (times.get(view.swingId) !== undefined && times.get(view.swingId) !== null) continue
    const start = recordedAt === null ? NaN : Date.parse(recordedAt) / 1000
    if (!Number.isFinite(start)) {
      times.set(view.swingId, null)
      continue
    }
    const frame = impacts.get(view.id) ?? Math.floor((view.fromFrame + view.toFrame) / 2)
    const atSeconds = asSeconds(timestamps)[frame] ?? 0
    times.set(view.swingId, start + atSeconds * (playbackRate / captureRate))
  }
  return times
}
