import type { ShownMetric } from '../units.ts'
import type { ChangeBlock, ChangeLesson } from './change-shot.ts'
import { comparePairs } from './compare-blocks.ts'
import type { BlockComparison } from './compare-blocks.ts'
import type { NoiseOptions } from './metric-noise.ts'

/** What came after a practice plan: the end of the lesson that gave it against the start of the next. */
export interface PlanResult {
  plannedOn: string
  shownOn: string
  comparison: BlockComparison
}

/**
 * Each practice plan against what the next lesson shows: the last block of the lesson that gave it and the first block
 * of the next one with the same club, the device placed anew in between. Adjusted for all plans shown together (Holm): a
 * family of its own, beside the lesson's budget, because it is asked over the season, and its words say so.
 * Source: change/compare-blocks.ts.
 */
export function plansAgainstResults(input: {
  /** One player's lessons, by date. */
  lessons: readonly ChangeLesson[]
  /** Days of lessons that gave a plan. */
  plannedOn: ReadonlySet<string>
  club: string | null
  metrics?: readonly ShownMetric[]
  options?: NoiseOptions & { margins?: Partial<Record<ShownMetric, number>> }
}): PlanResult[] {
  const { plannedOn, club, metrics, options } = input
  const lessons = input.lessons
    .map(({ date, blocks }) => ({ date, blocks: blocks.filter((block) => isHit(block, club)) }))
    .filter(({ blocks }) => blocks.length > 0)
  const pairs = lessons.flatMap((lesson, i) => {
    const next = lessons[i + 1]
    return next !== undefined && plannedOn.has(lesson.date)
      ? [
          {
            plannedOn: lesson.date,
            shownOn: next.date,
            blocks: [lesson.blocks.at(-1)!, next.blocks[0]!] as const,
          },
        ]
      : []
  })
  const compared = comparePairs(
    pairs.map(({ blocks }) => blocks),
    metrics,
    { ...options, club, sameSetup: false },
  )
  return pairs.map(({ blocks: _blocks, ...days }, i) => ({ ...days, comparison: compared[i]! }))
}

const isHit = (block: ChangeBlock, club: string | null): boolean =>
  block.shots.some((shot) => !shot.isLeftOut && (shot.club ?? null) === club)
