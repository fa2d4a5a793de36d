import ranks from '@stdlib/stats-ranks'
import { allEqual } from './all-equal.ts'
import { presentValues } from './reading.ts'
import type { Readings, Reason } from './reading.ts'

/** Pettitt's test of one change of level (Pettitt 1979). */
export interface Pettitt {
  /** K = max|U_t|, U_t = 2·Σ_{i ≤ t} rankᵢ − t(n + 1). */
  k: number
  /** Shots before the change (missing left out); the first place where |U_t| is largest. */
  shotsBefore: number | null
  /** 2·exp(−6K²/(n³ + n²)): far too strict for small n; `pettittPermutation` gives the p to use. */
  pApproximate: number
  reason: Reason | null
}

/** Did the level change somewhere, and where at best. Source: Pettitt 1979, Appl Stat 28:126. */
export function pettitt(values: Readings): Pettitt {
  const present = presentValues(values)
  const n = present.length
  if (n < 2) return { k: 0, shotsBefore: null, pApproximate: 1, reason: 'too-few' }
  if (allEqual(present)) return { k: 0, shotsBefore: null, pApproximate: 1, reason: 'no-spread' }
  const { k, shotsBefore } = largestSplit(doubledMidranks(present))
  return {
    k,
    shotsBefore,
    pApproximate: Math.min(1, 2 * Math.exp((-6 * k * k) / (n ** 3 + n ** 2))),
    reason: null,
  }
}

/** Midranks times two: whole numbers even with ties. */
export const doubledMidranks = (values: readonly number[]): number[] =>
  ranks(values as number[]).map((rank) => Math.round(2 * rank))

/** Largest |U_t| over all places, and the first place that has it. */
export function largestSplit(doubled: ArrayLike<number>): { k: number; shotsBefore: number } {
  const n = doubled.length
  let k = -1
  let shotsBefore = 0
  let sum = 0
  for (let t = 1; t < n; t++) {
    sum += doubled[t - 1]!
    const distance = Math.abs(sum - t * (n + 1))
    if (distance > k) {
      k = distance
      shotsBefore = t
    }
  }
  return { k, shotsBefore }
}
