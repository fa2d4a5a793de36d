import { randomUUID } from 'node:crypto'
import fs from 'node:fs'
import path from 'node:path'
import { eq, inArray, isNotNull } from 'drizzle-orm'
import { Problem } from '../../../shared-core/problem.ts'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'
import { isDiskFull } from '../disk-full.ts'
import { backupFiles, deleteFromBackups } from '../custody/backups.ts'
import { deleteSetAsideOf } from '../custody/set-aside.ts'
import { copiesIn, copyName, scrubCopy } from './copies.ts'
import { deleteLessonFile, deletePackage } from './packages.ts'
import { giveReserve, keepReserve } from './reserve.ts'
import {
  deletionPlan,
  deletionPlanSchema,
  filesIn,
  givenFiles,
  hashesOnlyOf,
  jobsOf,
  writtenPackages,
  type DeletionPlan,
} from './plan.ts'
import { said } from '../../../shared-core/wording/phrase.ts'

/** What was deleted, and what could not be. */
export interface DeletionReceipt {
  lessons: number
  clips: number
  filesDeleted: number
  bytesDeleted: number
  packagesDeleted: number
  /** What still holds something of it, where, and why. */
  stays: { where: string; why: string }[]
}

interface Wanted {
  studentId: string | null
  lessonIds: string[]
  withPackages: boolean
}

/** Imports, hand-overs and talk-throughs of these lessons are stopped; nothing of them may come after the deletion. */
const stopJobs = async (context: LibraryContext, wanted: Wanted) => {
  const { jobs } = context
  const open = jobsOf(context, wanted).filter(({ state }) => state === 'waiting' || state === 'running')
  for (const { id } of open) jobs.cancel(id)
  await Promise.all(open.map(({ id }) => jobs.ended(id).catch(() => null)))
}

/**
 * Backups under way here copy what is about to go: they are stopped, and made anew afterwards. Another process that makes one
 * finds at its end that something was deleted.
 */
const withoutBackups = async <T>({ jobs }: LibraryContext, work: () => Promise<T>): Promise<T> => {
  const goOn = await jobs.hold('backup')
  try {
    return await work()
  } finally {
    goOn()
  }
}

/** One deletion after the other: each writes copies and backups anew. */
const last = new WeakMap<LibraryContext, Promise<unknown>>()
const afterTheLast = async <T>(context: LibraryContext, work: () => Promise<T>): Promise<T> => {
  const mine = (last.get(context) ?? Promise.resolve()).catch(() => {}).then(work)
  last.set(context, mine)
  return mine
}

/** The records go and the plan of what is left to do stands, in one transaction. */
const deleteRecords = (context: LibraryContext, wanted: Wanted): string => {
  const { db, sqlite } = context
  const id = randomUUID()
  sqlite
    .transaction(() => {
      const plan = deletionPlan(context, wanted)
      db.insert(t.deletion)
        .values({
          id,
          askedAt: context.now().toISOString(),
          plan,
          lessons: plan.lessonIds.length,
          clips: plan.hashes.length,
        })
        .run()
      // Edits first: they say what an undo would bring back.
      db.delete(t.edit).where(inArray(t.edit.lessonId, plan.lessonIds)).run()
      db.delete(t.job).where(inArray(t.job.id, plan.jobIds)).run()
      const given = new Set(plan.lessonFiles.map((file) => file.id))
      for (const { id: fileId, lessonIds } of db.select().from(t.givenFile).all()) {
        // A file with other lessons in it, too, stays listed for them.
        if (!given.has(fileId) && !lessonIds.every((lesson) => plan.lessonIds.includes(lesson))) continue
        db.delete(t.givenFile).where(eq(t.givenFile.id, fileId)).run()
      }
      db.delete(t.lesson).where(inArray(t.lesson.id, plan.lessonIds)).run()
      if (plan.studentId !== null) db.delete(t.student).where(eq(t.student.id, plan.studentId)).run()
      db.delete(t.media).where(inArray(t.media.hash, plan.hashes)).run()
      db.delete(t.coachPicture).where(inArray(t.coachPicture.id, plan.pictureIds)).run()
    })
    .immediate()
  return id
}

