import { randomUUID } from 'node:crypto'
import { asc, eq } from 'drizzle-orm'
import { pairSwings } from '../../../shared-core/pairing/pair-swings.ts'
import { wallSeconds } from '../../../shared-core/shots/read-wall-time.ts'
import type { Db } from '../database/open.ts'
import * as t from '../database/schema.ts'
import { firstBlock, renumber } from './swing-order.ts'
import { swingTimes } from './swing-times.ts'
import { filmedSwingIds, swingsOf } from './swings-of.ts'

/**
 * Pairs a lesson's filmed swings with its shots; what the coach fixed stays. Shots without a clip become swings
 * without a picture, in their place. Returns what was paired and what was left over.
 */
export const pairLesson = (
  db: Db,
  lessonId: string,
  byHand?: { swingId: string; shotId: string | null; refit: boolean },
): { pairs: number; unpairedClips: number; unpairedShots: number } => {
  const shots = db
    .select()
    .from(t.shot)
    .where(eq(t.shot.lessonId, lessonId))
    .orderBy(asc(t.shot.position))
    .all()
  const swings = swingsOf(db, lessonId)
  const filmed = filmedSwingIds(db, lessonId)
  const clipSwings = swings.filter((s) => filmed.has(s.id))
  const times = swingTimes(db, lessonId)

  const fixed = clipSwings
    .filter(
      (s) =>
        s.pairHow === 'coach' &&
        s.id !== byHand?.swingId &&
        (s.shotId === null || s.shotId !== byHand?.shotId),
    )
    .map((s) => ({ swingId: s.id, shotId: s.shotId }))
  if (byHand && filmed.has(byHand.swingId)) fixed.push({ swingId: byHand.swingId, shotId: byHand.shotId })

  const assigned = new Map<
    string,
    { shotId: string | null; confidence: number; how: 'clock' | 'spacing' | 'order' | 'coach' | null }
  >()
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
    // The zone of the device is unknown; the fitted offset takes care of it.
    const deviceSeconds = wallSeconds(shots.map((s) => s.at))
    const result = pairSwings({
      swings: clipSwings.map((s) => ({ id: s.id, atSeconds: times.get(s.id) ?? null, blockId: s.blockId })),
      shots: shots.map((s, i) => ({ id: s.id, atSeconds: deviceSeconds[i] ?? null, club: s.club })),
      fixed,
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

  for (const s of clipSwings) {
    const a = assigned.get(s.id)!
    if (s.shotId !== a.shotId || s.pairConfidence !== a.confidence || s.pairHow !== a.how) {
      db.update(t.swing)
        .set({ shotId: a.shotId, pairConfidence: a.confidence, pairHow: a.how })
        .where(eq(t.swing.id, s.id))
        .run()
    }
  }
  db.update(t.lesson).set({ clock }).where(eq(t.lesson.id, lessonId)).run()
  const paired = new Set([...assigned.values()].map((a) => a.shotId).filter((id) => id !== null))
  placeShotsWithoutClip(db, lessonId, shots, paired)
  return {
    pairs: paired.size,
    unpairedClips: clipSwings.length - paired.size,
    unpairedShots: shots.length - paired.size,
  }
}

/** Keeps one picture-less swing for each shot that has no clip, in the order of the shots. */
const placeShotsWithoutClip = (
  db: Db,
  lessonId: string,
  shots: { id: string }[],
  paired: ReadonlySet<string>,
) => {
  const swings = swingsOf(db, lessonId)
  const hasView = filmedSwingIds(db, lessonId)
  const alone = new Map<string, string>()
  for (const s of swings.filter((swing) => !hasView.has(swing.id))) {
    const isNeeded = s.shotId !== null && !paired.has(s.shotId) && !alone.has(s.shotId)
    if (isNeeded) alone.set(s.shotId!, s.id)
    else {
      keepNote(db, s)
      db.delete(t.swing).where(eq(t.swing.id, s.id)).run()
    }
  }
  let last = swings.at(-1)?.position ?? 0
  for (const shot of shots) {
    if (paired.has(shot.id) || alone.has(shot.id)) continue
    // At the end for now; the order is put right once, below.
    const id = randomUUID()
    last += 1
    db.insert(t.swing)
      .values({ id, lessonId, blockId: firstBlock(db, lessonId), position: last, shotId: shot.id })
      .run()
    alone.set(shot.id, id)
  }
  // Filmed swings keep their order; each lone shot goes before the next shot that has a clip.
  const filmed = swings.filter((s) => hasView.has(s.id))
  const swingOfShot = new Map(
    db
      .select()
      .from(t.swing)
      .where(eq(t.swing.lessonId, lessonId))
      .all()
      .filter((s) => s.shotId !== null && hasView.has(s.id))
      .map((s) => [s.shotId!, s.id]),
  )
  const order: string[] = []
  const placed = new Set<string>()
  let next = 0
  for (const shot of shots) {
    const swing = swingOfShot.get(shot.id)
    if (swing === undefined) order.push(alone.get(shot.id)!)
    else {
      while (next < filmed.length && !placed.has(swing)) {
        const id = filmed[next]!.id
        next += 1
        if (!placed.has(id)) order.push(id)
        placed.add(id)
      }
    }
  }
  for (const s of filmed.slice(next)) order.push(s.id)
  const blocks = new Map(swings.map((s) => [s.id, s.blockId]))
  let block: string | undefined = filmed[0]?.blockId
  for (const id of order) {
    const isAlone = !hasView.has(id)
    if (!isAlone) block = blocks.get(id)
    else if (block !== undefined && blocks.get(id) === undefined) {
      db.update(t.swing).set({ blockId: block }).where(eq(t.swing.id, id)).run()
    }
  }
  renumber(db, lessonId, order)
}

/** A note on a picture-less swing that goes away moves to the swing that has its shot now. */
const keepNote = (db: Db, gone: typeof t.swing.$inferSelect) => {
  if (!gone.note || gone.shotId === null) return
  const heir = db
    .select()
    .from(t.swing)
    .where(eq(t.swing.shotId, gone.shotId))
    .all()
    .find((s) => s.id !== gone.id)
  if (heir) {
    db.update(t.swing)
      .set({ note: [heir.note, gone.note].filter(Boolean).join('\n') })
      .where(eq(t.swing.id, heir.id))
      .run()
  }
}
