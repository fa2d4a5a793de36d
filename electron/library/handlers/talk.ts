import { asc, eq } from 'drizzle-orm'
import type { HandlersNamed } from '../../../shared-core/contract/index.ts'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'
import { removeTalk } from '../hand-over/talk.ts'
import { lessonRow } from '../queries/lesson-row.ts'
import { phrase } from '../../../shared-core/wording/phrase.ts'

export const talkHandlers = (context: LibraryContext): HandlersNamed<'talk'> => {
  const { db } = context

  return {
    'talk.list': ({ lessonId }) =>
      db
        .select()
        .from(t.talkThrough)
        .where(eq(t.talkThrough.lessonId, lessonId))
        .orderBy(asc(t.talkThrough.recordedAt))
        .all()
        .map(({ fileName: _fileName, ...talk }) => talk),
    'talk.save': ({ lessonId, name, soundFile, timeline }) => {
      lessonRow(db, lessonId)
      const task = { lessonId, name, soundFile, timeline }
      return { jobId: context.jobs.add('talk-through', lessonId, name || phrase('job.talk'), task) }
    },
    'talk.remove': ({ id }) => {
      removeTalk(context, id)
      return {}
    },
  }
}
