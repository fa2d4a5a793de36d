import { allEqual } from './all-equal.ts'
import { presentValues } from './reading.ts'
import type { Readings, Reason } from './reading.ts'
import { sumOfSquares } from './variance.ts'

/** Where in a row of readings a change of level most likely lies. */
export interface ChangeLocation {
  /** Likeliest number of shots before the change. */
  shotsBefore: number | null
  probability: number | null
  /** Range of the smallest set of places that holds `mass` of the probability. */
  lower: number | null
  upper: number | null
  setProbability: number | null
  reason: Reason | null
}

/**
 * Where one change of level lies, given that there is one: P(t) ∝ [t(n − t)]^(−1/2)·RSS_t^(−(n − 2)/2).
 * Ask `pettittPermutation` first whether there is one. Source: Smith 1975, Biometrika 62:407.
 */
export function changeLocation(
  values: Readings,
  options: { minSegment?: number; mass?: number } = {},
): ChangeLocation {
  const { minSegment = 2, mass = 0.9 } = options
  const present = presentValues(values)
  const n = present.length
  const none = { shotsBefore: null, probability: null, lower: null, upper: null, setProbability: null }
  if (n < 2 * minSegment + 1) return { ...none, reason: 'too-few' }
  if (allEqual(present)) return { ...none, reason: 'no-spread' }
  const places = Array.from({ length: n - 2 * minSegment + 1 }, (_, i) => minSegment + i)
  const rss = places.map((t) => sumOfSquares(present.slice(0, t)) + sumOfSquares(present.slice(t)))
  const logs = places.map((t, i) => -0.5 * Math.log(t * (n - t)) - ((n - 2) / 2) * Math.log(rss[i]!))
  const top = Math.max(...logs)
  // Where the levels fit without any rest the place is certain.
  const weights = logs.map((log) => (top === Infinity ? (log === Infinity ? 1 : 0) : Math.exp(log - top)))
  const total = weights.reduce((sum, weight) => sum + weight, 0)
  const probabilities = weights.map((weight) => weight / total)
  const byProbability = places.map((_, i) => i).sort((i, j) => probabilities[j]! - probabilities[i]!)
  const taken: number[] = []
  let setProbability = 0
  for (const i of byProbability) {
    taken.push(places[i]!)
    setProbability += probabilities[i]!
    if (setProbability >= mass) break
  }
  return {
    shotsBefore: places[byProbability[0]!]!,
    probability: probabilities[byProbability[0]!]!,
    lower: Math.min(...taken),
    upper: Math.max(...taken),
    setProbability,
    reason: null,
  }
}
