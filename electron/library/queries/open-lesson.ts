import { asc, eq, inArray, sql, type SQL } from 'drizzle-orm'
import { noConsent } from '../../../shared-core/model/entities.ts'
import type {
  Clip,
  GuestPicture,
  Lesson,
  OpenLesson,
  Shot,
  Student,
  View,
} from '../../../shared-core/model/entities.ts'
import { metricNames, type ShotMetrics } from '../../../shared-core/model/shot.ts'
import { Problem } from '../../../shared-core/problem.ts'
import type { Db } from '../database/open.ts'
import * as t from '../database/schema.ts'
import type { LibraryContext } from '../context.ts'
import { lessonRow } from './lesson-row.ts'
import { swingsAndStillsOf } from './swings-of.ts'

export const asLesson = (row: typeof t.lesson.$inferSelect): Lesson => ({
  id: row.id,
  studentId: row.studentId,
  date: row.date,
  title: row.title,
  place: row.place,
  note: row.note,
  nextFocus: row.nextFocus,
  air: {
    temperatureC: row.temperatureC,
    pressureHpa: row.pressureHpa,
    altitudeM: row.altitudeM,
    humidityPercent: row.humidityPercent,
  },
  micDistanceM: row.micDistanceM,
  isMicTold: row.isMicTold,
})

export const studentRow = (db: Db, id: string): Student => {
  const row = db.select().from(t.student).where(eq(t.student.id, id)).get()
  if (!row) {
    throw new Problem('no-student.any', { where: id })
  }
  const { createdAt: _createdAt, ...student } = row
  // Consents of older libraries know nothing of covers.
  return { ...student, consent: { ...noConsent, ...student.consent } }
}

const asShot = (row: typeof t.shot.$inferSelect): Shot => ({
  ...(Object.fromEntries(metricNames.map((name) => [name, row[name]])) as ShotMetrics),
  id: row.id,
  lessonId: row.lessonId,
  fileName: row.fileName,
  line: row.line,
  order: row.position,
  club: row.club,
  at: row.at,
  blockName: row.blockName,
  flags: row.flags,
  other: row.other,
  isLeftOut: row.isLeftOut,
  leftOutReason: row.leftOutReason,
  isTrusted: row.isTrusted,
  assumed: row.assumed,
})

export const shotsOf = (db: Db, lessonId: string): Shot[] =>
  db
    .select()
    .from(t.shot)
    .where(eq(t.shot.lessonId, lessonId))
    .orderBy(asc(t.shot.position))
    .all()
    .map(asShot)

const clipsWhere = (db: Db, where: SQL): Clip[] =>
  db
    .select({
      clip: t.clip,
      // The blobs (timestamps, peaks) stay in the database; they are asked for one clip at a time.
      byteLength: t.media.byteLength,
      codec: t.media.codec,
      width: t.media.width,
      height: t.media.height,
      rotationDeg: t.media.rotationDeg,
      frameCount: t.media.frameCount,
      durationSeconds: t.media.durationSeconds,
      playbackRate: t.media.playbackRate,
      hasVariableRate: t.media.hasVariableRate,
      recordedAt: t.media.recordedAt,
      hasSound: t.media.hasSound,
      hasProxy: t.media.hasProxy,
    })
    .from(t.clip)
    .innerJoin(t.media, eq(t.media.hash, t.clip.mediaHash))
    .where(where)
    .orderBy(asc(t.clip.fileName))
    .all()
    .map(({ clip: { mediaHash, strikes: _strikes, ...clip }, ...facts }) => ({
      ...clip,
      ...facts,
      hash: mediaHash,
    }))

export const clipsOf = (db: Db, lessonId: string): Clip[] => clipsWhere(db, eq(t.clip.lessonId, lessonId))

const grouped = <T, K extends keyof T>(rows: T[], key: K): Map<T[K], T[]> => {
  const groups = new Map<T[K], T[]>()
  for (const row of rows) {
    const group = groups.get(row[key])
    if (group) group.push(row)
    else groups.set(row[key], [row])
  }
  return groups
}

