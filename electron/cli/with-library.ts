import os from 'node:os'
import path from 'node:path'
import type { CallOutput } from '../../shared-core/contract/index.ts'
import type { Job } from '../../shared-core/model/entities.ts'
import { Problem } from '../../shared-core/problem.ts'
import { browserPrinter, electronPrinter } from '../library/hand-over/print-pdf.ts'
import { Library } from '../library/library.ts'
import { chosenPlace } from '../library/library-place.ts'
import { findElectron } from './electron-in-use.ts'
import { troubleWords } from '../library/custody/inspect.ts'
import type { Output } from './output.ts'
import { type ProblemKey } from '../../shared-core/wording/problem-words.ts'

/** The library of the window, unless another one is named. */
export const defaultLibrary = () =>
  process.env.LEADSIDE_LIBRARY ?? chosenPlace() ?? path.join(os.homedir(), 'Documents', 'Leadside library')

/** lesson.pdf is made by a browser, else by the Electron that the window would use. */
const printer = () => {
  const electron = findElectron()
  return browserPrinter() ?? (electron === null ? null : electronPrinter(electron))
}

export const libraryFolder = (folder: string | undefined) => path.resolve(folder ?? defaultLibrary())

/** Opens the library, does the work, closes it again, whatever happens. Ctrl-C stops jobs cleanly. */
export const withLibrary = async <T>(
  folder: string | undefined,
  output: Output,
  work: (library: Library) => Promise<T>,
  /** `mayOnlyLook`: work that also makes sense with records that don't fit the files. */
  options: {
    mayOnlyLook?: boolean
    rebuild?: boolean
    onEvent?: (name: string, body: unknown) => void
  } = {},
): Promise<T> => {
  const place = libraryFolder(folder)
  const library = new Library({
    folder: place,
    rebuild: options.rebuild ?? false,
    printPdf: printer(),
    emit: (name, body) => {
      if (name === 'job.changed') output.progress(body as Job)
      options.onEvent?.(name, body)
    },
  })
  const stop = () => void library.close().finally(() => process.exit(130))
  process.once('SIGINT', stop)
  process.once('SIGTERM', stop)
  try {
    if (library.trouble && !options.mayOnlyLook) {
      throw new Problem('library-trouble', { trouble: troubleWords(library.trouble), where: place })
    }
    const done = await work(library)
    // Working copies come after their clips.
    await library.context.jobs.idle()
    return done
  } finally {
    process.off('SIGINT', stop)
    process.off('SIGTERM', stop)
    await library.close()
  }
}

/** Waits for jobs; each one that failed is reported, the others count. */
export const finishJobs = async (library: Library, ids: readonly string[]): Promise<Job[]> => {
  const jobs: Job[] = []
  for (const id of ids) jobs.push(await library.context.jobs.ended(id))
  return jobs
}

/** Waits for one job that must succeed. @throws Problem with the job's own reason, or `stopped` */
export const finishJob = async (
  library: Library,
  id: string,
  stopped: Extract<ProblemKey, `stopped.${string}`>,
): Promise<Job> => {
  const job = await library.context.jobs.ended(id)
  if (job.state === 'done') return job
  throw job.problem ? Problem.from(job.problem) : new Problem(stopped)
}

/** A lesson by id, by the start of an id, or `last`. */
export const findLesson = async (library: Library, text: string): Promise<string> => {
  const lessons = (await library.ask('roster.list', {})).flatMap((s) => s.lessons)
  if (text === 'last') {
    const newest = lessons.toSorted((a, b) => b.date.localeCompare(a.date))[0]
    if (newest) return newest.id
  }
  const matches = lessons.filter((l) => l.id === text || (text.length >= 4 && l.id.startsWith(text)))
  if (matches.length === 1) return matches[0]!.id
  throw new Problem(matches.length ? 'no-lesson.several' : 'no-lesson.named', { text })
}

/** A student by id or by name. */
export const findStudent = async (
  library: Library,
  text: string,
): Promise<CallOutput<'roster.list'>[number]> => {
  const students = await library.ask('roster.list', {})
  const matches = students.filter((s) => s.id === text || s.name.toLowerCase() === text.toLowerCase())
  if (matches.length === 1) return matches[0]!
  if (matches.length === 0) throw new Problem('no-student.named', { text })
  throw new Problem('no-student.several', { text, ids: matches.map((s) => s.id).join(', ') })
}
