import { randomUUID } from 'node:crypto'
import { eq, inArray } from 'drizzle-orm'
import type { Db } from '../database/open.ts'
import * as t from '../database/schema.ts'
import type { ClipFacts } from '../media/probe.ts'
import type { ClipMoments } from '../moments/find-moments.ts'
import { swingTimes } from './swing-times.ts'
import { begunBlock } from './block-order.ts'
import { firstBlock, insertSwing, renumber } from './swing-order.ts'
import { swingsOf } from './swings-of.ts'

/**
 * Makes the swings of a clip that was just added, in their place among the lesson's swings: by clock time
 * where the clips carry one, else at the end. A clip in which no swing was found is one swing, whole. Returns their ids.
 */
export const placeClipSwings = (
  db: Db,
  added: {
    lessonId: string
    clipId: string
    /** The id of the first swing's picture, where it has been looked at already. */
    viewId: string
    facts: ClipFacts
    moments: ClipMoments
  },
): string[] => {
  const { lessonId, clipId, facts } = added
  const last = facts.frameCount - 1
  const found = added.moments.swings.length
    ? added.moments.swings
    : [{ fromFrame: 0, toFrame: last, moments: added.moments.moments }]
  return found.map((swing, index) => {
    // Ranges meet in the middle, so that no frame of a long take is lost.
    const from = index === 0 ? 0 : Math.floor((found[index - 1]!.toFrame + swing.fromFrame) / 2) + 1
    const next = found[index + 1]
    const to = next ? Math.floor((swing.toFrame + next.fromFrame) / 2) : last
    const swingId = insertSwing(db, {
      lessonId,
      blockId: firstBlock(db, lessonId),
      position: 1e6,
      shotId: null,
    })
    const viewId = index === 0 ? added.viewId : randomUUID()
    db.insert(t.view).values({ id: viewId, swingId, clipId, fromFrame: from, toFrame: to }).run()
    const seen = new Set<string>()
    for (const moment of swing.moments) {
      if (seen.has(moment.name) || moment.frame > last) continue
      seen.add(moment.name)
      db.insert(t.moment)
        .values({
          id: randomUUID(),
          viewId,
          name: moment.name,
          frame: moment.frame,
          how: moment.how,
          confidence: moment.confidence,
        })
        .run()
    }
    putInPlace(db, lessonId, swingId)
    return swingId
  })
}

const byName = new Intl.Collator('en', { numeric: true })

/** The name of each filmed swing's clip. */
const clipNames = (db: Db, lessonId: string): Map<string, string> =>
  new Map(
    db
      .select({ swingId: t.view.swingId, fileName: t.clip.fileName })
      .from(t.view)
      .innerJoin(t.clip, eq(t.clip.id, t.view.clipId))
      .where(eq(t.clip.lessonId, lessonId))
      .all()
      .map((row) => [row.swingId, row.fileName]),
  )

/** Moves a new swing to its place by time and gives it the block of the swing before it. */
const putInPlace = (db: Db, lessonId: string, swingId: string) => {
  const order = swingsOf(db, lessonId)
  const times = swingTimes(db, lessonId)
  const mine = times.get(swingId)
  const others = order.filter((s) => s.id !== swingId)
  let at = others.length
  if (mine !== undefined && mine !== null) {
    const later = others.findIndex((s) => {
      const time = times.get(s.id)
      return time !== undefined && time !== null && time > mine
    })
    if (later >= 0) at = later
  } else {
    // Without a clock the names decide, as a camera counts them; which clip was ready first is chance.
    const names = clipNames(db, lessonId)
    const later = others.findIndex(
      (s) =>
        (times.get(s.id) ?? null) === null &&
        names.has(s.id) &&
        byName.compare(names.get(s.id)!, names.get(swingId)!) > 0,
    )
    if (later >= 0) at = later
  }
  const begun = at === others.length ? begunBlock(db, lessonId, new Set([swingId])) : null
  const blockId = begun ?? (others[at - 1] ?? others[at])?.blockId
  if (blockId !== undefined) {
    db.update(t.swing)
      .set({ blockId })
      .where(inArray(t.swing.id, [swingId]))
      .run()
  }
  renumber(db, lessonId, [
    ...others.slice(0, at).map((s) => s.id),
    swingId,
    ...others.slice(at).map((s) => s.id),
  ])
}
