import { randomUUID } from 'node:crypto'
import { and, eq, isNull, sql } from 'drizzle-orm'
import { isCoachs } from '../../../shared-core/body/body-marks.ts'
import type { PlayingSide } from '../../../shared-core/body/body-series.ts'
import type { BodyTrack } from '../../../shared-core/body/body-track.ts'
import {
  doubtedImpact,
  isOpenToHands,
  momentsByReturn,
  returnInView,
  weighImpact,
} from '../../../shared-core/body/impact-by-hands.ts'
import type { ClipTimes } from '../../../shared-core/timing/clip-clock.ts'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'
import type { clipWithMedia } from '../queries/clip-with-media.ts'
import { isDrawnOn } from '../queries/drawn-on.ts'
import { strikesByRate } from '../queries/sound-delay.ts'

type Moment = typeof t.moment.$inferSelect

/** Peaks of a track louder than this hold something recorded; full scale 127. */
const silentPeak = 2

/** In the order of a swing. */
const order = ['setup', 'takeaway', 'top', 'impact', 'finish']
const isInOrder = (moments: readonly { name: string; frame: number }[]): boolean => {
  const frames = order.flatMap((name) => moments.find((m) => m.name === name)?.frame ?? [])
  return frames.every((frame, i) => i === 0 || frame > frames[i - 1]!)
}

/** What is told of takeaway and top by the return alone, before their own ways are looked at. */
const byReturnConfidence = 0.4

/**
 * Puts a view's impact where the hands returned to the ball, where neither ball nor sound told it well and no coach has marked it: surer, moved,
 * or doubted. A swing's other marks that can no longer be right then follow; none against a coach's own. Within an edit.
 */
export const proposeImpact = (
  { db }: LibraryContext,
  view: { id: string; fromFrame: number; toFrame: number; moments: readonly Moment[] },
  {
    clip,
    media,
    ...body
  }: ReturnType<typeof clipWithMedia> & { track: BodyTrack; times: ClipTimes; side: PlayingSide },
): boolean => {
  const told = view.moments.find((m) => m.name === 'impact')
  if (!isOpenToHands(told) || (told ? isUsed(told) : isTakenAway())) return false
  const seen = returnInView({ ...clip, ...body, isRateGuessed: clip.captureRateHow === 'assumed' }, view)
  const strike = strikesByRate(clip)?.strikes.find(
    (s) => s.impact >= view.fromFrame && s.impact <= view.toFrame,
  )
  const film = {
    isBallSeen: (strike?.ball ?? null) !== null,
    isSoundRecorded:
      media.hasSound && (media.peaks?.some((byte) => Math.abs((byte << 24) >> 24) > silentPeak) ?? false),
  }
  const found = seen ? weighImpact(seen, told, film) : told ? doubtedImpact({ ...clip, ...body }, told) : null
  if (!found || found.frame < view.fromFrame || found.frame > view.toFrame) return false
  const { frame, confidence, how } = found
  if (!isInOrder([...view.moments.filter(isCoachs), { name: 'impact', frame }])) return false
  if (told) db.update(t.moment).set({ frame, confidence, how }).where(eq(t.moment.id, told.id)).run()
  else {
    db.insert(t.moment)
      .values({ id: randomUUID(), viewId: view.id, name: 'impact', frame, confidence, how })
      .run()
  }

  const others = view.moments.filter((m) => m.name !== 'impact')
  if (!seen || isInOrder([...others, { name: 'impact', frame }])) return true
  // What the motion told of another place is no witness here.
  const byReturn = momentsByReturn([], seen)
  for (const moment of others) {
    if (isCoachs(moment) || isUsed(moment)) continue
    const own = byReturn.find((m) => m.name === moment.name)
    if (own && own.frame < frame && own.frame >= view.fromFrame) {
      db.update(t.moment)
        .set({ frame: own.frame, confidence: byReturnConfidence })
        .where(eq(t.moment.id, moment.id))
        .run()
    } else if (order.includes(moment.name)) db.delete(t.moment).where(eq(t.moment.id, moment.id)).run()
  }
  return true

  /** Somebody took the view's impact away: nothing was struck there. */
  function isTakenAway(): boolean {
    const gone = and(
      eq(t.editRow.tableName, 'moment'),
      isNull(t.editRow.after),
      eq(sql`json_extract(${t.editRow.before}, '$.view_id')`, view.id),
      eq(sql`json_extract(${t.editRow.before}, '$.name')`, 'impact'),
      eq(t.edit.isUndone, false),
    )
    return (
      db.select().from(t.editRow).innerJoin(t.edit, eq(t.edit.id, t.editRow.editId)).where(gone).get() !==
      undefined
    )
  }

  function isUsed(moment: Moment): boolean {
    return (
      isDrawnOn(db, moment.id) ||
      db.select().from(t.cue).where(eq(t.cue.momentId, moment.id)).get() !== undefined
    )
  }
}
