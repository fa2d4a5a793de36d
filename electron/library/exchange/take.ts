import { randomUUID } from 'node:crypto'
import fs from 'node:fs'
import path from 'node:path'
import { eq } from 'drizzle-orm'
import { z } from 'zod'
import {
  bodyFrameBytes,
  type GivenLesson,
  type LessonRecords,
} from '../../../shared-core/exchange/lesson-file.ts'
import { reasonNotToGive } from '../../../shared-core/model/consent.ts'
import { localDay } from '../../../shared-core/model/local-day.ts'
import { Problem } from '../../../shared-core/problem.ts'
import { assertPicture } from '../coach/coach-pictures.ts'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'
import { keepMedia, type NewMedia } from '../jobs/keep-media.ts'
import type { JobRun } from '../jobs/queue.ts'
import { isDiskFull } from '../disk-full.ts'
import { factsAsKept } from '../media/fields.ts'
import { probeClip } from '../media/probe.ts'
import { makeStillParts, stillExtensions } from '../media/still-picture.ts'
import { Cancelled, type RunOptions } from '../media/run-ffmpeg.ts'
import { videoExtensions } from '../media/video-extensions.ts'
import { studentRow } from '../queries/open-lesson.ts'
import { insertLessons, insertStudent } from './insert-lessons.ts'
import { knownLesson, knownStudents } from './known.ts'
import { damagedFile, LessonFile } from './lesson-file.ts'
import { phrase, sayOrNull, said, type Word } from '../../../shared-core/wording/phrase.ts'

export const takeTaskSchema = z.object({
  file: z.string(),
  /** The coach's word on who it is: null for a new student, marked as a colleague's. */
  studentId: z.string().nullable(),
  /** The student that they came to, for deleting. */
  takenInto: z.string().optional(),
  /** Other copies of lessons that are here: left out, or taken in as lessons of their own beside them. */
  otherCopies: z.enum(['leave', 'beside']),
})

/** @throws Problem `no-consent`: what may not be given may not be taken either */
const assertMayTake = ({ student }: LessonRecords, now: Date) => {
  const reason = reasonNotToGive(student, localDay(now))
  if (reason === null) return
  throw new Problem('no-consent.taking', { reason })
}

/**
 * Takes lessons of a colleague's file in: every file is read and compared with its hash and every film opened before the
 * first record is written; the records come in one transaction. Nothing is changed by what fails or is stopped.
 * The result says in words what came in.
 * @throws Problem of LessonFile.open; `no-consent`, `disk-full`, `lesson-known`
 */
export const takeLessons = async (context: LibraryContext, run: JobRun): Promise<Word> => {
  const task = takeTaskSchema.parse(run.task)
  const { paths } = context
  const work = path.join(paths.incoming, run.id)
  const moved: string[] = []
  run.say(phrase('step.reading'), 0)
  const from = await LessonFile.open(task.file)
  try {
    const { records } = from
    assertMayTake(records, context.now())
    const wantedNow = () =>
      records.lessons.filter((lesson) => {
        const { standing } = knownLesson(context, lesson, records)
        return standing === 'new' || (standing !== 'same' && task.otherCopies === 'beside')
      })
    const wanted = wantedNow()
    assertRoom(from, paths.incoming)
    fs.rmSync(work, { recursive: true, force: true })
    fs.mkdirSync(work, { recursive: true })
    const files = await extract(from, work, run)
    if (wanted.length === 0) return nothingNew(context, records)
    const options = { programs: await context.mediaPrograms(), signal: run.signal }
    const fresh = await readFilms(context, from, wanted, files, options, run)
    const pictures = await readPictures(from, wanted, files, options)
    return await keepMedia(context, run, fresh, options, () => {
      // Another job may have taken the same file in meanwhile.
      const still = wantedNow()
      if (still.length === 0) return nothingNew(context, records)
      const studentId = placeStudent(context, records, task.studentId)
      insertBodies(context, from, still, files)
      const pictureIds = placePictures(context, pictures, moved)
      insertLessons(context, records, still, studentId, pictureIds)
      context.jobs.remember(run.id, { takenInto: studentId })
      moved.length = 0
      const left = records.lessons.length - still.length
      const clips = new Set(still.flatMap((l) => l.clips.map((c) => c.hash))).size
      const taken = { lessons: still.length, clips }
      return left > 0 ? phrase('result.takenRestHere', { ...taken, left }) : phrase('result.taken', taken)
    })
  } catch (error) {
    for (const file of moved) fs.rmSync(file, { force: true })
    if (run.signal.aborted) throw new Cancelled()
    throw problemOf(error, task.file)
  } finally {
    from.close()
    fs.rmSync(work, { recursive: true, force: true })
  }
}

