import { mean } from './mean.ts'
import { presentValues } from './reading.ts'
import type { Readings, Reason } from './reading.ts'
import { sumOfSquares } from './variance.ts'

/** Levels of several groups, with what is only scatter taken out, in the readings' own unit. */
export interface Shrinkage {
  msBetween: number | null
  msWithin: number | null
  /** Scatter of the groups' true levels; 0 where they do not differ beyond the scatter inside. */
  sdBetween: number | null
  sdWithin: number | null
  overallMean: number | null
  /** Per group; null for an empty one. */
  reliability: (number | null)[]
  /** Level of each group pulled towards the overall mean by what is only scatter; null for an empty one. */
  shrunken: (number | null)[]
  reason: Reason | null
}

/**
 * Levels of several lessons (or blocks) with luck taken out: one-way variance components by moments, each mean
 * pulled to the overall mean by its reliability. What a personal best is judged by.
 * Sources: Efron & Morris 1977, Sci Am 236:119; Barnett, van der Pols & Dobson 2005.
 */
export function shrinkage(groups: readonly Readings[]): Shrinkage {
  const present = groups.map(presentValues)
  const filled = present.filter((group) => group.length > 0)
  const k = filled.length
  const sizes = filled.map((group) => group.length)
  const total = sizes.reduce((sum, n) => sum + n, 0)
  const none = present.map(() => null)
  if (k < 2 || total <= k) {
    return {
      msBetween: null,
      msWithin: null,
      sdBetween: null,
      sdWithin: null,
      overallMean: null,
      reliability: none,
      shrunken: none,
      reason: total === 0 ? 'no-data' : 'too-few',
    }
  }
  const means = filled.map(mean)
  const grand = mean(filled.flat())
  const msBetween = means.reduce((sum, level, i) => sum + sizes[i]! * (level - grand) ** 2, 0) / (k - 1)
  const msWithin = filled.reduce((sum, group) => sum + sumOfSquares(group), 0) / (total - k)
  const squares = sizes.reduce((sum, n) => sum + n * n, 0)
  const typicalSize = (total - squares / total) / (k - 1)
  const between = Math.max(0, (msBetween - msWithin) / typicalSize)
  // Without any scatter inside and between, every group weighs by its size.
  const weights = sizes.map((n) => (between + msWithin > 0 ? 1 / (between + msWithin / n) : n))
  const overallMean =
    weights.reduce((sum, weight, i) => sum + weight * means[i]!, 0) /
    weights.reduce((sum, weight) => sum + weight, 0)
  const reliabilityOf = (n: number): number => (between > 0 ? between / (between + msWithin / n) : 0)
  return {
    msBetween,
    msWithin,
    sdBetween: Math.sqrt(between),
    sdWithin: Math.sqrt(msWithin),
    overallMean,
    reliability: present.map((group) => (group.length > 0 ? reliabilityOf(group.length) : null)),
    shrunken: present.map((group) =>
      group.length > 0 ? overallMean + reliabilityOf(group.length) * (mean(group) - overallMean) : null,
    ),
    reason: null,
  }
}
