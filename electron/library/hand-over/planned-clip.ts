import {
  comparisonPlan,
  slowClipPlan,
  type ComparisonPlan,
  type SlowClipPlan,
} from '../../../shared-core/hand-over/slow-clip-plan.ts'
import { comparisonSizes, sizeWithin, type PairLayout, type PlacedPair, type Size } from './clip-sizes.ts'
import type { ClipSource } from './clip-source.ts'

/** The slow clip of one view before it is written: how large it is, and which source frame stands on which of its own. */
export interface PlannedClip extends SlowClipPlan, Size {
  source: ClipSource
}

/** @param maxHeight lines (or columns, held upright) of the clip */
export const plannedClip = (source: ClipSource, maxHeight: number): PlannedClip => {
  const size = sizeWithin(source, maxHeight)
  return { source, ...size, ...slowClipPlan(source.time, size) }
}

export interface ComparisonChoices extends PairLayout {
  maxHeight: number
  holdSeconds: number
  wantedSlowBy: number
  /** The second's frame that belongs to one of the first; null where both run at real speed from the lock. */
  follow: ((frame: number) => number) | null
  /** Words under both pictures together while they are held; each source's own are seen where they lie side by side. */
  caption: string
}

/** Two views seen together, locked on a frame of each, before they are written. */
export interface PlannedPair extends ComparisonPlan, PlacedPair, PairLayout {
  pair: readonly [ClipSource, ClipSource]
  lock: readonly [number, number]
  caption: string
}

/** How two views are seen together (shared-core/hand-over/slow-clip-plan.ts). */
export const plannedPair = (
  pair: readonly [ClipSource, ClipSource],
  lock: readonly [number, number],
  choices: ComparisonChoices,
): PlannedPair => {
  const { arrangement, opacity, caption } = choices
  const placed = comparisonSizes(pair, choices.maxHeight, arrangement)
  const plan = comparisonPlan([pair[0].time, pair[1].time], lock, choices, placed)
  return { pair, lock, arrangement, opacity, caption, ...placed, ...plan }
}
