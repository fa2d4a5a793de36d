import fs from 'node:fs'
import path from 'node:path'
import { eq } from 'drizzle-orm'
import { z } from 'zod'
import { lessonFileExtension } from '../../../shared-core/exchange/lesson-file.ts'
import { reasonNotToGive } from '../../../shared-core/model/consent.ts'
import { localDay } from '../../../shared-core/model/local-day.ts'
import { Problem } from '../../../shared-core/problem.ts'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'
import { plainName } from '../hand-over/plain-name.ts'
import type { JobRun } from '../jobs/queue.ts'
import { isDiskFull } from '../disk-full.ts'
import { Cancelled } from '../media/run-ffmpeg.ts'
import { studentRow } from '../queries/open-lesson.ts'
import { gatherLessons, type GiveChoice } from './gather-lessons.ts'
import { LessonFile, writeLessonFile } from './lesson-file.ts'
import { phrase } from '../../../shared-core/wording/phrase.ts'

export const giveTaskSchema = z.object({
  studentId: z.string(),
  lessonIds: z.array(z.string()).nullable(),
  folder: z.string(),
  withNotes: z.boolean(),
  withLimits: z.boolean(),
  /** Where the file was about to be put when this was cut off. */
  target: z.string().optional(),
})

/** @throws Problem `no-consent` if the student has not agreed to what giving means */
const assertMayGive = (context: LibraryContext, studentId: string) => {
  const student = studentRow(context.db, studentId)
  const reason = reasonNotToGive(student, localDay(context.now()))
  if (reason === null) return student
  throw new Problem('no-consent.giving', { reason })
}

const folderProblem = (error: unknown, folder: string): unknown => {
  const { code } = error as NodeJS.ErrnoException
  if (isDiskFull(error)) {
    return new Problem('disk-full.lessonFile', { where: folder }, { cause: error })
  }
  if (/^(EACCES|EPERM|EROFS|ENOTDIR|EEXIST|ENOENT|EIO)$/.test(code ?? '')) {
    return new Problem('not-writable.folder', { where: folder }, { cause: error })
  }
  return error
}

/** The next free name; the empty file that holds it is ours until the whole one takes its place. */
const holdName = (wanted: string, before: (file: string) => void): string => {
  for (let n = 1; ; n += 1) {
    const file = `${wanted}${n === 1 ? '' : `-${n}`}${lessonFileExtension}`
    if (fs.existsSync(file)) continue
    before(file)
    try {
      fs.closeSync(fs.openSync(file, 'wx', 0o600))
      return file
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error
    }
  }
}

/** What an attempt that was cut off left at its place: an empty file, or the whole one that was not written down yet. */
const dropLeft = async (file: string | undefined, id: string) => {
  const size = file === undefined ? undefined : fs.statSync(file, { throwIfNoEntry: false })?.size
  if (size === undefined) return
  if (size > 0) {
    const there = await LessonFile.open(file!).catch(() => null)
    there?.close()
    if (there?.id !== id) return
  }
  fs.rmSync(file!, { force: true })
}

/**
 * Writes lessons of a student into one file for a colleague, and reads it back. A failure or a cancel leaves nothing behind.
 * The result is the file.
 * @throws Problem `no-consent`, `no-lesson`, `clip-damaged`, `disk-full`, `not-writable`; Cancelled
 */
export const giveLessons = async (context: LibraryContext, run: JobRun): Promise<string> => {
  const task = giveTaskSchema.parse(run.task)
  const { db } = context
  const already = db.select().from(t.givenFile).where(eq(t.givenFile.id, run.id)).get()
  if (already) return already.file
  const student = assertMayGive(context, task.studentId)
  const choice: GiveChoice = task
  run.say(phrase('step.gathering'), 0)
  const { records, source, lessonIds } = gatherLessons(context, choice)
  const { folder } = task
  const day = records.lessons.length === 1 ? records.lessons[0]!.date : localDay(new Date(records.writtenAt))
  const name = `${day}-${plainName(student.name)}`
  const part = path.join(folder, `.${name}-${run.id}.part`)
  let held: string | undefined
  try {
    fs.mkdirSync(folder, { recursive: true })
    fs.rmSync(part, { force: true })
    await dropLeft(task.target, run.id)
    await writeLessonFile(part, run.id, records, source, {
      signal: run.signal,
      onBytes: (done, total) => run.say(phrase('step.copyingClips'), 0.02 + (0.6 * done) / total),
    })
    await readBack(part, run)
    held = holdName(path.join(folder, name), (target) => context.jobs.remember(run.id, { target }))
    if (run.signal.aborted) throw new Cancelled()
    // Nobody takes a consent back unseen while this was written.
    assertMayGive(context, task.studentId)
    const byteLength = fs.statSync(part).size
    fs.renameSync(part, held)
    db.insert(t.givenFile)
      .values({
        id: run.id,
        studentId: task.studentId,
        lessonIds,
        file: held,
        byteLength,
        writtenAt: context.now().toISOString(),
      })
      .run()
    return held
  } catch (error) {
    if (held !== undefined) fs.rmSync(held, { force: true })
    if (run.signal.aborted) throw new Cancelled()
    throw folderProblem(error, folder)
  } finally {
    fs.rmSync(part, { force: true })
  }
}

const readBack = async (file: string, run: JobRun) => {
  let written: LessonFile | undefined
  try {
    written = await LessonFile.open(file)
    for (const [i, inside] of written.files.entries()) {
      run.say(phrase('step.readingBack'), 0.62 + (0.36 * i) / written.files.length)
      await written.take(inside, null, run.signal)
    }
  } catch (error) {
    if (!(error instanceof Problem)) throw error
    throw new Problem('not-read-back', { where: path.dirname(file) }, { cause: error })
  } finally {
    written?.close()
  }
}
