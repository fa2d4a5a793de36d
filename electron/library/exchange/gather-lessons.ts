import { createHash } from 'node:crypto'
import fs from 'node:fs'
import { and, asc, eq, inArray, sql } from 'drizzle-orm'
import {
  bodyFrameBytes,
  lessonRecordsSchema,
  withoutUnseen,
  type FileInside,
  type GivenLesson,
  type LessonRecords,
} from '../../../shared-core/exchange/lesson-file.ts'
import type { JointName } from '../../../shared-core/body/joints.ts'
import { standing } from '../../../shared-core/drawing/standing.ts'
import { readShape } from '../../../shared-core/drawing/read-shape.ts'
import { metricNames, type ShotMetrics } from '../../../shared-core/model/shot.ts'
import { Problem } from '../../../shared-core/problem.ts'
import { coachPictureOf } from '../coach/coach-pictures.ts'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'
import { motionsOfView } from '../queries/followed-points.ts'
import type { Source } from './lesson-file.ts'
import { asLesson, studentRow } from '../queries/open-lesson.ts'
import { cueKindIn, sayIn } from '../../../shared-core/wording/say.ts'
import { said } from '../../../shared-core/wording/phrase.ts'

export interface GiveChoice {
  studentId: string
  /** Null for all. */
  lessonIds: readonly string[] | null
  /** The coach's own notes on student, lesson and blocks, and columns of the device's file that no number was read from. */
  withNotes: boolean
  /** Injuries and other limits. */
  withLimits: boolean
}

export interface Gathered {
  records: LessonRecords
  /** In this library, in the order of the records. */
  lessonIds: string[]
  source(inside: FileInside): Source
  /** What can't go along, in words. */
  leftOut: string[]
}

const sha256 = (bytes: Buffer | string) => createHash('sha256').update(bytes).digest('hex')

/** What makes two copies of a lesson the same; comparisons with other lessons come and go with what else is given. */
export const contentHash = (lesson: GivenLesson): string =>
  sha256(
    JSON.stringify({
      ...lesson,
      comparisons: lesson.comparisons.filter(
        (c) => c.first.lesson === lesson.originId && c.second.lesson === lesson.originId,
      ),
    }),
  )

/** The same of a lesson as it would be given without the coach's own notes and the limits. */
export const bareHash = (lesson: GivenLesson): string =>
  contentHash({
    ...lesson,
    note: null,
    blocks: lesson.blocks.map((block) => ({ ...block, note: null })),
    shots: lesson.shots.map((shot) => ({ ...shot, other: null })),
    plan: lesson.plan && {
      ...lesson.plan,
      // In place: the order of the keys is part of the hash.
      items: lesson.plan.items.map((item) => ({
        ...item,
        despite: item.despite && { ...item.despite, limits: '' },
      })),
    },
  })

/** The id under which a lesson is known everywhere: its own, or that of the library that it came from. */
export const originOf = ({ db }: Pick<LibraryContext, 'db'>, lessonId: string): string =>
  db.select().from(t.takenLesson).where(eq(t.takenLesson.lessonId, lessonId)).get()?.originId ?? lessonId

const deepClean = <T>(value: T): T =>
  JSON.parse(
    JSON.stringify(value, (_key, inner: unknown) =>
      typeof inner === 'string' ? withoutUnseen(inner) : inner,
    ),
  ) as T

/** Everything of a student's lessons that a lesson file holds, as it is at one moment. */
export const gatherLessons = (context: LibraryContext, choice: GiveChoice): Gathered =>
  context.sqlite.transaction(() => gather(context, choice))()

