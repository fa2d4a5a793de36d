import { defaultGenerator, drawIndex } from './generator.ts'
import type { Generator } from './generator.ts'
import { doubledMidranks, largestSplit, pettitt } from './pettitt.ts'
import { presentValues } from './reading.ts'
import type { Readings, Reason } from './reading.ts'

/**
 * p-value of Pettitt's K by shuffling the ranks: p = (1 + hits)/(1 + permutations). At least 9,999 permutations,
 * at least 15 shots to place a change. Sources: Pettitt 1979; Phipson & Smyth 2010, Stat Appl Genet Mol Biol 9:39.
 */
export function pettittPermutation(
  values: Readings,
  options: { permutations?: number; generator?: Generator } = {},
): { k: number; shotsBefore: number | null; p: number; reason: Reason | null } {
  const { permutations = 9_999, generator = defaultGenerator() } = options
  const { k, shotsBefore, reason } = pettitt(values)
  if (reason !== null) return { k, shotsBefore, p: 1, reason }
  const shuffled = Int32Array.from(doubledMidranks(presentValues(values)))
  let hits = 0
  for (let run = 0; run < permutations; run++) {
    for (let i = shuffled.length - 1; i > 0; i--) {
      const j = drawIndex(generator, i + 1)
      const kept = shuffled[i]!
      shuffled[i] = shuffled[j]!
      shuffled[j] = kept
    }
    if (largestSplit(shuffled).k >= k) hits++
  }
  return { k, shotsBefore, p: (1 + hits) / (1 + permutations), reason: null }
}
