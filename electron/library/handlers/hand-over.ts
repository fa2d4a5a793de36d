import { randomUUID } from 'node:crypto'
import { asc, desc, eq } from 'drizzle-orm'
import type { HandlersNamed } from '../../../shared-core/contract/index.ts'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'
import { draftOf } from '../hand-over/draft.ts'
import { previewOf } from '../hand-over/preview.ts'
import { lessonRow } from '../queries/lesson-row.ts'
import { phrase } from '../../../shared-core/wording/phrase.ts'

export const handOverHandlers = (context: LibraryContext): HandlersNamed<'handOver'> => {
  const { db } = context

  return {
    'handOver.templates': () =>
      db
        .select()
        .from(t.handOverTemplate)
        .orderBy(asc(t.handOverTemplate.name))
        .all()
        .map((template) => ({
          ...template,
          maxHeight: template.maxHeight === 720 ? (720 as const) : (1080 as const),
        })),
    'handOver.saveTemplate': ({ id, ...template }) => {
      const kept = id ?? randomUUID()
      db.insert(t.handOverTemplate)
        .values({ id: kept, ...template })
        .onConflictDoUpdate({ target: t.handOverTemplate.id, set: template })
        .run()
      return { id: kept }
    },
    'handOver.removeTemplate': ({ id }) => {
      db.delete(t.handOverTemplate).where(eq(t.handOverTemplate.id, id)).run()
      return {}
    },
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
        jobId: context.jobs.add('hand-over', lessonId, phrase('job.handOver'), {
          lessonId,
          folder,
          consentSaidBy,
        }),
      }
    },
    'handOver.list': ({ lessonId }) =>
      db
        .select()
        .from(t.handOver)
        .where(eq(t.handOver.lessonId, lessonId))
        .orderBy(desc(t.handOver.writtenAt))
        .all(),
  }
}
