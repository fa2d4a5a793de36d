import type { Comparison, OpenLesson, Swing, View } from '../../shared-core/model/entities.ts'
import type { HandOverDraft, HandOverTemplate } from '../../shared-core/model/hand-over.ts'
import type { KeyedFinding } from '../../shared-core/report/lesson-report.ts'

export type DraftSwing = HandOverDraft['swings'][number]

/** A list with one of its things in another place; the place is kept within the list. */
export const moved = <T>(list: readonly T[], from: number, to: number): T[] => {
  const rest = list.filter((_, i) => i !== from)
  const thing = list[from]
  if (thing === undefined) return [...list]
  rest.splice(Math.max(0, Math.min(to, rest.length)), 0, thing)
  return rest
}

/** A still picture is all of itself. */
const isOneFrame = (view: View) => view.fromFrame === view.toFrame

/** A swing's picture as it first goes in: shown on impact and wherever something was drawn or tagged. */
export const swingEntry = (view: View): DraftSwing => ({
  viewId: view.id,
  caption: '',
  momentIds: view.moments
    .filter(
      (m) =>
        m.name === 'impact' ||
        isOneFrame(view) ||
        view.drawings.some((d) => d.momentId === m.id) ||
        view.cues.some((c) => c.momentId === m.id),
    )
    .map((m) => m.id),
  withClip: !isOneFrame(view),
})

/** Adds pictures at the end; one that is in already stays where it is. */
export const addViews = (draft: HandOverDraft, views: readonly View[]): HandOverDraft => {
  const entries = new Map(draft.swings.map((s) => [s.viewId, s]))
  for (const view of views) if (!entries.has(view.id)) entries.set(view.id, swingEntry(view))
  return { ...draft, swings: [...entries.values()] }
}

export const removeView = (draft: HandOverDraft, viewId: string): HandOverDraft => ({
  ...draft,
  swings: draft.swings.filter((s) => s.viewId !== viewId),
})

export const changeSwing = (
  draft: HandOverDraft,
  viewId: string,
  patch: Partial<Omit<DraftSwing, 'viewId'>>,
): HandOverDraft => ({
  ...draft,
  swings: draft.swings.map((s) => (s.viewId === viewId ? { ...s, ...patch } : s)),
})

/** Shows or leaves out one moment; the list keeps the order of the frames. */
export const toggleMoment = (draft: HandOverDraft, view: View, momentId: string): HandOverDraft => {
  const now = draft.swings.find((s) => s.viewId === view.id)?.momentIds ?? []
  const wanted = now.includes(momentId) ? now.filter((id) => id !== momentId) : [...now, momentId]
  const inOrder = [...view.moments].sort((a, b) => a.frame - b.frame).map((m) => m.id)
  return changeSwing(draft, view.id, { momentIds: inOrder.filter((id) => wanted.includes(id)) })
}

/** Starred swings with a picture of which none is in the hand-over yet. */
export const starredNotIn = (draft: HandOverDraft, swings: readonly Swing[]): Swing[] => {
  const there = new Set(draft.swings.map((s) => s.viewId))
  return swings.filter((s) => s.isStarred && s.views.length > 0 && !s.views.some((v) => there.has(v.id)))
}

export const toggleId = (ids: readonly string[], id: string, isIn: boolean): string[] =>
  isIn ? [...ids.filter((i) => i !== id), id] : ids.filter((i) => i !== id)

/** Comparisons in the order of the package: those that go in, then the rest. */
export const comparisonsInOrder = (
  ids: readonly string[],
  all: readonly Comparison[],
): { comparison: Comparison; isIn: boolean }[] => [
  ...ids.flatMap((id) => {
    const comparison = all.find((c) => c.id === id)
    return comparison ? [{ comparison, isIn: true }] : []
  }),
  ...all.filter((c) => !ids.includes(c.id)).map((comparison) => ({ comparison, isIn: false })),
]

/** Which of a comparison's two swings lacks the moment it is locked on. */
export const lacksLock = (comparison: Comparison, lesson: OpenLesson): boolean => {
  const views = [...lesson.swings, ...lesson.guests.map((g) => g.swing)].flatMap((s) => s.views)
  return [comparison.firstViewId, comparison.secondViewId].some(
    (id) => !views.find((v) => v.id === id)?.moments.some((m) => m.name === comparison.lockedOn),
  )
}

/** A finding as it stands in the hand-over: shown or not, and in whose words. */
export interface ComposedFinding {
  finding: KeyedFinding
  isShown: boolean
  sentence: string
  isOwnWords: boolean
}

export const composedFindings = (
  draft: HandOverDraft,
  findings: readonly KeyedFinding[],
): ComposedFinding[] => {
  const kept = new Map(draft.findings.map((f) => [f.key, f]))
  return findings.map((finding) => {
    const own = kept.get(finding.key)
    return {
      finding,
      isShown: own?.isShown ?? finding.isMain,
      sentence: own?.sentence || finding.sentence,
      isOwnWords: own !== undefined && own.sentence !== '',
    }
  })
}

const keepFinding = (
  draft: HandOverDraft,
  finding: KeyedFinding,
  patch: { sentence?: string; isShown?: boolean },
): HandOverDraft => {
  const before = draft.findings.find((f) => f.key === finding.key)
  const after = {
    key: finding.key,
    sentence: patch.sentence ?? before?.sentence ?? '',
    isShown: patch.isShown ?? before?.isShown ?? finding.isMain,
  }
  const findings = before
    ? draft.findings.map((f) => (f.key === finding.key ? after : f))
    : [...draft.findings, after]
  return { ...draft, findings }
}

export const showFinding = (draft: HandOverDraft, finding: KeyedFinding, isShown: boolean) =>
  keepFinding(draft, finding, { isShown })

/**
 * Puts a finding in the coach's own words. The tool's sentence itself, or nothing, is kept as empty: then the finding
 * goes on saying what the numbers say, also after they moved.
 */
export const wordFinding = (draft: HandOverDraft, finding: KeyedFinding, text: string) =>
  keepFinding(draft, finding, {
    sentence: text.trim() === '' || text.trim() === finding.sentence ? '' : text,
  })

/** Takes a template's choices; `message` says what becomes of what the coach wrote already. */
export const applyTemplate = (
  draft: HandOverDraft,
  template: HandOverTemplate,
  message: 'take' | 'keep' | 'below',
): HandOverDraft => ({
  ...draft,
  slowBy: template.slowBy,
  maxHeight: template.maxHeight,
  withPlan: template.withPlan,
  message:
    message === 'take'
      ? template.message
      : message === 'keep'
        ? draft.message
        : [draft.message.trim(), template.message.trim()].filter(Boolean).join('\n\n').slice(0, 20_000),
})
