import { randomUUID } from 'node:crypto'
import fs from 'node:fs'
import path from 'node:path'
import { eq } from 'drizzle-orm'
import { z } from 'zod'
import { Problem } from '../../../shared-core/problem.ts'
import * as t from '../database/schema.ts'
import { draftOf } from './draft.ts'
import type { LibraryContext } from '../context.ts'
import { isDiskFull } from '../disk-full.ts'
import { Cancelled, type RunOptions } from '../media/run-ffmpeg.ts'
import { openLesson } from '../queries/open-lesson.ts'
import type { JobRun } from '../jobs/queue.ts'
import { pageHtml } from './page-html.ts'
import { pageOfPlan } from './page-of-plan.ts'
import { handOverPlan, lackingFor, type HandOverPlan } from './plan.ts'
import { plainName } from './plain-name.ts'
import { writeComparison, writeSlowClip } from './slow-clip.ts'
import { madeStill, sourceOf, type PlannedStill, type Still } from './stills.ts'
import { lessonJson, shotsCsv } from './student-data.ts'
import { zipFolder } from './zip.ts'
import { said, sayOrNull, sayWord } from '../../../shared-core/wording/phrase.ts'

const taskSchema = z.object({
  lessonId: z.string(),
  folder: z.string(),
  consentSaidBy: z.string().nullable(),
  /** Where the package was about to be put when this was cut off, and which folder and file it is. */
  target: z.string().optional(),
  made: z.array(z.string()).optional(),
})

const diskProblem = (error: unknown, folder: string): unknown => {
  const { code, syscall } = error as NodeJS.ErrnoException
  if (isDiskFull(error)) {
    return new Problem('disk-full.package', { where: folder })
  }
  // Node says ENOENT of a folder to be made on a disk that can only be read, or that is not there.
  const isNoPlace = code === 'ENOENT' && syscall === 'mkdir'
  if (isNoPlace || ['EACCES', 'EPERM', 'EROFS', 'ENOTDIR', 'EEXIST'].includes(code ?? '')) {
    return new Problem('not-writable.folder', { where: folder })
  }
  return error
}

/** Folders made for a package that then did not come; what is not empty stays. */
const dropEmpty = (folder: string, upTo: string): void => {
  try {
    const top = path.resolve(upTo).length
    for (let at = path.resolve(folder); at.length >= top; at = path.dirname(at)) {
      fs.rmdirSync(at)
    }
  } catch {
    // It holds something: the package, or someone else's files.
  }
}

/** What stays the same when a file is moved on its disk; null if it is not there. */
const identityOf = (file: string): string | null => {
  const found = fs.statSync(file, { bigint: true, throwIfNoEntry: false })
  return found ? `${found.dev}:${found.ino}` : null
}

const freePath = (wanted: string): string => {
  for (let n = 1; ; n += 1) {
    const candidate = n === 1 ? wanted : `${wanted}-${n}`
    if (!fs.existsSync(candidate) && !fs.existsSync(`${candidate}.zip`)) return candidate
  }
}

/**
 * Moves the package to its place or, where another one came first meanwhile, to the next free name; that folder's name is
 * then the zip's, too. `before` is told the place just before.
 */
const takePlace = (wanted: string, folder: string, before: (place: string) => void): string => {
  for (;;) {
    const place = freePath(wanted)
    before(place)
    try {
      fs.renameSync(folder, place)
      return place
    } catch (error) {
      const { code } = error as NodeJS.ErrnoException
      if (!fs.existsSync(place) || !['ENOTEMPTY', 'EEXIST', 'EPERM'].includes(code ?? '')) throw error
    }
  }
}

/**
 * Writes the lesson package: a folder and a zip of it. Everything is made in a hidden folder beside the target and
 * moved at the end, so a failure or a cancel leaves no half package. The result is the package's folder.
 */
export const writeHandOver = async (context: LibraryContext, run: JobRun): Promise<string> => {
  const task = taskSchema.parse(run.task)
  // Cut off right at the end it has left nothing to do.
  if (task.target !== undefined) {
    const kept = context.db.select().from(t.handOver).where(eq(t.handOver.folder, task.target)).get()
    if (kept) return task.target
  }
  const lesson = openLesson(context, task.lessonId)
  const draft = draftOf(context, task.lessonId)
  const report = await context.reports.lesson(task.lessonId)
  const plan = handOverPlan(context, { lesson, draft, report })
  const lacking = sayOrNull(lackingFor(plan, context.now()))
  if (lacking !== null && !task.consentSaidBy) {
    throw new Problem('no-consent.package', { reason: lacking })
  }
  const name = `${lesson.lesson.date}-${plainName(lesson.student.name)}`
  const work = path.join(task.folder, `.${name}-${run.id}.part`)
  let made: string | undefined
  try {
    made = fs.mkdirSync(task.folder, { recursive: true })
    // What this very job left when it was cut off: half of a package, made anew.
    fs.rmSync(work, { recursive: true, force: true })
    if (task.target !== undefined) {
      for (const left of [task.target, `${task.target}.zip`]) {
        // Another's file of the same name is not ours to take away.
        if (task.made?.includes(identityOf(left) ?? '')) fs.rmSync(left, { recursive: true, force: true })
      }
    }
    fs.mkdirSync(path.join(work, 'package'), { recursive: true })
    const remarks = await writePackage(context, plan, path.join(work, 'package'), work, run)
    run.say(`zipping${sizeSoFar(work)}`, 0.96)
    const zipPart = path.join(work, `${path.basename(freePath(path.join(task.folder, name)))}.zip`)
    const folderPart = path.join(work, 'package')
    await zipFolder(folderPart, zipPart, run.signal)
    const byteLength = fs.statSync(zipPart).size
    if (run.signal.aborted) throw new Cancelled()
    const target = takePlace(path.join(task.folder, name), folderPart, (place) =>
      context.jobs.remember(run.id, {
        target: place,
        made: [identityOf(folderPart), identityOf(zipPart)],
      }),
    )
    fs.renameSync(zipPart, `${target}.zip`)
    context.db
      .insert(t.handOver)
      .values({
        id: randomUUID(),
        lessonId: task.lessonId,
        writtenAt: context.now().toISOString(),
        folder: target,
        zip: `${target}.zip`,
        byteLength,
        draft,
        consentSaidBy: lacking === null ? null : task.consentSaidBy,
        remarks,
      })
      .run()
    return target
  } catch (error) {
    if (run.signal.aborted) throw new Cancelled()
    throw diskProblem(error, task.folder)
  } finally {
    fs.rmSync(work, { recursive: true, force: true })
    if (made !== undefined) dropEmpty(task.folder, made)
  }
}

