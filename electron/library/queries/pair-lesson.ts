import { randomUUID } from 'node:crypto'
import { asc, eq } from 'drizzle-orm'
import { pairSwings } from '../../../shared-core/pairing/pair-swings.ts'
import { wallSeconds } from '../../../shared-core/shots/read-wall-time.ts'
import type { Db } from '../database/open.ts'
import * as t from '../database/schema.ts'
import { begunBlock } from './block-order.ts'
import { firstBlock, renumber } from './swing-order.ts'
import { swingTimes } from './swing-times.ts'
import { filmedSwingIds, swingsOf } from './swings-of.ts'

/** From this confidence on a pair was right 99 times in 100 (pair-swings.ts): what hangs on it stays where it is. */
const sureConfidence = 0.8

type SwingRow = typeof t.swing.$inferSelect
type ShotRow = typeof t.shot.$inferSelect
type Assigned = { shotId: string | null; confidence: number; how: SwingRow['pairHow'] }

/**
 * Pairs a lesson's filmed swings with its shots; what the coach fixed stays. Shots without a clip become swings
 * without a picture, in their place. Called whenever clips or shots arrive, so that it does not matter which came
 * first. Returns what was paired and what was left over.
 *
 * @param how.byHand the coach's word on one swing, with or without fitting the others again.
 * @param how.arrived swings of a clip that has just come: they take the block of their shot, or of the swing before.
 */
export const pairLesson = (
  db: Db,
  lessonId: string,
  how: {
    byHand?: { swingId: string; shotId: string | null; refit: boolean }
    arrived?: ReadonlySet<string>
  } = {},
): { pairs: number; unpairedClips: number; unpairedShots: number } => {
  const { byHand, arrived = new Set<string>() } = how
  const shots = db
    .select()
    .from(t.shot)
    .where(eq(t.shot.lessonId, lessonId))
    .orderBy(asc(t.shot.position))
    .all()
  const swings = swingsOf(db, lessonId)
  const filmed = filmedSwingIds(db, lessonId)
  const clipSwings = swings.filter((s) => filmed.has(s.id))
  if (shots.length === 0 && swings.every((s) => s.shotId === null && s.pairHow === null)) {
    return { pairs: 0, unpairedClips: clipSwings.length, unpairedShots: 0 }
  }
  const times = swingTimes(db, lessonId)
  // The zone of the device is unknown; the fitted offset takes care of it.
  const deviceSeconds = wallSeconds(shots.map((s) => s.at))

  const fixed = clipSwings
    .filter(
      (s) =>
        s.pairHow === 'coach' &&
        s.id !== byHand?.swingId &&
        (s.shotId === null || s.shotId !== byHand?.shotId),
    )
    .map((s) => ({ swingId: s.id, shotId: s.shotId }))
  if (byHand && filmed.has(byHand.swingId)) fixed.push({ swingId: byHand.swingId, shotId: byHand.shotId })

  const assigned = new Map<string, Assigned>()
  let clock: typeof t.lesson.$inferSelect.clock = null
  if (byHand && !byHand.refit) {
    for (const s of clipSwings) {
      const isTaken = s.shotId !== null && s.shotId === byHand.shotId && s.id !== byHand.swingId
      assigned.set(
        s.id,
        isTaken
          ? { shotId: null, confidence: 0, how: null }
          : { shotId: s.shotId, confidence: s.pairConfidence, how: s.pairHow },
      )
    }
    assigned.set(byHand.swingId, { shotId: byHand.shotId, confidence: 1, how: 'coach' })
    clock =
      db.select({ clock: t.lesson.clock }).from(t.lesson).where(eq(t.lesson.id, lessonId)).get()?.clock ??
      null
  } else {
    const result = pairSwings({
      swings: clipSwings.map((s) => ({ id: s.id, atSeconds: times.get(s.id) ?? null })),
      shots: shots.map((s, i) => ({ id: s.id, atSeconds: deviceSeconds[i] ?? null, club: s.club })),
      fixed,
      stood: clipSwings.flatMap((s) => (s.shotId === null ? [] : [{ swingId: s.id, shotId: s.shotId }])),
    })
    for (const s of clipSwings) assigned.set(s.id, { shotId: null, confidence: 0, how: null })
    for (const pair of result.pairs) {
      assigned.set(pair.swingId, { shotId: pair.shotId, confidence: pair.confidence, how: pair.how })
    }
    // "This swing has no shot" is the coach's word, too.
    for (const pair of fixed) {
      if (pair.shotId === null) assigned.set(pair.swingId, { shotId: null, confidence: 1, how: 'coach' })
    }
    clock = result.clock
  }

  const blockOfShot = new Map<string, string>()
  for (const s of swings) if (s.shotId !== null) blockOfShot.set(s.shotId, s.blockId)
  const shotById = new Map(shots.map((s) => [s.id, s]))
  for (const s of clipSwings) {
    const a = assigned.get(s.id)!
    const blockId = blockWith(s, a, shotById, blockOfShot, arrived)
    if (
      s.shotId !== a.shotId ||
      s.pairConfidence !== a.confidence ||
      s.pairHow !== a.how ||
      blockId !== s.blockId
    ) {
      db.update(t.swing)
        .set({ shotId: a.shotId, pairConfidence: a.confidence, pairHow: a.how, blockId })
        .where(eq(t.swing.id, s.id))
        .run()
    }
  }
  db.update(t.lesson).set({ clock }).where(eq(t.lesson.id, lessonId)).run()
  const paired = new Set([...assigned.values()].map((a) => a.shotId).filter((id) => id !== null))
  const offsetSeconds = clock?.offsetSeconds ?? null
  placeShotsWithoutClip(db, lessonId, {
    shots,
    paired,
    blockOfShot,
    arrived,
    atOfShot: new Map(shots.map((s, i) => [s.id, deviceSeconds[i] ?? null])),
    atOfSwing: (id) => {
      const at = times.get(id) ?? null
      return at === null || offsetSeconds === null ? null : at + offsetSeconds
    },
  })
  return {
    pairs: paired.size,
    unpairedClips: clipSwings.length - paired.size,
    unpairedShots: shots.length - paired.size,
  }
}

