import { randomUUID } from 'node:crypto'
import { eq } from 'drizzle-orm'
import type { GivenLesson, LessonRecords } from '../../../shared-core/exchange/lesson-file.ts'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'
import { bareHash, contentHash } from './gather-lessons.ts'
import { cueKindIn, sayIn } from '../../../shared-core/wording/say.ts'
import { said } from '../../../shared-core/wording/phrase.ts'

/** Said on the card where a colleague gave no limits along: nobody should take silence for a sound body. */
export const limitsNotGiven = said('taken.noLimits')

/** Makes the file's student; the id. The consent goes along as it was recorded. */
export const insertStudent = (context: LibraryContext, { student }: LessonRecords): string => {
  const { originId: _origin, limits, note, ...rest } = student
  const id = randomUUID()
  context.db
    .insert(t.student)
    .values({
      id,
      ...rest,
      limits: limits ?? limitsNotGiven,
      note: note ?? '',
      createdAt: context.now().toISOString(),
    })
    .run()
  return id
}

/** The file's kinds of cues by the keys they have here; one that is here under the same key with other words gets a new key. */
const insertCueKinds = ({ db }: LibraryContext, records: LessonRecords): ReadonlyMap<string, string> => {
  const keys = new Map<string, string>()
  for (const kind of records.cueKinds) {
    const key = (n: number) => (n === 1 ? kind.key : `${kind.key}-${n}`)
    for (let n = 1; ; n += 1) {
      const there = db
        .select()
        .from(t.cueKind)
        .where(eq(t.cueKind.key, key(n)))
        .get()
      // The starting kinds are the same everywhere, whatever a coach calls them.
      if (there && (cueKindIn(sayIn('en'), there) === kind.label || !there.isOwn)) {
        keys.set(kind.key, there.key)
        break
      }
      if (there) continue
      db.insert(t.cueKind)
        .values({ key: key(n), group: kind.group, label: kind.label, isOwn: true })
        .run()
      keys.set(kind.key, key(n))
      break
    }
  }
  return keys
}

/**
 * Writes lessons of a file, all with ids of their own, in the order that they were told in. Runs inside the caller's
 * transaction; films and pictures are there.
 * @param pictureIds by hash
 * @returns ids of the lessons made
 */
export const insertLessons = (
  context: LibraryContext,
  records: LessonRecords,
  wanted: readonly GivenLesson[],
  studentId: string,
  pictureIds: ReadonlyMap<string, string>,
): string[] => {
  const keys = insertCueKinds(context, records)
  /** Ids of the views made, by their places. */
  const views = new Map<string, string>()
  const lessonIds = new Map<string, string>()
  for (const lesson of wanted) {
    const id = insertLesson(context, lesson, { studentId, keys, pictureIds, views })
    lessonIds.set(lesson.originId, id)
    context.db
      .insert(t.takenLesson)
      .values({
        lessonId: id,
        originId: lesson.originId,
        contentHash: contentHash(lesson),
        bareHash: bareHash(lesson),
        writtenAt: records.writtenAt,
      })
      .run()
    context.journal.bump(id)
  }
  for (const lesson of wanted) {
    for (const { first, second, ...comparison } of lesson.comparisons) {
      const [firstViewId, secondViewId] = [views.get(placeKey(first)), views.get(placeKey(second))]
      // A lesson of the two was here already, and was not taken in again.
      if (!firstViewId || !secondViewId) continue
      context.db
        .insert(t.comparison)
        .values({
          id: randomUUID(),
          lessonId: lessonIds.get(lesson.originId)!,
          firstViewId,
          secondViewId,
          ...comparison,
        })
        .run()
    }
  }
  return [...lessonIds.values()]
}

const placeKey = (place: { lesson: string; swing: number; view: number }) =>
  `${place.lesson} ${place.swing} ${place.view}`

interface Into {
  studentId: string
  keys: ReadonlyMap<string, string>
  pictureIds: ReadonlyMap<string, string>
  views: Map<string, string>
}

const insertLesson = ({ db }: LibraryContext, lesson: GivenLesson, into: Into): string => {
  const { pictureIds } = into
  const lessonId = randomUUID()
  const { originId, date, title, place, note, nextFocus, air, micDistanceM, isMicTold, clock } = lesson
  db.insert(t.lesson)
    .values({
      id: lessonId,
      studentId: into.studentId,
      date,
      title,
      place,
      note: note ?? '',
      nextFocus,
      ...air,
      micDistanceM,
      isMicTold,
      clock,
    })
    .run()
  const blockIds = lesson.blocks.map((block) => {
    const id = randomUUID()
    db.insert(t.block)
      .values({ id, lessonId, ...block, note: block.note ?? '' })
      .run()
    return id
  })
  const clipIds = lesson.clips.map(({ hash, corrections, ...clip }) => {
    const id = randomUUID()
    db.insert(t.clip)
      .values({ id, lessonId, mediaHash: hash, ...clip })
      .run()
    for (const correction of corrections) {
      db.insert(t.bodyCorrection)
        .values({ id: randomUUID(), clipId: id, ...correction })
        .run()
    }
    return id
  })
  const shotIds = lesson.shots.map((shot) => {
    const id = randomUUID()
    db.insert(t.shot)
      .values({ id, lessonId, ...shot, other: shot.other ?? {} })
      .run()
    return id
  })
  lesson.swings.forEach(({ block, shot, views, ...swing }, swingIndex) => {
    const swingId = randomUUID()
    db.insert(t.swing)
      .values({
        id: swingId,
        lessonId,
        blockId: blockIds[block]!,
        shotId: shot === null ? null : shotIds[shot]!,
        ...swing,
      })
      .run()
    views.forEach(({ clip, moments, drawings, ...view }, viewIndex) => {
      const viewId = randomUUID()
      into.views.set(placeKey({ lesson: originId, swing: swingIndex, view: viewIndex }), viewId)
      db.insert(t.view)
        .values({ id: viewId, swingId, clipId: clipIds[clip]!, ...view })
        .run()
      const momentIds = moments.map(({ cues, ...moment }) => {
        const id = randomUUID()
        db.insert(t.moment)
          .values({ id, viewId, ...moment })
          .run()
        for (const cue of cues) {
          db.insert(t.cue)
            .values({ id: randomUUID(), momentId: id, ...cue, kind: into.keys.get(cue.kind)! })
            .run()
        }
        return id
      })
      for (const { moment, ...drawing } of drawings) {
        db.insert(t.drawing)
          .values({
            id: randomUUID(),
            viewId,
            momentId: moment === null ? null : momentIds[moment]!,
            ...drawing,
          })
          .run()
      }
    })
  })
  for (const { clip, picture, ...photo } of lesson.facePhotos) {
    const of = {
      clipId: clip === null ? null : clipIds[clip]!,
      pictureId: picture && pictureIds.get(picture)!,
    }
    db.insert(t.facePhoto)
      .values({ id: randomUUID(), lessonId, ...of, ...photo })
      .run()
  }
  if (lesson.plan) {
    const { items, note: planNote, outcome } = lesson.plan
    db.insert(t.plan)
      .values({
        lessonId,
        note: planNote,
        outcome,
        items: items.map(({ picture, ...item }) => ({
          ...item,
          drillId: null,
          pictureId: picture === null ? null : pictureIds.get(picture)!,
        })),
      })
      .run()
  }
  return lessonId
}