/** How much has been written, for the coach who waits. */
const sizeSoFar = (work: string): string => {
  const bytes = fs
    .readdirSync(work, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    // A file may be moved while it is looked at.
    .map(
      (entry) => fs.statSync(path.join(entry.parentPath, entry.name), { throwIfNoEntry: false })?.size ?? 0,
    )
    .reduce((sum, size) => sum + size, 0)
  if (bytes === 0) return ''
  return said('handOver.soFar', {
    size: bytes < 1e6 ? `${Math.ceil(bytes / 1000)} kB` : `${(bytes / 1e6).toFixed(1)} MB`,
  })
}

/** Both at once; when one fails, the other has ended, too, before what they write to is cleared away. */
const together = async <A, B>(first: Promise<A>, second: Promise<B>): Promise<[A, B]> => {
  await Promise.allSettled([first, second])
  return Promise.all([first, second])
}

/** Renders the plan into the package's folder; says what it had to go without. */
const writePackage = async (
  context: LibraryContext,
  plan: HandOverPlan,
  folder: string,
  work: string,
  run: JobRun,
): Promise<string[]> => {
  const { lesson, report, swings, comparisons, talks } = plan
  const programs = await context.mediaPrograms()
  const say = (step: string, share?: number) => run.say(`${step}${sizeSoFar(work)}`, share)
  fs.mkdirSync(path.join(folder, 'clips'))
  const steps = swings.length + comparisons.length + talks.length + 1
  let done = 0
  const quiet = (clipName: string): RunOptions => ({ programs, clipName, signal: run.signal })
  /** One step of those the coach sees. */
  const step = async (label: string, clipName: string, write: (options: RunOptions) => Promise<void>) => {
    say(label, (0.95 * done) / steps)
    await write({
      ...quiet(clipName),
      onProgress: (share) => say(label, Math.min(0.95, (0.95 * (done + share)) / steps)),
    })
    done += 1
  }
  const stills = new Map<PlannedStill, Still>()
  const make = async (still: PlannedStill, label: string) => {
    say(label)
    stills.set(still, await madeStill(still, 'package', quiet(sourceOf(still).clipName)))
  }
  for (const { title, clip, stills: captioned } of swings) {
    const label = said('handOver.writing', { title })
    const makeAll = async () => {
      for (const { still } of captioned) await make(still, label)
    }
    await together(
      clip
        ? step(label, clip.made.source.clipName, (options) =>
            writeSlowClip(clip.made, path.join(folder, clip.words.file), options),
          )
        : Promise.resolve(),
      makeAll(),
    )
  }
  for (const { title, made, words, still } of comparisons) {
    const label = said('handOver.writing', { title })
    await make(still, label)
    await step(label, made.pair.map((source) => source.clipName).join(' and '), (options) =>
      writeComparison(made, path.join(folder, words.file), options),
    )
  }
  for (const { from, words } of talks) {
    await step(said('handOver.addingTalk'), words.title, async () =>
      fs.promises.copyFile(from, path.join(folder, words.file)),
    )
  }
  for (const { picture } of plan.practice?.drills ?? []) {
    if (picture?.file) fs.copyFileSync(picture.files.file, path.join(folder, picture.file))
  }
  say(said('handOver.writingPage'), 0.95)
  const page = await pageHtml(pageOfPlan(plan, stills, true))
  fs.writeFileSync(path.join(folder, 'index.html'), page)
  const remark = await printPage(context, page, path.join(folder, 'lesson.pdf'), work, run)
  fs.writeFileSync(path.join(folder, 'shots.csv'), shotsCsv(lesson, report))
  fs.writeFileSync(path.join(folder, 'lesson.json'), lessonJson(lesson, report, context.now().toISOString()))
  return [...plan.leftOut.map(({ why }) => sayWord(why)), ...(remark === null ? [] : [remark])]
}

/** The printable part; where nothing can print it the package goes without, and what is returned says so. */
const printPage = async (
  context: LibraryContext,
  page: string,
  target: string,
  work: string,
  run: JobRun,
): Promise<string | null> => {
  if (!context.printPdf) {
    return said('handOver.noBrowser')
  }
  run.say(said('handOver.printing', { soFar: sizeSoFar(work) }), 0.95)
  const html = path.join(work, 'print.html')
  // The page itself leaves the paper to the printer's setting; the file has one.
  fs.writeFileSync(html, page.replace('</style>', '@page{size:A4}</style>'))
  try {
    await context.printPdf(html, target, run.signal)
    return null
  } catch (error) {
    if (run.signal.aborted) throw new Cancelled()
    fs.rmSync(target, { force: true })
    return said('handOver.notPrinted', { reason: (error as Error).message })
  }
}
