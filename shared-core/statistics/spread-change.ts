import { allEqual } from './all-equal.ts'
import { twoSidedTPValue } from './distributions.ts'
import { mean } from './mean.ts'
import { median } from './median.ts'
import { presentValues } from './reading.ts'
import type { Readings, Reason } from './reading.ts'
import { scaledMad } from './scaled-mad.ts'
import { standardDeviation, sumOfSquares } from './variance.ts'

/** The scatter of two samples against each other. */
export interface SpreadChange {
  f: number | null
  df1: number | null
  df2: number | null
  p: number | null
  /** SD after over SD before. */
  sdRatio: number | null
  madRatio: number | null
  reason: Reason | null
}

/**
 * Did the scatter change: one-way F test on the distances from each block's median. Three readings each to
 * compute, eight to show, and slow to see. Source: Brown & Forsythe 1974, JASA 69:364.
 */
export function spreadChange(before: Readings, after: Readings): SpreadChange {
  const a = presentValues(before)
  const b = presentValues(after)
  const none = { f: null, df1: null, df2: null, p: null, sdRatio: null, madRatio: null }
  if (a.length < 3 || b.length < 3) return { ...none, reason: 'too-few' }
  if (allEqual(a) || allEqual(b)) return { ...none, reason: 'no-spread' }
  const distances = [a, b].map((block) => {
    const centre = median(block)
    return block.map((value) => Math.abs(value - centre))
  }) as [number[], number[]]
  const [before1, after1] = distances
  const df2 = a.length + b.length - 2
  const within = (sumOfSquares(before1) + sumOfSquares(after1)) / df2
  const madBefore = scaledMad(a)
  const ratios = {
    sdRatio: standardDeviation(b) / standardDeviation(a),
    madRatio: madBefore > 0 ? scaledMad(b) / madBefore : null,
  }
  if (within === 0) return { ...none, ...ratios, reason: 'no-spread' }
  const between = ((a.length * b.length) / (a.length + b.length)) * (mean(after1) - mean(before1)) ** 2
  const f = between / within
  // With one degree of freedom above, F is the square of a t.
  return { f, df1: 1, df2, p: twoSidedTPValue(Math.sqrt(f), df2), ...ratios, reason: null }
}
