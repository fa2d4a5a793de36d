import fs from 'node:fs'
import path from 'node:path'
import { eq, inArray, or, sql } from 'drizzle-orm'
import { z } from 'zod'
import { facePicturesOf } from '../coach/coach-pictures.ts'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'

/** What has to go from the disk once the records are gone. Kept until it has gone; holds no name of a person. */
export const deletionPlanSchema = z.object({
  /** Null where only lessons go. */
  studentId: z.string().nullable(),
  lessonIds: z.array(z.string()),
  /** Clips that nothing else refers to. */
  hashes: z.array(z.string()),
  talkIds: z.array(z.string()),
  pictureIds: z.array(z.string()),
  jobIds: z.array(z.string()),
  /** Voices that wait outside the library for their talk-through to be made. */
  recordings: z.array(z.string()),
  packages: z.array(z.object({ folder: z.string(), zip: z.string(), byteLength: z.number() })),
  /** Written for colleagues; the id stands inside the file. */
  lessonFiles: z.array(z.object({ file: z.string(), id: z.string(), byteLength: z.number() })).default([]),
})
export type DeletionPlan = z.infer<typeof deletionPlanSchema>

/** Hashes of media that only these lessons use, through an undo as well. */
export const hashesOnlyOf = (
  { sqlite }: Pick<LibraryContext, 'sqlite'>,
  lessonIds: readonly string[],
): string[] =>
  (
    sqlite
      .prepare(
        `WITH gone AS (SELECT value AS id FROM json_each(?)),
         uses AS (
           SELECT media_hash AS hash, lesson_id FROM clip
           UNION SELECT json_extract(coalesce(r.before, r.after), '$.media_hash'), e.lesson_id
             FROM edit_row r JOIN edit e ON e.id = r.edit_id WHERE r.table_name = 'clip')
         SELECT hash FROM media
         WHERE hash IN (SELECT hash FROM uses WHERE lesson_id IN gone)
           AND hash NOT IN (SELECT hash FROM uses WHERE lesson_id NOT IN gone AND hash IS NOT NULL)`,
      )
      .all(JSON.stringify(lessonIds)) as { hash: string }[]
  ).map(({ hash }) => hash)

/** Everything about some lessons, and about the student if they are all of a student's. */
export const deletionPlan = (
  context: LibraryContext,
  wanted: { studentId: string | null; lessonIds: string[]; withPackages: boolean },
): DeletionPlan => {
  const { db } = context
  const { lessonIds, studentId } = wanted
  const jobs = jobsOf(context, wanted)
  return {
    studentId,
    lessonIds,
    hashes: hashesOnlyOf(context, lessonIds),
    talkIds: db
      .select({ id: t.talkThrough.id })
      .from(t.talkThrough)
      .where(inArray(t.talkThrough.lessonId, lessonIds))
      .all()
      .map(({ id }) => id),
    pictureIds: lessonIds.flatMap((id) => facePicturesOf(context, id)),
    jobIds: jobs.map((job) => job.id),
    recordings: jobs.flatMap(({ task }) => (typeof task.soundFile === 'string' ? [task.soundFile] : [])),
    packages: wanted.withPackages ? writtenPackages(context, lessonIds) : [],
    lessonFiles: wanted.withPackages ? givenFiles(context, lessonIds) : [],
  }
}

/** Lesson files with any of these lessons in them. */
export const givenFiles = ({ db }: Pick<LibraryContext, 'db'>, lessonIds: readonly string[]) =>
  db
    .select()
    .from(t.givenFile)
    .all()
    .filter((given) => given.lessonIds.some((id) => lessonIds.includes(id)))
    .map(({ file, id, byteLength }) => ({ file, id, byteLength }))

/** Jobs of these lessons; with all of a student's also those that give or took in lessons of the student. */
export const jobsOf = (
  { db }: Pick<LibraryContext, 'db'>,
  { studentId, lessonIds }: Pick<DeletionPlan, 'studentId' | 'lessonIds'>,
) =>
  db
    .select()
    .from(t.job)
    .where(
      or(
        inArray(t.job.lessonId, lessonIds),
        studentId === null
          ? undefined
          : sql`${studentId} IN (json_extract(${t.job.task}, '$.studentId'), json_extract(${t.job.task}, '$.takenInto'))`,
      ),
    )
    .all()

/** Packages that were written of these lessons, as they were recorded. */
export const writtenPackages = ({ db }: Pick<LibraryContext, 'db'>, lessonIds: string[]) =>
  db
    .select({ folder: t.handOver.folder, zip: t.handOver.zip, byteLength: t.handOver.byteLength })
    .from(t.handOver)
    .where(inArray(t.handOver.lessonId, lessonIds))
    .all()

/** Lessons of a student. */
export const lessonIdsOf = ({ db }: Pick<LibraryContext, 'db'>, studentId: string): string[] =>
  db
    .select({ id: t.lesson.id })
    .from(t.lesson)
    .where(eq(t.lesson.studentId, studentId))
    .all()
    .map(({ id }) => id)

/** Files below a folder, as full paths; none if it is not there. */
export const filesIn = (folder: string): string[] =>
  fs.existsSync(folder)
    ? fs
        .readdirSync(folder, { recursive: true, withFileTypes: true })
        .filter((entry) => entry.isFile())
        .map((entry) => path.join(entry.parentPath, entry.name))
    : []
