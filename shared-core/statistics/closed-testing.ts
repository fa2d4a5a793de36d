import { normalScoresP } from './normal-scores.ts'
import type { Readings } from './reading.ts'

/** One step held against the baseline, with what allows for the other steps of the lesson. */
export interface ClosedStep {
  /** p of "no step at all differs from the baseline". */
  all: number | null
  /** Largest p of any smaller set of steps with this one in it, itself included; null for a lesson of one step. */
  some: number | null
}

/** Sets of steps grow as 2^steps; from here on every step is held to the smallest share instead (Bonferroni). */
const maxSteps = 7

/**
 * Closed testing of several steps against one baseline: a step is shown only if every set of steps with it in it is shown to
 * differ somewhere. Keeps the chance of any false step, and finds more than a share for each, since a step that is there shows in
 * the whole. `own`: the p-value of each step by itself; null takes no part.
 * Source: Marcus, Peritz & Gabriel 1976, Biometrika 63:655.
 */
export function closedSteps(
  baseline: Readings,
  steps: readonly { values: Readings; own: number | null }[],
  inflation = 1,
): ClosedStep[] {
  const open = steps.flatMap(({ own }, i) => (own === null ? [] : [i]))
  const none = { all: null, some: null }
  if (open.length === 0) return steps.map(() => none)
  if (open.length > maxSteps) {
    const least = Math.min(1, open.length * Math.min(...open.map((i) => steps[i]!.own!)))
    return steps.map(({ own }) =>
      own === null ? none : { all: least, some: Math.min(1, open.length * own) },
    )
  }
  const found: ClosedStep[] = steps.map(({ own }) =>
    own === null ? none : { all: null, some: open.length > 1 ? own : null },
  )
  const everything = 2 ** open.length - 1
  for (let set = 1; set <= everything; set++) {
    const members = open.filter((_, k) => (set >> k) & 1)
    const p =
      members.length === 1
        ? steps[members[0]!]!.own!
        : (normalScoresP([baseline, ...members.map((i) => steps[i]!.values)], inflation) ?? 1)
    for (const i of members) {
      const row = found[i]!
      if (set === everything) row.all = p
      else if (p > row.some!) row.some = p
    }
  }
  return found
}
