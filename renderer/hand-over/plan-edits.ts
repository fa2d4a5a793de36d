import type { Cue, CueKind, OpenLesson, Student } from '../../shared-core/model/entities.ts'
import type { Drill, Plan, PlanItem } from '../../shared-core/model/hand-over.ts'
import type { KeyedFinding } from '../../shared-core/report/lesson-report.ts'
import { handOverWords } from '../../shared-core/wording/window/hand-over.ts'

export const itemOfDrill = (drill: Drill): PlanItem => ({
  drillId: drill.id,
  name: drill.name,
  how: drill.how,
  dose: drill.dose,
  watchFor: drill.watchFor,
  caution: drill.caution,
  isLoading: drill.isLoading,
  pictureId: drill.pictureId,
  despite: null,
})

export const ownItem: PlanItem = {
  drillId: null,
  name: '',
  how: '',
  dose: '',
  watchFor: '',
  caution: '',
  isLoading: false,
  pictureId: null,
  despite: null,
}

export const changeItem = (plan: Plan, index: number, patch: Partial<PlanItem>): Plan => ({
  ...plan,
  items: plan.items.map((item, i) => (i === index ? { ...item, ...patch } : item)),
})

/** Why what loads the body must be thought over for this student; null if nothing is on the card. */
export const loadingConcern = (
  student: Pick<Student, 'limits' | 'isMinor'>,
): { limits: string | null; isMinor: boolean } | null => {
  const limits = student.limits.trim()
  return limits === '' && !student.isMinor ? null : { limits: limits || null, isMinor: student.isMinor }
}

/** What loads the body, marked as taken in knowing of what the student's card says. */
export const takenDespite = (
  items: readonly PlanItem[],
  student: Pick<Student, 'limits' | 'isMinor'>,
  at: string,
): PlanItem[] =>
  items.map((item) =>
    item.isLoading && loadingConcern(student)
      ? { ...item, despite: { limits: student.limits.trim(), isMinor: student.isMinor, at } }
      : item,
  )

export interface OfferedDrill {
  drill: Drill
  /** What in this lesson it serves, in words; empty if nothing was seen that it serves. */
  serves: string[]
}

/** What a finding that is sure asks for, as words of a drill's purpose (common practice, no source). */
const wordsOf = (finding: KeyedFinding): { kinds: string[]; pattern: RegExp; reason: string } | null => {
  if (finding.topic === 'holding-back' && finding.verdict === 'strike') {
    return { kinds: ['strike'], pattern: /strike|cent(re|er)/i, reason: handOverWords('shortOfStrike') }
  }
  if (finding.topic === 'holding-back' && finding.verdict === 'speed') {
    return { kinds: [], pattern: /speed/i, reason: handOverWords('shortOfSpeed') }
  }
  if (finding.topic === 'strike' && finding.isSure) {
    return { kinds: ['strike'], pattern: /strike|cent(re|er)/i, reason: handOverWords('whereStruck') }
  }
  if (finding.topic === 'play-speed' && finding.isSure) {
    return { kinds: [], pattern: /control/i, reason: handOverWords('playSpeed') }
  }
  return null
}

const cuesOf = (lesson: OpenLesson): Cue[] => lesson.swings.flatMap((s) => s.views.flatMap((v) => v.cues))

/**
 * The coach's drills, those first that serve what was tagged or found in this lesson. A cue counts each time it was
 * tagged, a finding as three; drills that serve nothing follow in the order of the library.
 */
export const drillsForLesson = (props: {
  drills: readonly Drill[]
  lesson: OpenLesson
  cueKinds: readonly CueKind[]
  findings: readonly KeyedFinding[]
}): OfferedDrill[] => {
  const seen = new Map<string, number>()
  for (const cue of cuesOf(props.lesson)) seen.set(cue.kind, (seen.get(cue.kind) ?? 0) + 1)
  const labels = new Map(props.cueKinds.map((k) => [k.key, k.label]))
  const wanted = props.findings.flatMap((f) => wordsOf(f) ?? [])
  const scored = props.drills.map((drill) => {
    const cues = drill.cueKinds.filter((kind) => seen.has(kind))
    const reasons = new Set(
      wanted
        .filter((w) => w.pattern.test(drill.purpose) || w.kinds.some((k) => drill.cueKinds.includes(k)))
        .map((w) => w.reason),
    )
    return {
      drill,
      serves: [...reasons, ...cues.map((kind) => `${labels.get(kind) ?? kind} (${seen.get(kind)}×)`)],
      score: 3 * reasons.size + cues.reduce((sum, kind) => sum + seen.get(kind)!, 0),
    }
  })
  return scored.sort((a, b) => b.score - a.score).map(({ drill, serves }) => ({ drill, serves }))
}