/** Views with what is marked, tagged and drawn on them. */
const viewsWhere = (db: Db, where: SQL): View[] => {
  const viewIds = db.select({ id: t.view.id }).from(t.view).where(where)
  const momentIds = db.select({ id: t.moment.id }).from(t.moment).where(inArray(t.moment.viewId, viewIds))
  const moments = db
    .select()
    .from(t.moment)
    .where(inArray(t.moment.viewId, viewIds))
    .orderBy(asc(t.moment.frame))
    .all()
  // In the order of their moments, then as they were tagged: the same every time.
  const place = new Map(moments.map((m, i) => [m.id, i]))
  const cues = db
    .select()
    .from(t.cue)
    .where(inArray(t.cue.momentId, momentIds))
    .orderBy(sql`rowid`)
    .all()
    .toSorted((a, b) => place.get(a.momentId)! - place.get(b.momentId)!)
  const drawings = db
    .select()
    .from(t.drawing)
    .where(inArray(t.drawing.viewId, viewIds))
    .orderBy(asc(t.drawing.position))
    .all()
  const momentsOf = grouped(moments, 'viewId')
  const viewOfMoment = new Map(moments.map((m) => [m.id, m.viewId]))
  const cuesOf = grouped(
    cues.map((cue) => ({ cue, viewId: viewOfMoment.get(cue.momentId)! })),
    'viewId',
  )
  const drawingsOf = grouped(drawings, 'viewId')
  return db
    .select()
    .from(t.view)
    .where(where)
    .all()
    .map((view) => ({
      ...view,
      moments: momentsOf.get(view.id) ?? [],
      cues: (cuesOf.get(view.id) ?? []).map((c) => c.cue),
      drawings: (drawingsOf.get(view.id) ?? []).map(({ position, ...drawing }) => ({
        ...drawing,
        order: position,
      })),
    }))
}

/** A picture as another lesson sees it. @throws Problem `gone` */
export const guestPicture = (db: Db, viewId: string): GuestPicture => {
  const [view] = viewsWhere(db, eq(t.view.id, viewId))
  if (!view) {
    throw new Problem('gone.swing', { where: viewId })
  }
  const { position, ...swing } = db.select().from(t.swing).where(eq(t.swing.id, view.swingId)).get()!
  const lesson = db.select().from(t.lesson).where(eq(t.lesson.id, swing.lessonId)).get()!
  const shot = swing.shotId ? db.select().from(t.shot).where(eq(t.shot.id, swing.shotId)).get() : undefined
  return {
    lesson: { id: lesson.id, date: lesson.date, title: lesson.title },
    blockName: db.select().from(t.block).where(eq(t.block.id, swing.blockId)).get()!.name,
    swing: { ...swing, order: position, views: [view] },
    clip: clipsWhere(db, eq(t.clip.id, view.clipId))[0]!,
    shot: shot ? asShot(shot) : null,
  }
}

/** Everything the Desk shows of a lesson, in one reading. */
export const openLesson = (
  { db, journal }: Pick<LibraryContext, 'db' | 'journal'>,
  lessonId: string,
): OpenLesson => {
  const lesson = lessonRow(db, lessonId)
  const swings = swingsAndStillsOf(db, lessonId)
  const ofLesson = db.select({ id: t.swing.id }).from(t.swing).where(eq(t.swing.lessonId, lessonId))
  const clips = clipsOf(db, lessonId)
  // Face-on first: the picture a coach looks at first.
  const cameras = ['face-on', 'down-the-line', 'other']
  // Stills after films.
  const cameraOf = new Map(
    clips.map((c) => [c.id, c.stillKind === null ? cameras.indexOf(c.camera) : cameras.length]),
  )
  const views = viewsWhere(db, inArray(t.view.swingId, ofLesson)).toSorted(
    (x, y) => (cameraOf.get(x.clipId) ?? 0) - (cameraOf.get(y.clipId) ?? 0),
  )
  const viewsOf = grouped(views, 'swingId')
  const here = new Set(views.map((v) => v.id))
  const comparisons = db.select().from(t.comparison).where(eq(t.comparison.lessonId, lessonId)).all()
  const shown = new Set(comparisons.flatMap((c) => [c.firstViewId, c.secondViewId]))
  return {
    revision: journal.revision(lessonId),
    student: studentRow(db, lesson.studentId),
    lesson: asLesson(lesson),
    blocks: db
      .select()
      .from(t.block)
      .where(eq(t.block.lessonId, lessonId))
      .orderBy(asc(t.block.position))
      .all()
      .map(({ position, ...block }) => ({ ...block, order: position })),
    swings: swings.map(({ position, ...swing }) => ({
      ...swing,
      order: position,
      views: viewsOf.get(swing.id) ?? [],
    })),
    shots: shotsOf(db, lessonId),
    facePhotos: db.select().from(t.facePhoto).where(eq(t.facePhoto.lessonId, lessonId)).all(),
    clips,
    comparisons,
    guests: [...shown].filter((id) => !here.has(id)).map((id) => guestPicture(db, id)),
    clock: lesson.clock ?? null,
    ...journal.labels(lessonId),
  }
}
