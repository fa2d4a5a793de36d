import { asc, desc, eq } from 'drizzle-orm'
import type { Handlers } from '../../../shared-core/contract/index.ts'
import { talkTimelineSchema } from '../../../shared-core/hand-over/talk-timeline.ts'
import { Problem } from '../../../shared-core/problem.ts'
import * as t from '../database/schema.ts'
import type { LibraryContext } from '../context.ts'
import { lessonRow } from '../queries/lesson-row.ts'
import { draftOf } from '../hand-over/draft.ts'
import { previewOf } from '../hand-over/preview.ts'
import { removeTalk } from '../hand-over/talk.ts'

type Names =
  | 'handOver.draft'
  | 'handOver.saveDraft'
  | 'handOver.preview'
  | 'handOver.write'
  | 'handOver.list'
  | 'talk.list'
  | 'talk.save'
  | 'talk.remove'

export const handOverHandlers = (context: LibraryContext): Pick<Handlers, Names> => {
  const { db } = context
  return {
    'handOver.draft': ({ lessonId }) => {
      lessonRow(db, lessonId)
      return draftOf(context, lessonId)
    },
    'handOver.saveDraft': (draft) => {
      const { lessonId } = draft
      lessonRow(db, lessonId)
      db.insert(t.handOverDraft)
        .values({ lessonId, draft })
        .onConflictDoUpdate({ target: t.handOverDraft.lessonId, set: { draft } })
        .run()
      return {}
    },
    'handOver.preview': ({ lessonId, isQuick }) => {
      lessonRow(db, lessonId)
      return previewOf(context, lessonId, isQuick)
    },
    'handOver.write': ({ lessonId, folder, consentSaidBy }) => {
      lessonRow(db, lessonId)
      return {
        jobId: context.jobs.add('hand-over', lessonId, 'Hand-over', { lessonId, folder, consentSaidBy }),
      }
    },
    'handOver.list': ({ lessonId }) =>
      db
        .select()
        .from(t.handOver)
        .where(eq(t.handOver.lessonId, lessonId))
        .orderBy(desc(t.handOver.writtenAt))
        .all(),
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
      const parsed = talkTimelineSchema.safeParse(timeline)
      if (!parsed.success) {
        const issue = parsed.error.issues[0]!
        throw new Problem('bad-input', issue.message, { where: `talk.save timeline ${issue.path.join('.')}` })
      }
      const task = { lessonId, name, soundFile, timeline: parsed.data }
      return { jobId: context.jobs.add('talk-through', lessonId, name || 'Talk-through', task) }
    },
    'talk.remove': ({ id }) => {
      removeTalk(context, id)
      return {}
    },
  }
}
