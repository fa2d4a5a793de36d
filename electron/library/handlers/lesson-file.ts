import path from 'node:path'
import type { HandlersNamed } from '../../../shared-core/contract/index.ts'
import { reasonNotToGive } from '../../../shared-core/model/consent.ts'
import { localDay } from '../../../shared-core/model/local-day.ts'
import type { LibraryContext } from '../context.ts'
import { gatherLessons } from '../exchange/gather-lessons.ts'
import { lookIntoLessonFile } from '../exchange/take.ts'
import { studentRow } from '../queries/open-lesson.ts'
import { sayOrNull, phrase } from '../../../shared-core/wording/phrase.ts'

export const lessonFileHandlers = (context: LibraryContext): HandlersNamed<'lessonFile'> => {
  const { db, jobs } = context
  return {
    'lessonFile.before': (which) => {
      const refusal = sayOrNull(reasonNotToGive(studentRow(db, which.studentId), localDay(context.now())))
      const { records, leftOut } = gatherLessons(context, { ...which, withNotes: false, withLimits: false })
      return {
        refusal,
        lessons: records.lessons.length,
        clips: records.clips.length,
        bytes: records.clips.reduce((sum, { byteLength }) => sum + byteLength, 0),
        leftOut,
      }
    },
    'lessonFile.give': ({ folder, ...choice }) => {
      studentRow(db, choice.studentId)
      const lessonId = choice.lessonIds?.length === 1 ? choice.lessonIds[0]! : null
      const task = { ...choice, folder: path.resolve(folder) }
      return { jobId: jobs.add('give-lesson', lessonId, phrase('job.giveLesson'), task) }
    },
    'lessonFile.look': ({ file }) => lookIntoLessonFile(context, path.resolve(file)),
    'lessonFile.take': ({ file, studentId, otherCopies }) => {
      if (studentId !== null) studentRow(db, studentId)
      const task = { file: path.resolve(file), studentId, otherCopies }
      return { jobId: jobs.add('take-lesson', null, phrase('job.takeLesson'), task) }
    },
  }
}