const problemOf = (error: unknown, file: string): unknown => {
  if (isDiskFull(error)) return noRoom(file)
  // What the schemas let through, and the database does not take.
  const { code } = error as { code?: unknown }
  if (typeof code === 'string' && code.startsWith('SQLITE_CONSTRAINT')) {
    return damagedFile(file, phrase('fault.recordsContradict'), error)
  }
  return error
}

const noRoom = (file: string) => new Problem('disk-full.taking', { where: file })

/** Films, and about half as much again for what is made of them. */
const assertRoom = (from: LessonFile, folder: string) => {
  const { bavail, bsize } = fs.statfsSync(folder)
  const needed = 1.5 * from.files.reduce((sum, { byteLength }) => sum + byteLength, 0)
  if (bavail * bsize < needed) throw noRoom(from.file)
}

const nothingNew = (context: LibraryContext, records: LessonRecords): Word => {
  const other = records.lessons.filter((l) => knownLesson(context, l, records).standing !== 'same')
  if (other.length === 0) {
    return phrase('result.nothingNew', { lessons: records.lessons.length })
  }
  throw new Problem('lesson-known', { where: other.map((l) => `${l.date} ${l.title}`.trim()).join(', ') })
}

/** All files of the lesson file, compared with their hashes; where each lies now, by its path inside. */
const extract = async (from: LessonFile, work: string, run: JobRun): Promise<Map<string, string>> => {
  const total = from.files.reduce((sum, { byteLength }) => sum + byteLength, 1)
  let done = 0
  const files = new Map<string, string>()
  for (const [i, inside] of from.files.entries()) {
    run.say(phrase('step.checkingFiles'), (0.35 * done) / total)
    const target = path.join(work, `${i}${path.extname(inside.path)}`)
    await from.take(inside, target, run.signal)
    files.set(inside.path, target)
    done += inside.byteLength
  }
  return files
}

/** Films that are not here yet, opened and read by this machine's own ffmpeg; what the file says of them is not believed. */
const readFilms = async (
  context: LibraryContext,
  from: LessonFile,
  wanted: readonly GivenLesson[],
  files: ReadonlyMap<string, string>,
  options: Omit<RunOptions, 'clipName'>,
  run: JobRun,
): Promise<NewMedia[]> => {
  const { db, paths } = context
  const fresh: NewMedia[] = []
  const wantedHashes = new Set(wanted.flatMap((l) => l.clips.map((c) => c.hash)))
  for (const [i, film] of from.records.clips.entries()) {
    const { hash, frameCount, byteLength } = film
    if (!wantedHashes.has(hash)) continue
    run.say(phrase('step.readingClips'), 0.35 + (0.15 * i) / from.records.clips.length)
    const clipName = wanted.flatMap((l) => l.clips).find((c) => c.hash === hash)!.fileName
    const there = db.select().from(t.media).where(eq(t.media.hash, hash)).get()
    const asHere = (frames: number) => {
      if (frames === frameCount) return
      throw new Problem('frames-differ', { frames, wanted: frameCount, where: clipName })
    }
    if (there) {
      asHere(there.frameCount)
      continue
    }
    const copy = files.get(`clips/${hash}${film.extension}`)!
    const own = path.join(paths.incoming, run.id, hash)
    fs.mkdirSync(own)
    const { extension } = film
    if (stillExtensions.has(extension)) {
      const { facts, parts } = await makeStillParts(copy, own, { ...options, clipName })
      asHere(facts.frameCount)
      fresh.push({ copy, work: own, clipName, hash, extension, byteLength, facts, posterFrame: 0, parts })
      continue
    }
    const read = factsAsKept(await probeClip(copy, { ...options, clipName }), frameCount)
    const facts =
      read.frameCount === frameCount ? read : await probeClip(copy, { ...options, clipName }, 'decoding')
    asHere(facts.frameCount)
    fresh.push({
      copy,
      work: own,
      clipName,
      hash,
      extension: videoExtensions.has(extension) ? extension : '.video',
      byteLength,
      facts,
      posterFrame: impactOf(wanted, hash),
    })
  }
  return fresh
}

const impactOf = (lessons: readonly GivenLesson[], hash: string): number | null => {
  for (const { clips, swings } of lessons) {
    for (const view of swings.flatMap((s) => s.views)) {
      if (clips[view.clip]!.hash !== hash) continue
      const impact = view.moments.find((m) => m.name === 'impact')
      if (impact) return impact.frame
    }
  }
  return null
}

interface ReadPicture {
  picture: LessonRecords['pictures'][number]
  id: string
  file: string
  poster: string | null
}

