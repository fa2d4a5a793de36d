import { twoSidedT } from './distributions.ts'
import { mean } from './mean.ts'
import { finiteOrNull, presentValues } from './reading.ts'
import type { Readings, Reason } from './reading.ts'
import { sumOfSquares } from './variance.ts'

/** What can be said of a gain at the next lesson. */
export type RetentionVerdict = 'kept' | 'lost' | 'cannot-tell' | 'gain-not-clear'

/** How much of a lesson's gain is still there at the next, in the readings' own unit. */
export interface Retention {
  /** Last block − first block of the lesson. */
  gain: number | null
  gainLower: number | null
  gainUpper: number | null
  /** First block of the next lesson − last block. */
  change: number | null
  /** Share of the gain still there: (next − first)/(last − first). */
  retained: number | null
  lower: number | null
  upper: number | null
  verdict: RetentionVerdict | null
  reason: Reason | null
}

/**
 * Was the gain kept: the share retained with its Fieller interval, variance pooled over the three blocks. Limits
 * are the roots of (b² − t²v_b)θ² − 2(ab − t²c)θ + (a² − t²v_a) = 0; where b² ≤ t²v_b there is no clear gain
 * to retain. Eight readings each to show. Source: Fieller 1954, JRSS B 16:175.
 */
export function retention(
  first: Readings,
  last: Readings,
  nextFirst: Readings,
  options: { confidence?: number; keep?: number } = {},
): Retention {
  const { confidence = 0.95, keep = 0.5 } = options
  const blocks = [first, last, nextFirst].map(presentValues) as [number[], number[], number[]]
  const [f, l, x] = blocks
  const df = f.length + l.length + x.length - 3
  const b = mean(l) - mean(f)
  const a = mean(x) - mean(f)
  const estimates = { gain: finiteOrNull(b), change: finiteOrNull(a - b), retained: finiteOrNull(a / b) }
  const none = { gainLower: null, gainUpper: null, lower: null, upper: null }
  if (blocks.some((block) => block.length === 0) || df < 1) {
    return { ...estimates, ...none, verdict: null, reason: 'too-few' }
  }
  const pooled = blocks.reduce((sum, block) => sum + sumOfSquares(block), 0) / df
  const t = twoSidedT(confidence, df)
  const varianceB = pooled * (1 / f.length + 1 / l.length)
  const varianceA = pooled * (1 / f.length + 1 / x.length)
  const shared = pooled / f.length
  const reach = t * Math.sqrt(varianceB)
  const gain = { gainLower: b - reach, gainUpper: b + reach }
  const square = b * b - t * t * varianceB
  if (!(square > 0)) {
    return { ...estimates, ...gain, lower: null, upper: null, verdict: 'gain-not-clear', reason: null }
  }
  const middle = a * b - t * t * shared
  const root = Math.sqrt(Math.max(0, middle * middle - square * (a * a - t * t * varianceA)))
  const lower = (middle - root) / square
  const upper = (middle + root) / square
  const verdict = lower >= keep ? 'kept' : upper < keep ? 'lost' : 'cannot-tell'
  return { ...estimates, ...gain, lower, upper, verdict, reason: null }
}