/**
 * The block of a filmed swing. A shot that stood in a block before its clip came takes the clip there; a swing that
 * was surely paired stays where it is, unless the record itself names the block.
 */
const blockWith = (
  swing: SwingRow,
  now: Assigned,
  shots: ReadonlyMap<string, ShotRow>,
  blockOfShot: ReadonlyMap<string, string>,
  arrived: ReadonlySet<string>,
): string => {
  const ofShot = now.shotId === null ? undefined : blockOfShot.get(now.shotId)
  if (ofShot === undefined || now.shotId === swing.shotId) return swing.blockId
  const wasUnsure =
    swing.pairHow !== null && swing.pairHow !== 'coach' && swing.pairConfidence < sureConfidence
  return arrived.has(swing.id) || wasUnsure || shots.get(now.shotId!)?.blockName != null
    ? ofShot
    : swing.blockId
}

/** Keeps one picture-less swing for each shot that has no clip, in the order of the shots. */
const placeShotsWithoutClip = (
  db: Db,
  lessonId: string,
  what: {
    shots: readonly ShotRow[]
    paired: ReadonlySet<string>
    blockOfShot: ReadonlyMap<string, string>
    arrived: ReadonlySet<string>
    atOfShot: ReadonlyMap<string, number | null>
    /** When a filmed swing was hit by the device's clock, s; null if that can't be told. */
    atOfSwing: (id: string) => number | null
  },
) => {
  const { shots, paired, blockOfShot, arrived, atOfShot, atOfSwing } = what
  const swings = swingsOf(db, lessonId)
  const hasView = filmedSwingIds(db, lessonId)
  const alone = new Map<string, string>()
  for (const s of swings.filter((swing) => !hasView.has(swing.id))) {
    const isNeeded = s.shotId !== null && !paired.has(s.shotId) && !alone.has(s.shotId)
    if (isNeeded) alone.set(s.shotId!, s.id)
    else {
      handOn(db, s)
      db.delete(t.swing).where(eq(t.swing.id, s.id)).run()
    }
  }
  let last = swings.at(-1)?.position ?? 0
  const isNew = new Set<string>()
  for (const shot of shots) {
    if (paired.has(shot.id) || alone.has(shot.id)) continue
    // At the end for now; the order is put right once, below.
    const id = randomUUID()
    last += 1
    const known = blockOfShot.get(shot.id)
    if (known === undefined) isNew.add(id)
    db.insert(t.swing)
      .values({ id, lessonId, blockId: known ?? firstBlock(db, lessonId), position: last, shotId: shot.id })
      .run()
    alone.set(shot.id, id)
  }
  const filmed = swings.filter((s) => hasView.has(s.id))
  const filmedOf = new Map(filmed.flatMap((s) => (s.shotId === null ? [] : [[s.shotId, s.id] as const])))

  // Filmed swings keep their order; lone shots and clips without a shot lie between the pairs by their times.
  const order: string[] = []
  const placed = new Set<string>()
  const waiting: { id: string; at: number | null }[] = []
  let next = 0
  const take = (until: string | null) => {
    for (; next < filmed.length; next++) {
      const { id } = filmed[next]!
      if (placed.has(id)) continue
      if (id === until || (until === null && filmed[next]!.shotId !== null)) break
      const at = atOfSwing(id)
      const later = waiting.findIndex((w) => at !== null && w.at !== null && w.at > at)
      order.push(...waiting.splice(0, later < 0 ? waiting.length : later).map((w) => w.id), id)
      placed.add(id)
    }
    order.push(...waiting.splice(0).map((w) => w.id))
  }
  for (const shot of shots) {
    const swing = filmedOf.get(shot.id)
    if (swing === undefined) waiting.push({ id: alone.get(shot.id)!, at: atOfShot.get(shot.id) ?? null })
    else {
      if (!placed.has(swing)) {
        take(swing)
        order.push(swing)
        placed.add(swing)
      } else {
        order.push(...waiting.splice(0).map((w) => w.id))
      }
    }
  }
  take(null)
  for (const s of filmed) if (!placed.has(s.id)) order.push(s.id)

  // What is new and has no block by its shot belongs to the swing before it.
  const blocks = new Map(swingsOf(db, lessonId).map((s) => [s.id, s.blockId]))
  const loose = (id: string) => isNew.has(id) || (arrived.has(id) && ![...filmedOf.values()].includes(id))
  const isSettled = order.map((id) => !loose(id))
  const lastSettled = isSettled.lastIndexOf(true)
  const begun = begunBlock(db, lessonId, new Set(order.filter((id) => loose(id))))
  let block = order.map((id) => (loose(id) ? undefined : blocks.get(id))).find((b) => b !== undefined)
  for (const [index, id] of order.entries()) {
    if (!loose(id)) block = blocks.get(id)
    else if (index > lastSettled && begun !== null && begun !== blocks.get(id)) {
      db.update(t.swing).set({ blockId: begun }).where(eq(t.swing.id, id)).run()
    } else if (index > lastSettled && begun !== null) continue
    else if (block !== undefined && blocks.get(id) !== block) {
      db.update(t.swing).set({ blockId: block }).where(eq(t.swing.id, id)).run()
    }
  }
  renumber(db, lessonId, order)
}

/** The note and the star of a picture-less swing that goes away move to the swing that has its shot now. */
const handOn = (db: Db, gone: SwingRow) => {
  if ((!gone.note && !gone.isStarred && gone.didAsked === null) || gone.shotId === null) return
  const heir = db
    .select()
    .from(t.swing)
    .where(eq(t.swing.shotId, gone.shotId))
    .all()
    .find((s) => s.id !== gone.id)
  if (heir) {
    db.update(t.swing)
      .set({
        note: [heir.note, gone.note].filter(Boolean).join('\n'),
        isStarred: heir.isStarred || gone.isStarred,
        didAsked: heir.didAsked ?? gone.didAsked,
      })
      .where(eq(t.swing.id, heir.id))
      .run()
  }
}