const gather = (context: LibraryContext, choice: GiveChoice): Gathered => {
  const { db, paths } = context
  const { withNotes, withLimits } = choice
  const student = studentRow(db, choice.studentId)
  const rows = db
    .select()
    .from(t.lesson)
    .where(eq(t.lesson.studentId, choice.studentId))
    .orderBy(asc(t.lesson.date), asc(t.lesson.id))
    .all()
    .filter(({ id }) => choice.lessonIds?.includes(id) ?? true)
  if (rows.length === 0 || (choice.lessonIds && rows.length !== choice.lessonIds.length)) {
    throw new Problem('no-lesson.ofStudent', { where: student.name })
  }
  const leftOut: string[] = []
  const sources = new Map<string, Source>()
  const pictures = new Map<string, LessonRecords['pictures'][number]>()
  const pictureOf = (id: string | null): string | null => {
    const found = coachPictureOf(context, id)
    if (!found) return null
    const bytes = fs.readFileSync(found.file)
    const hash = sha256(bytes)
    const poster = found.kind === 'clip' ? fs.readFileSync(found.still) : null
    const extension = found.file.slice(found.file.lastIndexOf('.')) as '.png'
    pictures.set(hash, {
      hash,
      byteLength: bytes.length,
      kind: found.kind,
      extension,
      width: found.width,
      height: found.height,
      poster: poster && { sha256: sha256(poster), byteLength: poster.length },
    })
    const name = said('name.picture')
    sources.set(`pictures/${hash}${extension}`, { at: found.file, name })
    if (poster) sources.set(`pictures/${sha256(poster)}.poster.jpg`, { at: found.still, name })
    return hash
  }

  const places = new Map<string, { lesson: string; swing: number; view: number }>()
  const lessons = rows.map((row) =>
    lessonOf(context, { row, withNotes, withLimits, pictureOf, places, leftOut }),
  )
  // Once every picture has its place.
  rows.forEach((row, i) => {
    for (const c of db
      .select()
      .from(t.comparison)
      .where(eq(t.comparison.lessonId, row.id))
      .orderBy(asWritten)
      .all()) {
      const [first, second] = [places.get(c.firstViewId), places.get(c.secondViewId)]
      if (!first || !second) {
        leftOut.push(said('leftOut.comparison', { name: c.name }))
        continue
      }
      lessons[i]!.comparisons.push({
        name: c.name,
        first,
        second,
        lockedOn: c.lockedOn,
        arrangement: c.arrangement,
        opacity: c.opacity,
        isStretched: c.isStretched,
        mirrorSecond: c.mirrorSecond,
      })
    }
  })

  const hashes = [...new Set(lessons.flatMap((l) => l.clips.map((c) => c.hash)))].toSorted()
  const nameOf = new Map(lessons.flatMap((l) => l.clips.map((c) => [c.hash, c.fileName])))
  const clips = hashes.map((hash) => {
    const name = nameOf.get(hash)!
    const media = db.select().from(t.media).where(eq(t.media.hash, hash)).get()!
    sources.set(`clips/${hash}${media.extension}`, { at: paths.original(hash, media.extension), name })
    const body = bodyBytes(context, hash)
    if (body) sources.set(`body/${sha256(body.bytes)}.points`, { at: body.bytes, name })
    return {
      hash,
      extension: media.extension,
      byteLength: media.byteLength,
      frameCount: media.frameCount,
      body: body && {
        sha256: sha256(body.bytes),
        byteLength: body.bytes.length,
        model: body.model,
        readAt: body.readAt,
      },
    }
  })
  const kinds = new Set(
    lessons.flatMap((l) =>
      l.swings.flatMap((s) => s.views.flatMap((v) => v.moments.flatMap((m) => m.cues.map((c) => c.kind)))),
    ),
  )
  const taken = db
    .select()
    .from(t.takenStudent)
    .where(and(eq(t.takenStudent.studentId, student.id), eq(t.takenStudent.isNew, true)))
    .get()
  const records: LessonRecords = {
    writtenAt: context.now().toISOString(),
    coachName: context.settings().coachName,
    student: {
      originId: taken?.originId ?? student.id,
      name: student.name,
      side: student.side,
      isMinor: student.isMinor,
      units: student.units,
      language: student.language,
      limits: withLimits ? student.limits : null,
      note: withNotes ? student.note : null,
      consent: student.consent,
    },
    lessons,
    cueKinds: db
      .select()
      .from(t.cueKind)
      .where(inArray(t.cueKind.key, [...kinds]))
      .orderBy(asc(t.cueKind.key))
      .all()
      .map((kind) => ({ key: kind.key, group: kind.group, label: cueKindIn(sayIn('en'), kind) })),
    clips,
    pictures: [...pictures.values()],
  }
  return {
    records: inForm(records),
    lessonIds: rows.map((row) => row.id),
    source: (inside) => sources.get(inside.path)!,
    leftOut,
  }
}

