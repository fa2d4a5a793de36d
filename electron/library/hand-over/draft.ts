import { eq } from 'drizzle-orm'
import type { HandOverDraft } from '../../../shared-core/model/hand-over.ts'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'
import { openLesson } from '../queries/open-lesson.ts'

/** What the composer starts from: the starred swings with their marked moments, every comparison, every finding. */
export const freshDraft = (context: LibraryContext, lessonId: string): HandOverDraft => {
  const opened = openLesson(context, lessonId)
  const settings = context.settings()
  const stillIds = new Set(opened.clips.filter((c) => c.stillKind !== null).map((c) => c.id))
  return {
    lessonId,
    message: '',
    swings: opened.swings
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
              m.name === 'impact' ||
              stillIds.has(v.clipId),
          )
          .map((m) => m.id),
        withClip: !stillIds.has(v.clipId),
      })),
    comparisonIds: opened.comparisons.map((c) => c.id),
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
