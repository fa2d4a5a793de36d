import { desc, eq } from 'drizzle-orm'
import type { GivenLesson, LessonRecords } from '../../../shared-core/exchange/lesson-file.ts'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'
import { bareHash, contentHash, gatherLessons } from './gather-lessons.ts'

/**
 * How a lesson of a file stands to those that are here: `new`; `same`, nothing in it is new; `newer` or `older`, another
 * copy of one that is here, by when it was written.
 */
export type Standing = 'new' | 'same' | 'newer' | 'older'
export interface Known {
  standing: Standing
  /** The copy that is here. */
  lessonId: string | null
}

/** Was it given from this very library? Then its content now tells. */
const ownContent = (context: LibraryContext, lesson: GivenLesson, records: LessonRecords): string | null => {
  const row = context.db.select().from(t.lesson).where(eq(t.lesson.id, lesson.originId)).get()
  if (!row) return null
  const { records: now } = gatherLessons(context, {
    studentId: row.studentId,
    lessonIds: [row.id],
    withNotes: lesson.note !== null,
    withLimits: records.student.limits !== null,
  })
  return contentHash(now.lessons[0]!)
}

export const knownLesson = (context: LibraryContext, lesson: GivenLesson, records: LessonRecords): Known => {
  const hash = contentHash(lesson)
  const own = ownContent(context, lesson, records)
  if (own !== null) return { standing: own === hash ? 'same' : 'older', lessonId: lesson.originId }
  const copies = context.db
    .select()
    .from(t.takenLesson)
    .where(eq(t.takenLesson.originId, lesson.originId))
    .orderBy(desc(t.takenLesson.writtenAt))
    .all()
  const bare = bareHash(lesson)
  const same = copies.find((copy) => copy.contentHash === hash || (hash === bare && copy.bareHash === bare))
  if (same) return { standing: 'same', lessonId: same.lessonId }
  const [newest] = copies
  if (!newest) return { standing: 'new', lessonId: null }
  const isNewer = Date.parse(records.writtenAt) > Date.parse(newest.writtenAt)
  return { standing: isNewer ? 'newer' : 'older', lessonId: newest.lessonId }
}

/** Students here that this file's student is, by an earlier file or because it was given from here. */
export const knownStudents = (
  { db }: Pick<LibraryContext, 'db'>,
  { student }: Pick<LessonRecords, 'student'>,
): { id: string; name: string }[] => {
  const here = (id: string) =>
    db.select({ id: t.student.id, name: t.student.name }).from(t.student).where(eq(t.student.id, id)).all()
  return [
    ...here(student.originId),
    ...db
      .select()
      .from(t.takenStudent)
      .where(eq(t.takenStudent.originId, student.originId))
      .all()
      .flatMap((taken) => here(taken.studentId)),
  ]
}