/** As a file's reader gets them: of two equal lessons the same text, whoever gathered them. */
const inForm = (records: LessonRecords): LessonRecords => {
  const checked = lessonRecordsSchema.safeParse(deepClean(records))
  if (checked.success) return checked.data
  const { path: at, message } = checked.error.issues[0]!
  throw new Problem('not-givable', { reason: message, where: at.map(String).join('.') })
}

/** Rows as they were written: what is told in this order once is told in it again. */
const asWritten = sql`rowid`

/** Body points of a film as a file's bytes: frame numbers, then the points. */
const bodyBytes = ({ db }: LibraryContext, hash: string) => {
  const row = db.select().from(t.bodyPoints).where(eq(t.bodyPoints.mediaHash, hash)).get()
  if (!row || row.frames.length === 0) return null
  const bytes = Buffer.concat([row.frames, row.points])
  if (bytes.length !== (row.frames.length / 4) * bodyFrameBytes) return null
  return { bytes, model: row.model, readAt: row.readAt }
}

interface OfLesson {
  row: typeof t.lesson.$inferSelect
  withNotes: boolean
  withLimits: boolean
  pictureOf: (id: string | null) => string | null
  /** Told where each view is, by its id. */
  places: Map<string, { lesson: string; swing: number; view: number }>
  leftOut: string[]
}

