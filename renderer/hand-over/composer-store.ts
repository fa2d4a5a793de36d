import { create } from 'zustand'
import type { CallOutput } from '../../shared-core/contract/index.ts'
import type {
  Drill,
  HandOverDraft,
  HandOverRecord,
  HandOverTemplate,
  Plan,
  PlanItem,
  TalkThrough,
} from '../../shared-core/model/hand-over.ts'
import type { LessonReport } from '../../shared-core/report/lesson-report.ts'
import { Problem } from '../../shared-core/problem.ts'
import { ask } from '../store/bridge.ts'
import { sayProblem, telling } from '../store/messages.ts'
import { laterSaver, type SaveState } from './later-saver.ts'

/** The page as a phone shows it. The last good one stays while the next is made. */
export interface Preview {
  html: string | null
  estimatedBytes: number | null
  /** What each clip takes of it, by its view's or its comparison's id. */
  clips: readonly { id: string; bytes: number }[]
  needsConsent: string | null
  covers: CallOutput<'handOver.preview'>['covers']
  isBeingMade: boolean
  problem: Problem | null
}
const noPreview: Preview = {
  html: null,
  estimatedBytes: null,
  clips: [],
  needsConsent: null,
  covers: null,
  isBeingMade: false,
  problem: null,
}

export type ComposerDialog =
  | { name: 'add-swings' }
  | { name: 'drills' }
  | { name: 'drill'; drill: Drill | null }
  /** `index`: an item of the plan that is about to be marked as loading; null where drills are taken in. */
  | { name: 'loading'; items: PlanItem[]; index: number | null }
  | { name: 'template'; template: HandOverTemplate }
  | { name: 'save-template' }
  | { name: 'templates' }

type Saved = 'draft' | 'plan' | 'previous'

interface ComposerState {
  lessonId: string | null
  draft: HandOverDraft | null
  plan: Plan | null
  previous: { plan: Plan; date: string } | null
  /** As the package has it, also for a lesson without shots. */
  report: LessonReport | { failed: string } | null
  drills: Drill[]
  talks: TalkThrough[]
  templates: HandOverTemplate[]
  written: HandOverRecord[]
  saves: Record<Saved, SaveState>
  preview: Preview
  dialog: ComposerDialog | null
  /** The plan's item that opens for editing as soon as it stands. */
  openItem: number | null
}

const fresh = {
  draft: null,
  plan: null,
  previous: null,
  report: null,
  talks: [],
  written: [],
  saves: { draft: 'saved', plan: 'saved', previous: 'saved' } as Record<Saved, SaveState>,
  preview: noPreview,
  dialog: null,
  openItem: null,
}

export const useComposer = create<ComposerState>(() => ({
  ...fresh,
  lessonId: null,
  drills: [],
  templates: [],
}))

export const openComposerDialog = (dialog: ComposerDialog) => useComposer.setState({ dialog })
export const closeComposerDialog = () => useComposer.setState({ dialog: null })

// ---- Saving as typed ------------------------------------------------------------------------------------------

const saverFor = <T>(name: Saved, save: (value: T) => Promise<unknown>) =>
  laterSaver<T>({
    save,
    waitMs: 400,
    onState: (state) => useComposer.setState(({ saves }) => ({ saves: { ...saves, [name]: state } })),
    onProblem: sayProblem,
  })
const drafts = saverFor<HandOverDraft>('draft', (draft) => ask('handOver.saveDraft', draft))
const plans = saverFor<Plan>('plan', (plan) => ask('plan.save', plan))
const outcomes = saverFor<Plan>('previous', (plan) => ask('plan.save', plan))

/** Everything that was typed is in the library once this is true. */
export const saveNow = async (): Promise<boolean> => {
  const done = await Promise.all([drafts.flush(), plans.flush(), outcomes.flush()])
  return done.every(Boolean)
}

/** The state of all three together: what is worst is what is shown. */
export const worstSave = (saves: Record<Saved, SaveState>): SaveState => {
  const all = Object.values(saves)
  return (['failed', 'saving', 'waiting'] as const).find((s) => all.includes(s)) ?? 'saved'
}

export const changeDraft = (change: (draft: HandOverDraft) => HandOverDraft) => {
  const { draft } = useComposer.getState()
  if (!draft) return
  const next = change(draft)
  useComposer.setState({ draft: next })
  drafts.put(next)
  previewSoon()
}

export const changePlan = (change: (plan: Plan) => Plan) => {
  const { plan } = useComposer.getState()
  if (!plan) return
  const next = change(plan)
  useComposer.setState({ plan: next })
  plans.put(next)
  previewSoon()
}

