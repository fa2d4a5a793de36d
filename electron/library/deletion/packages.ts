import fs from 'node:fs'
import path from 'node:path'
import { z } from 'zod'
import { lessonFileFormat } from '../../../shared-core/exchange/lesson-file.ts'
import type { DeletionPlan } from './plan.ts'

const ours = z.looseObject({ format: z.literal('leadside-lesson') })

/** Is this folder still a package of ours? Another may stand in its place by now. */
const isPackage = (folder: string): boolean => {
  try {
    const lesson: unknown = JSON.parse(fs.readFileSync(path.join(folder, 'lesson.json'), 'utf8'))
    return ours.safeParse(lesson).success && fs.existsSync(path.join(folder, 'index.html'))
  } catch {
    return false
  }
}

const sizeOf = (file: string): number | null => fs.statSync(file, { throwIfNoEntry: false })?.size ?? null

/** What is at a written package's place now. */
export const packageState = ({
  folder,
  zip,
  byteLength,
}: DeletionPlan['packages'][number]): 'there' | 'gone' | 'changed' => {
  const [hasFolder, zipBytes] = [fs.existsSync(folder), sizeOf(zip)]
  if (!hasFolder && zipBytes === null) return 'gone'
  const folderIsOurs = !hasFolder || isPackage(folder)
  const zipIsOurs = zipBytes === null || zipBytes === byteLength
  return folderIsOurs && zipIsOurs ? 'there' : 'changed'
}

/** Deletes a written package, folder and zip; what is not as it was written stays. */
export const deletePackage = (written: DeletionPlan['packages'][number]): 'deleted' | 'gone' | 'changed' => {
  const state = packageState(written)
  if (state !== 'there') return state
  fs.rmSync(written.zip, { force: true })
  // The page last: a kill half way leaves what is still known as a package.
  if (fs.existsSync(written.folder)) {
    const last = ['lesson.json', 'index.html']
    for (const name of fs.readdirSync(written.folder)) {
      if (!last.includes(name)) fs.rmSync(path.join(written.folder, name), { recursive: true, force: true })
    }
    fs.rmSync(written.folder, { recursive: true, force: true })
  }
  return 'deleted'
}

/** A lesson file says at its very beginning what it is, and which. */
const beginning = 2000
const saysOf = (file: string): string => {
  const handle = fs.openSync(file, 'r')
  try {
    const head = Buffer.alloc(beginning)
    return head.subarray(0, fs.readSync(handle, head, 0, beginning, 0)).toString('latin1')
  } finally {
    fs.closeSync(handle)
  }
}

/** What is at the place of a lesson file for a colleague now. */
export const lessonFileState = ({
  file,
  id,
  byteLength,
}: DeletionPlan['lessonFiles'][number]): 'there' | 'gone' | 'changed' => {
  const size = sizeOf(file)
  if (size === null) return 'gone'
  const isOurs = size === byteLength && saysOf(file).includes(`"format":"${lessonFileFormat}"`)
  return isOurs && saysOf(file).includes(`"id":"${id}"`) ? 'there' : 'changed'
}

/** Deletes a lesson file; what is not as it was written stays. */
export const deleteLessonFile = (
  written: DeletionPlan['lessonFiles'][number],
): 'deleted' | 'gone' | 'changed' => {
  const state = lessonFileState(written)
  if (state !== 'there') return state
  fs.rmSync(written.file, { force: true })
  return 'deleted'
}
