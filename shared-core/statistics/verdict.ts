import { allEqual } from './all-equal.ts'
import { ascending } from './ascending.ts'
import { holm } from './holm.ts'
import { pairwiseDifferences } from './pairwise-differences.ts'
import { presentValues } from './reading.ts'
import type { Readings, Reason } from './reading.ts'
import { shift, shiftBounds } from './shift.ts'
import { widenAbout, widenP } from './resemblance.ts'
import { deviceFloor } from './smallest-visible.ts'
import type { DeviceNoise } from './smallest-visible.ts'
import { standardDeviation } from './variance.ts'
import { welch } from './welch.ts'

/** What can be said of a difference. */
export type ChangeVerdict =
  | 'no-spread'
  | 'too-few'
  | 'within-device-error'
  | 'too-small-to-matter'
  | 'changed'
  | 'no-visible-change'
  | 'cannot-tell'

/** What the verdict needs beside the readings; errors and margin in their unit. */
export interface VerdictOptions extends DeviceNoise {
  /** The smallest change worth having, in the metric's unit. */
  margin: number
  /** The p-values of the other metrics shown together with this one. */
  otherPValues?: Readings
  alpha?: number
  /** Variance of the shift over that of independent shots; 1 for independent ones (statistics/resemblance.ts). */
  inflation?: number
}

/** All that a verdict rests on, before the other metrics' p-values are known. */
export interface VerdictEvidence {
  shift: number | null
  lower: number | null
  upper: number | null
  p: number | null
  /** True where unlike spread and size made the larger of the rank and Welch p-values count. */
  largerOfTwo: boolean
  deviceFloor: number | null
  constant: boolean
  reachesConfidence: boolean
  /** The (1 − 2·alpha) shift interval lies inside ±margin. */
  insideMargin: boolean
  achievedConfidence: number | null
  probabilityOfSuperiority: number | null
}

/** Gathers shift, interval, p and device floor of one metric. */
export function verdictEvidence(before: Readings, after: Readings, options: VerdictOptions): VerdictEvidence {
  const { margin, alpha = 0.05, inflation = 1 } = options
  // In ascending order, so that not even the rounding depends on the order of the shots.
  const a = Array.from(ascending(presentValues(before)))
  const b = Array.from(ascending(presentValues(after)))
  const wide = shift(a, b, { confidence: 1 - alpha })
  const narrow =
    a.length > 0 && b.length > 0
      ? shiftBounds(pairwiseDifferences(a, b), a.length, b.length, 1 - 2 * alpha)
      : null
  const largerOfTwo = isUnlike(a, b)
  const p = largerOfTwo && wide.p !== null ? Math.max(wide.p, welch(a, b).p ?? 0) : wide.p
  const widened = (end: number | null): number | null =>
    end === null || wide.shift === null ? null : widenAbout(wide.shift, end, inflation)
  return {
    shift: wide.shift,
    lower: widened(wide.lower),
    upper: widened(wide.upper),
    p: widenP(p, inflation),
    largerOfTwo,
    deviceFloor: deviceFloor(a.length, b.length, options, 1 - alpha),
    constant: a.length > 1 && b.length > 1 && allEqual(a) && allEqual(b),
    reachesConfidence: wide.achievedConfidence !== null && wide.achievedConfidence >= 1 - alpha - 1e-12,
    insideMargin:
      narrow !== null &&
      narrow.achievedConfidence >= 1 - 2 * alpha - 1e-12 &&
      widened(narrow.lower)! > -margin &&
      widened(narrow.upper)! < margin,
    achievedConfidence: wide.achievedConfidence,
    probabilityOfSuperiority: wide.probabilityOfSuperiority,
  }
}

/** SDs differ by more than 2 times and sizes by more than 1.5 times: the rank test alone would be too bold. */
function isUnlike(a: readonly number[], b: readonly number[]): boolean {
  if (a.length < 2 || b.length < 2) return false
  const sds = [standardDeviation(a), standardDeviation(b)]
  const ratio = Math.max(...sds) / Math.min(...sds)
  return ratio > 2 && Math.max(a.length, b.length) / Math.min(a.length, b.length) > 1.5
}

/** The verdict from the evidence and the adjusted p-value, in the fixed order of the rules. */
export function judge(evidence: VerdictEvidence, pAdjusted: number | null, alpha = 0.05): ChangeVerdict {
  if (evidence.constant) return 'no-spread'
  if (!evidence.reachesConfidence) return 'too-few'
  // With ties p may just reach what the interval does not; then neither is spoken of as sure.
  const significant = pAdjusted !== null && pAdjusted <= alpha && evidence.lower! * evidence.upper! > 0
  if (significant && Math.abs(evidence.shift!) < evidence.deviceFloor!) return 'within-device-error'
  if (significant && evidence.insideMargin) return 'too-small-to-matter'
  if (significant) return 'changed'
  return evidence.insideMargin ? 'no-visible-change' : 'cannot-tell'
}

/** The verdict, with the numbers that it rests on, in the readings' own unit. */
export interface VerdictResult {
  shift: number | null
  lower: number | null
  upper: number | null
  p: number | null
  largerOfTwo: boolean
  pAdjusted: number | null
  deviceFloor: number | null
  verdict: ChangeVerdict
  reason: Reason | null
}

/**
 * The whole answer for one metric: shift with exact interval and p, Holm over the metrics shown together, device
 * floor, and one of seven verdicts, "cannot-tell" among them. Sources: those of `shift`, `holm` and
 * `smallestVisible`; the order of the rules is Leadside's own.
 */
export function verdict(before: Readings, after: Readings, options: VerdictOptions): VerdictResult {
  const evidence = verdictEvidence(before, after, options)
  const pAdjusted = holm([evidence.p, ...(options.otherPValues ?? [])])[0]!
  const { shift: estimate, lower, upper, p, largerOfTwo } = evidence
  return {
    shift: estimate,
    lower,
    upper,
    p,
    largerOfTwo,
    pAdjusted,
    deviceFloor: evidence.deviceFloor,
    verdict: judge(evidence, pAdjusted, options.alpha),
    reason: estimate === null ? 'no-data' : null,
  }
}