export const changeOutcome = (outcome: string) => {
  const { previous } = useComposer.getState()
  if (!previous) return
  const plan = { ...previous.plan, outcome }
  useComposer.setState({ previous: { ...previous, plan } })
  outcomes.put(plan)
}

// ---- Opening and leaving --------------------------------------------------------------------------------------

export const openComposer = async (lessonId: string) => {
  if (useComposer.getState().lessonId !== lessonId) useComposer.setState({ ...fresh, lessonId })
  // What was typed into another lesson's hand-over is saved before this one is read.
  await saveNow()
  await telling(async () => {
    const [draft, plan, drills, talks, templates, written] = await Promise.all([
      ask('handOver.draft', { lessonId }),
      ask('plan.get', { lessonId }),
      ask('drill.list', {}),
      ask('talk.list', { lessonId }),
      ask('handOver.templates', {}),
      ask('handOver.list', { lessonId }),
    ])
    if (useComposer.getState().lessonId !== lessonId) return
    useComposer.setState({
      draft,
      plan: plan.plan,
      previous: plan.previous,
      drills,
      talks,
      templates,
      written,
    })
    void makePreview()
    void reloadReport(lessonId)
  })
}

/** The findings are an extra here: why they are missing is shown where they would stand. */
export const reloadReport = async (lessonId: string) => {
  const report = await ask('lesson.report', { lessonId }).then(
    (answer) => answer as LessonReport,
    (error: Error) => ({ failed: error.message }),
  )
  if (useComposer.getState().lessonId === lessonId) useComposer.setState({ report })
}

/** Saves what waits; the window may close or go elsewhere at once. */
export const leaveComposer = () => {
  clearTimeout(previewTimer)
  useComposer.setState({ dialog: null })
  void saveNow()
}

export const reloadDrills = () =>
  telling(async () => useComposer.setState({ drills: await ask('drill.list', {}) }))
export const reloadTemplates = () =>
  telling(async () => useComposer.setState({ templates: await ask('handOver.templates', {}) }))
export const reloadTalks = async (lessonId: string) => {
  const talks = await telling(ask('talk.list', { lessonId }))
  if (talks && useComposer.getState().lessonId === lessonId) useComposer.setState({ talks })
}
export const reloadWritten = async (lessonId: string) => {
  const written = await telling(ask('handOver.list', { lessonId }))
  if (written && useComposer.getState().lessonId === lessonId) useComposer.setState({ written })
}

// ---- The preview ----------------------------------------------------------------------------------------------

let previewTimer: ReturnType<typeof setTimeout> | undefined
/** Makes the preview once the coach has stopped typing for a moment. */
export const previewSoon = () => {
  clearTimeout(previewTimer)
  previewTimer = setTimeout(() => void makePreview(), 900)
}

let isMaking = false
let isWanted = false
let latestRequest = 0
const setPreview = (patch: Partial<Preview>) =>
  useComposer.setState(({ preview }) => ({ preview: { ...preview, ...patch } }))

/** The page at once, with stand-ins for pictures that are still to be made; the whole one follows. */
const previewQuickly = async (lessonId: string, requested: number) => {
  await saveNow()
  // What went wrong is said by the whole preview, which is on its way.
  const made = await ask('handOver.preview', { lessonId, isQuick: true }).catch(() => null)
  if (!made || requested !== latestRequest || useComposer.getState().lessonId !== lessonId) return
  if (isMaking) {
    setPreview({ html: made.html, needsConsent: made.needsConsent, covers: made.covers })
  }
}

/** One preview at a time; what is requested meanwhile is made after it, once, and shown with stand-ins until then. */
export const makePreview = async () => {
  isWanted = true
  latestRequest += 1
  const { lessonId: now, preview } = useComposer.getState()
  if (now && (isMaking || preview.html === null)) void previewQuickly(now, latestRequest)
  if (isMaking) return
  isMaking = true
  setPreview({ isBeingMade: true })
  try {
    while (isWanted) {
      isWanted = false
      const { lessonId } = useComposer.getState()
      if (!lessonId) return
      const isStill = () => useComposer.getState().lessonId === lessonId
      try {
        await saveNow()
        const made = await ask('handOver.preview', { lessonId })
        // Newer words may stand there already, with stand-ins.
        const { html: _html, ...rest } = made
        if (isStill()) setPreview(isWanted ? { ...rest, problem: null } : { ...made, problem: null })
      } catch (error) {
        const problem =
          error instanceof Problem ? error : new Problem('preview', { reason: (error as Error).message })
        if (isStill()) setPreview({ problem })
      }
    }
  } finally {
    isMaking = false
    setPreview({ isBeingMade: false })
  }
}
