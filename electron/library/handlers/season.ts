import { and, asc, eq, isNotNull } from 'drizzle-orm'
import type { HandlersNamed } from '../../../shared-core/contract/index.ts'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'

export const seasonHandlers = (context: LibraryContext): HandlersNamed<'season'> => {
  const { db, reports } = context

  return {
    'season.report': ({ studentId, units }) => reports.season(studentId, units),
    'season.stills': ({ studentId }) =>
      db
        .select({
          lessonId: t.lesson.id,
          date: t.lesson.date,
          clipId: t.clip.id,
          kind: t.clip.stillKind,
          width: t.media.width,
          height: t.media.height,
        })
        .from(t.clip)
        .innerJoin(t.lesson, eq(t.lesson.id, t.clip.lessonId))
        .innerJoin(t.media, eq(t.media.hash, t.clip.mediaHash))
        .where(and(eq(t.lesson.studentId, studentId), isNotNull(t.clip.stillKind)))
        .orderBy(asc(t.lesson.date), asc(t.clip.fileName))
        .all()
        .map(({ kind, ...rest }) => ({ ...rest, kind: kind! })),
  }
}
