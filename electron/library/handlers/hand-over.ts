import { asc, desc, eq } from 'drizzle-orm'
import type { Handlers } from '../../../shared-core/contract/index.ts'
import type { HandOverDraft } from '../../../shared-core/model/hand-over.ts'
import { talkTimelineSchema } from '../../../shared-core/hand-over/talk-timeline.ts'
import { Problem } from '../../../shared-core/problem.ts'
import * as t from '../database/schema.ts'
import { lessonRow, type LibraryContext } from '../library.ts'
import { previewOf } from '../hand-over/preview.ts'
import { removeTalk } from '../hand-over/talk.ts'
import { lessonView } from '../queries/lesson-view.ts'

type Names =
  | 'handOver.draft'
  | 'handOver.saveDraft'
  | 'handOver.preview'
  | 'handOver.write'
  | 'handOver.list'
  | 'talk.list'
  | 'talk.save'
  | 'talk.remove'

/** What the composer starts from: the starred swings with their marked moments, every comparison, every finding. */
export const freshDraft = (context: LibraryContext, lessonId: string): HandOverDraft => {
  const view = lessonView(context, lessonId)
  const settings = context.settings()
  return {
    lessonId,
    message: '',
    swings: view.swings
      .filter((s) => s.isStarred)
      .flatMap((s) => s.views)
      .map((v) => ({
        viewId: v.id,
        caption: '',
        momentIds: v.moments
          .filter(
            (m) =>
              v.drawings.some((d) => d.momentId === m.id) ||
              v.cues.some((c) => c.momentId === m.id) ||
              m.name === 'impact',
          )
          .map((m) => m.id),
        withClip: true,
      })),
    comparisonIds: view.comparisons.map((c) => c.id),
    findings: [],
    talkThroughIds: [],
    withPlan: true,
    maxHeight: 1080,
    slowBy: 8,
    coachName: settings.coachName,
    accent: settings.coachAccent,
    logoId: settings.coachLogoId,
  }
}

/** The draft as the composer left it, or a fresh one. */
export const draftOf = (context: LibraryContext, lessonId: string): HandOverDraft => {
  const row = context.db.select().from(t.handOverDraft).where(eq(t.handOverDraft.lessonId, lessonId)).get()
  // Drafts from before there were logos have none.
  return row ? { ...row.draft, logoId: row.draft.logoId ?? null } : freshDraft(context, lessonId)
}

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
