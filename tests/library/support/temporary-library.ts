import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { Library } from '../../../electron/library/library.ts'
import type { Job } from '../../../shared-core/model/entities.ts'

export const temporaryFolder = () => fs.mkdtempSync(path.join(os.tmpdir(), 'leadside-'))

/** A library in a folder of its own with one student and one lesson. */
export const openWithLesson = async (folder = temporaryFolder()) => {
  const library = new Library({ folder })
  const { id: studentId } = await library.ask('student.create', { name: 'Robin Testing', side: 'right' })
  const { id: lessonId } = await library.ask('lesson.create', { studentId, date: '2026-05-01' })
  return { library, folder, studentId, lessonId }
}

/** Takes files in and waits, for their working copies as well; the jobs as they ended. */
export const takeIn = async (library: Library, lessonId: string, files: string[]): Promise<Job[]> => {
  const { jobIds } = await library.ask('clips.add', { lessonId, files })
  const ended = await Promise.all(jobIds.map((id) => library.context.jobs.ended(id)))
  await library.context.jobs.idle()
  return ended
}

/** Everything below a folder, for "nothing was left behind". */
export const filesBelow = (folder: string): string[] =>
  fs.existsSync(folder) ? fs.readdirSync(folder, { recursive: true }).map(String).toSorted() : []