const readPictures = async (
  from: LessonFile,
  wanted: readonly GivenLesson[],
  files: ReadonlyMap<string, string>,
  options: Omit<RunOptions, 'clipName'>,
): Promise<ReadPicture[]> => {
  const used = new Set(
    wanted.flatMap((l) => [
      ...l.facePhotos.flatMap((p) => p.picture ?? []),
      ...(l.plan?.items.flatMap((item) => item.picture ?? []) ?? []),
    ]),
  )
  const read: ReadPicture[] = []
  for (const picture of from.records.pictures.filter((p) => used.has(p.hash))) {
    const file = files.get(`pictures/${picture.hash}${picture.extension}`)!
    const poster = picture.poster ? files.get(`pictures/${picture.poster.sha256}.poster.jpg`)! : null
    const clipName = said('name.pictureInFile')
    await assertPicture(file, picture, { ...options, clipName })
    if (poster) {
      await assertPicture(poster, { kind: 'picture', width: null, height: null }, { ...options, clipName })
    }
    read.push({ picture, id: randomUUID(), file, poster })
  }
  return read
}

/** Moves pictures in and writes them down; their ids here by hash. `moved` is told where each lies. */
const placePictures = (
  { db, paths, now }: LibraryContext,
  pictures: readonly ReadPicture[],
  moved: string[],
) => {
  const ids = new Map<string, string>()
  const move = (file: string, to: string) => {
    fs.renameSync(file, to)
    moved.push(to)
  }
  for (const { picture, id, file, poster } of pictures) {
    const { kind, extension, width, height, byteLength, hash } = picture
    if (poster) move(poster, paths.coachPicture(id, '.poster.jpg'))
    move(file, paths.coachPicture(id, extension))
    db.insert(t.coachPicture)
      .values({ id, kind, extension, width, height, byteLength, addedAt: now().toISOString() })
      .run()
    ids.set(hash, id)
  }
  return ids
}

/** Points of the body, where none were read here. */
const insertBodies = (
  { db }: LibraryContext,
  from: LessonFile,
  wanted: readonly GivenLesson[],
  files: ReadonlyMap<string, string>,
) => {
  const used = new Set(wanted.flatMap((l) => l.clips.map((c) => c.hash)))
  for (const { hash, body, frameCount } of from.records.clips) {
    if (!body || !used.has(hash)) continue
    if (db.select().from(t.bodyPoints).where(eq(t.bodyPoints.mediaHash, hash)).get()) continue
    const bytes = fs.readFileSync(files.get(`body/${body.sha256}.points`)!)
    const count = bytes.length / bodyFrameBytes
    const frames = bytes.subarray(0, 4 * count)
    const points = bytes.subarray(4 * count)
    for (let i = 0, last = -1; i < count; i += 1) {
      const frame = frames.readInt32LE(4 * i)
      if (frame <= last || frame >= frameCount) {
        throw damagedFile(from.file, phrase('fault.bodyPointsNoFrames'))
      }
      last = frame
    }
    for (let i = 0; i < points.length; i += 4) {
      if (!(Math.abs(points.readFloatLE(i)) < 1e6)) {
        throw damagedFile(from.file, phrase('fault.bodyPointsNone'))
      }
    }
    db.insert(t.bodyPoints)
      .values({ mediaHash: hash, model: body.model, readAt: body.readAt, frames, points })
      .run()
  }
}

/** The student by the coach's word, or a new one. What the consent asks for goes along: the stricter of two holds. */
const placeStudent = (context: LibraryContext, records: LessonRecords, wanted: string | null): string => {
  const { db } = context
  const id = wanted ?? insertStudent(context, records)
  if (wanted !== null) studentRow(db, wanted)
  db.insert(t.takenStudent)
    .values({
      studentId: id,
      originId: records.student.originId,
      givenBy: records.coachName,
      takenAt: context.now().toISOString(),
      isNew: wanted === null,
    })
    .onConflictDoNothing()
    .run()
  return id
}

/** What is in a lesson file and how it stands to what is here; nothing is kept. */
export const lookIntoLessonFile = async (context: LibraryContext, file: string) => {
  const from = await LessonFile.open(file)
  try {
    const { records } = from
    const { student } = records
    return {
      writtenAt: records.writtenAt,
      coachName: records.coachName,
      student: { name: student.name, side: student.side, isMinor: student.isMinor, consent: student.consent },
      withNotes: student.note !== null,
      withLimits: student.limits !== null,
      refusal: sayOrNull(reasonNotToGive(student, localDay(context.now()))),
      lessons: records.lessons.map((lesson) => ({
        date: lesson.date,
        title: lesson.title,
        swings: lesson.swings.length,
        clips: lesson.clips.length,
        shots: lesson.shots.length,
        ...knownLesson(context, lesson, records),
      })),
      byteLength: from.files.reduce((sum, { byteLength }) => sum + byteLength, 0),
      knownStudents: knownStudents(context, records),
    }
  } finally {
    from.close()
  }
}