/** On a full disk: the room kept for it, and what can be made again and is about to go in any case. */
const makeRoom = (context: LibraryContext, lessonIds: string[]) => {
  giveReserve(context.folder)
  for (const hash of hashesOnlyOf(context, lessonIds)) {
    for (const file of [context.paths.proxy(hash), context.paths.strip(hash), context.paths.poster(hash)]) {
      fs.rmSync(file, { force: true })
    }
  }
}

/** Files of the library that belong to a plan: by the hashes and ids that their names begin with. */
const filesOf = ({ folder, paths }: LibraryContext, plan: DeletionPlan): string[] => {
  const starts = new Set([...plan.hashes, ...plan.talkIds, ...plan.pictureIds])
  const work = new Set(plan.jobIds.map((id) => path.join(paths.incoming, id)))
  const isOf = (file: string) =>
    starts.has(path.basename(file).split('.')[0]!) ||
    path
      .relative(folder, file)
      .split(path.sep)
      .some((part) => starts.has(part)) ||
    [...work].some((at) => file.startsWith(at + path.sep))
  return filesIn(folder).filter(isOf)
}

const inTemporary = (file: string) => path.basename(path.dirname(file)) === 'leadside-recordings'

/**
 * Does what a plan still asks for; each step can be done again, so that a kill at any moment is finished on the next
 * opening. When everything is gone, the plan goes, too.
 */
const finish = (context: LibraryContext, id: string, stored: DeletionPlan): DeletionReceipt => {
  const { db, sqlite, folder } = context
  const row = db.select().from(t.deletion).where(eq(t.deletion.id, id)).get()!
  const stays: DeletionReceipt['stays'] = []
  let plan = stored
  for (const file of copiesIn(folder)) {
    try {
      const more = scrubCopy(file, plan)
      // A copy may know clips that the library has forgotten; what the library still uses stays.
      const used = new Set(
        more.length
          ? db
              .select({ hash: t.media.hash })
              .from(t.media)
              .where(inArray(t.media.hash, more))
              .all()
              .map(({ hash }) => hash)
          : [],
      )
      plan = { ...plan, hashes: [...new Set([...plan.hashes, ...more.filter((hash) => !used.has(hash))])] }
    } catch (error) {
      stays.push({
        where: copyName(folder, file),
        why: said('stays.copy', { reason: (error as Error).message }),
      })
    }
  }
  let [files, bytes] = [row.files, row.bytes]
  let isLeft = false
  const refuse = (where: string, error: unknown) => {
    isLeft = true
    stays.push({
      where,
      why: said('stays.refused', { reason: String((error as NodeJS.ErrnoException).code) }),
    })
  }
  const drop = (file: string) => {
    const size = fs.statSync(file, { throwIfNoEntry: false })?.size
    if (size === undefined) return
    try {
      fs.rmSync(file, { force: true })
      files += 1
      bytes += size
    } catch (error) {
      refuse(file, error)
    }
  }
  for (const { byteLength } of deleteSetAsideOf(folder, plan)) {
    files += 1
    bytes += byteLength
  }
  for (const file of filesOf(context, plan)) drop(file)
  for (const job of plan.jobIds) {
    fs.rmSync(path.join(context.paths.incoming, job), { recursive: true, force: true })
  }
  // The window's own recordings only; a sound file from elsewhere is the coach's.
  for (const file of plan.recordings.filter(inTemporary)) drop(file)
  let packagesDeleted = 0
  for (const written of plan.packages) {
    const where = written.folder
    try {
      const done = deletePackage(written)
      if (done === 'deleted') packagesDeleted += 1
      else if (done === 'changed') {
        stays.push({ where, why: said('stays.changed') })
      }
    } catch (error) {
      refuse(where, error)
    }
  }
  for (const given of plan.lessonFiles) {
    const where = given.file
    try {
      const done = deleteLessonFile(given)
      if (done === 'deleted') packagesDeleted += 1
      else if (done === 'changed') {
        stays.push({ where, why: said('stays.changed') })
      }
    } catch (error) {
      refuse(where, error)
    }
  }
  db.update(t.deletion)
    .set({ files, bytes, ...(isLeft ? {} : { plan: null, finishedAt: context.now().toISOString() }) })
    .where(eq(t.deletion.id, id))
    .run()
  // What was deleted must not stay readable in the write-ahead log. Another program that is reading holds this up;
  // the next opening does it then.
  sqlite.pragma('wal_checkpoint(TRUNCATE)')
  return {
    lessons: row.lessons,
    clips: row.clips,
    filesDeleted: files,
    bytesDeleted: bytes,
    packagesDeleted,
    stays,
  }
}