const lessonOf = (context: LibraryContext, of: OfLesson): GivenLesson => {
  const { db } = context
  const { row, withNotes } = of
  const originId = originOf(context, row.id)
  const lessonId = row.id
  const { date, title, place, nextFocus, note, air, micDistanceM, isMicTold } = asLesson(row)
  const blocks = db.select().from(t.block).where(eq(t.block.lessonId, lessonId)).orderBy(asWritten).all()
  const clips = db.select().from(t.clip).where(eq(t.clip.lessonId, lessonId)).orderBy(asWritten).all()
  const shots = db.select().from(t.shot).where(eq(t.shot.lessonId, lessonId)).orderBy(asWritten).all()
  const placeIn = (rows: readonly { id: string }[], id: string) => rows.findIndex((r) => r.id === id)
  return {
    originId,
    date,
    title,
    place,
    nextFocus,
    note: withNotes ? note : null,
    air,
    micDistanceM,
    isMicTold,
    clock: row.clock ?? null,
    blocks: blocks.map((b) => ({
      name: b.name,
      focus: b.focus,
      position: b.position,
      isBaseline: b.isBaseline,
      note: withNotes ? b.note : null,
    })),
    clips: clips.map(({ id, lessonId: _lesson, mediaHash, strikes: _strikes, ...clip }) => ({
      hash: mediaHash,
      ...clip,
      corrections: db
        .select()
        .from(t.bodyCorrection)
        .where(eq(t.bodyCorrection.clipId, id))
        .orderBy(asWritten)
        .all()
        .map(({ frame, joint, x, y }) => ({ frame, joint: joint as JointName, x, y })),
    })),
    shots: shots.map((s) => ({
      ...(Object.fromEntries(metricNames.map((name) => [name, s[name]])) as ShotMetrics),
      fileName: s.fileName,
      line: s.line,
      position: s.position,
      fingerprint: s.fingerprint,
      club: s.club,
      at: s.at,
      blockName: s.blockName,
      flags: s.flags,
      other: withNotes ? s.other : null,
      isLeftOut: s.isLeftOut,
      leftOutReason: s.leftOutReason,
      isTrusted: s.isTrusted,
      assumed: s.assumed,
    })),
    swings: db
      .select()
      .from(t.swing)
      .where(eq(t.swing.lessonId, lessonId))
      .orderBy(asWritten)
      .all()
      .map((s, swing) => ({
        block: placeIn(blocks, s.blockId),
        position: s.position,
        shot: s.shotId === null ? null : placeIn(shots, s.shotId),
        pairConfidence: s.pairConfidence,
        pairHow: s.pairHow,
        isStarred: s.isStarred,
        didAsked: s.didAsked,
        note: s.note,
        views: db
          .select()
          .from(t.view)
          .where(eq(t.view.swingId, s.id))
          .orderBy(asWritten)
          .all()
          .map((v, view) => {
            of.places.set(v.id, { lesson: originId, swing, view })
            return {
              clip: placeIn(clips, v.clipId),
              fromFrame: v.fromFrame,
              toFrame: v.toFrame,
              ...marksOf(context, v.id, of.leftOut),
            }
          }),
      })),
    comparisons: [],
    facePhotos: db
      .select()
      .from(t.facePhoto)
      .where(eq(t.facePhoto.lessonId, lessonId))
      .orderBy(asWritten)
      .all()
      .flatMap(({ id: _id, lessonId: _lesson, clipId, pictureId, ...photo }): GivenLesson['facePhotos'] => {
        if (clipId !== null) {
          return [{ ...photo, clip: clips.findIndex((c) => c.id === clipId), picture: null }]
        }
        const picture = of.pictureOf(pictureId)
        if (picture === null) of.leftOut.push(said('leftOut.facePhoto'))
        return picture === null ? [] : [{ ...photo, clip: null, picture }]
      }),
    plan: planOf(context, of),
  }
}

const marksOf = ({ db }: LibraryContext, viewId: string, leftOut: string[]) => {
  const moments = db.select().from(t.moment).where(eq(t.moment.viewId, viewId)).orderBy(asWritten).all()
  return {
    moments: moments.map(({ id, viewId: _view, ...moment }) => ({
      ...moment,
      cues: db
        .select()
        .from(t.cue)
        .where(eq(t.cue.momentId, id))
        .orderBy(asWritten)
        .all()
        .map(({ id: _id, momentId: _moment, ...cue }) => cue),
    })),
    drawings: db
      .select()
      .from(t.drawing)
      .where(eq(t.drawing.viewId, viewId))
      .orderBy(asWritten)
      .all()
      .flatMap(({ id: _id, viewId: _view, momentId, shape, ...drawing }) => {
        try {
          const moment = momentId === null ? null : moments.findIndex((m) => m.id === momentId)
          const read = { ...drawing, shape: readShape(shape) }
          // What a drawing moves with is not in the file.
          const still = read.tie ? standing(read, motionsOfView(db, viewId)) : read
          if (!still) {
            leftOut.push(said('leftOut.followed'))
            return []
          }
          const { tie: _tie, ...rest } = still
          return [{ ...rest, moment }]
        } catch {
          leftOut.push(said('leftOut.drawing'))
          return []
        }
      }),
  }
}

const planOf = ({ db }: LibraryContext, of: OfLesson): GivenLesson['plan'] => {
  const row = db.select().from(t.plan).where(eq(t.plan.lessonId, of.row.id)).get()
  if (!row) return null
  const { items, note, outcome } = row
  return {
    note,
    outcome,
    items: items.map(({ drillId: _drill, pictureId, ...item }) => ({
      ...item,
      // Older plans know nothing of it.
      despite: item.despite ? { ...item.despite, limits: of.withLimits ? item.despite.limits : '' } : null,
      picture: of.pictureOf(pictureId ?? null),
    })),
  }
}