/**
 * Deletes lessons, and with `studentId` the student, for good: records, clips, talk-throughs, pictures, what an undo
 * would bring back, copies of the database inside the library, recordings that wait, and with `withPackages` the written
 * packages that are still where they were written.
 * @throws Problem `disk-full` if there is no room even for that; nothing is deleted then
 */
export const deleteForGood = (context: LibraryContext, wanted: Wanted): Promise<DeletionReceipt> =>
  afterTheLast(context, () => withoutBackups(context, () => deleteNow(context, wanted)))

const deleteNow = async (context: LibraryContext, wanted: Wanted): Promise<DeletionReceipt> => {
  await stopJobs(context, wanted)
  const left = wanted.withPackages ? [] : writtenPackages(context, wanted.lessonIds)
  const leftFiles = wanted.withPackages ? [] : givenFiles(context, wanted.lessonIds)
  let id: string
  try {
    id = deleteRecords(context, wanted)
  } catch (error) {
    if (!isSqliteFull(error)) throw error
    makeRoom(context, wanted.lessonIds)
    try {
      id = deleteRecords(context, wanted)
    } catch (again) {
      if (!isSqliteFull(again)) throw again
      throw new Problem('disk-full.deleting', {}, { cause: again })
    }
  }
  const { plan } = context.db.select().from(t.deletion).where(eq(t.deletion.id, id)).get()!
  const parsed = deletionPlanSchema.parse(plan)
  const backups = await forgottenInBackups(context, parsed)
  const receipt = finish(context, id, parsed)
  keepReserve(context.folder)
  const packages = left
    .filter(({ folder, zip }) => fs.existsSync(folder) || fs.existsSync(zip))
    .map(({ folder }) => ({ where: folder, why: said('stays.package') }))
  const files = leftFiles
    .filter(({ file }) => fs.existsSync(file))
    .map(({ file }) => ({ where: file, why: said('stays.lessonFile') }))
  return { ...receipt, stays: [...receipt.stays, ...backups, ...packages, ...files] }
}

const isSqliteFull = (error: unknown): boolean =>
  isDiskFull(error) || (error as { code?: unknown } | null)?.code === 'SQLITE_FULL'

/** Takes the plan out of the backups; those that can't be reached are named. */
const forgottenInBackups = async (
  context: LibraryContext,
  plan: DeletionPlan,
): Promise<DeletionReceipt['stays']> => {
  const { stillHolding } = await deleteFromBackups(context, plan)
  return stillHolding.map((where) => ({
    where,
    why: said('stays.backup'),
  }))
}

/**
 * Deletions that were cut off, or could not reach everything, are taken up again: what lies in the library at once,
 * backups after it (resolves when they are done, too).
 */
export const resumeDeletions = async (context: LibraryContext): Promise<void> => {
  const open = context.db.select().from(t.deletion).where(isNotNull(t.deletion.plan)).all()
  const plans = open.map(({ id, plan }) => ({ id, plan: deletionPlanSchema.parse(plan) }))
  const hasBackups = backupFiles(context).length > 0
  if (!hasBackups) {
    for (const { id, plan } of plans) finish(context, id, plan)
    return
  }
  if (plans.length === 0) return
  const finishAll = async () => {
    for (const { id, plan } of plans) {
      await forgottenInBackups(context, plan)
      finish(context, id, plan)
    }
  }
  await afterTheLast(context, () => withoutBackups(context, finishAll))
}
