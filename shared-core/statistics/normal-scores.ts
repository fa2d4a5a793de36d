import { fCdf, standardNormalQuantile, twoSidedTPValue } from './distributions.ts'
import { mean } from './mean.ts'
import { presentValues } from './reading.ts'
import { widenP } from './resemblance.ts'
import type { Readings } from './reading.ts'

/** Each reading's normal score Φ⁻¹(rank/(N + 1)), midranks for ties. */
function scoresOf(groups: readonly number[][]): number[][] {
  const all = groups.flat().sort((a, b) => a - b)
  const scoreOf = new Map<number, number>()
  for (let from = 0; from < all.length;) {
    let to = from
    while (to < all.length && all[to] === all[from]) to++
    scoreOf.set(all[from]!, standardNormalQuantile((from + to + 1) / 2 / (all.length + 1)))
    from = to
  }
  return groups.map((group) => group.map((value) => scoreOf.get(value)!))
}

/** Up to so many ways of dealing the shots into two blocks (8 and 8: 12,870) every one is looked at. */
const maxDealings = 13_000

const waysOf = (of: number, size: number): number => {
  let ways = 1
  for (let i = 1; i <= size && ways <= maxDealings; i++) ways = (ways * (of - size + i)) / i
  return ways
}

/** Share of all dealings of the scores whose smaller block lies as far from the middle as it did, or farther. */
function dealtP(scores: readonly number[], size: number, ways: number, seen: number): number {
  const wanted = Math.abs(seen) - 1e-9
  let far = 0
  const deal = (from: number, left: number, sum: number): void => {
    if (left === 0) {
      if (Math.abs(sum) >= wanted) far++
      return
    }
    for (let i = from; i <= scores.length - left; i++) deal(i + 1, left - 1, sum + scores[i]!)
  }
  deal(0, size, 0)
  return Math.min(1, far / ways)
}

/**
 * p-value of "all groups lie at one level" by their normal scores. It does not depend on how far a mishit flew, and in large
 * samples never has less power than the t test (Chernoff & Savage 1958), where the rank sum loses 5 %. Two small groups: exact, over
 * all dealings; else the analysis of variance of the scores, whose t and F stand for the permutation distribution (Pitman 1937;
 * Conover & Iman 1981). `inflation`: variance of a group's mean over that of independent shots (resemblance.ts). Null without
 * two groups or with too few readings; 1 where all are alike. Source: van der Waerden 1952.
 */
export function normalScoresP(groups: readonly Readings[], inflation = 1): number | null {
  const present = groups.map(presentValues)
  const n = present.reduce((sum, group) => sum + group.length, 0)
  const df = n - present.length
  if (present.length < 2 || present.some((group) => group.length === 0) || df < 1) return null
  const scores = scoresOf(present)
  const all = scores.flat()
  // Ties move the scores' mean off 0.
  const centre = mean(all)
  if (present.length === 2) {
    const small = scores[0]!.length <= scores[1]!.length ? scores[0]! : scores[1]!
    const ways = waysOf(n, small.length)
    if (ways <= maxDealings) {
      const sum = small.reduce((part, score) => part + score - centre, 0)
      const p = dealtP(
        all.map((score) => score - centre),
        small.length,
        ways,
        sum,
      )
      return widenP(p, inflation)
    }
  }
  let between = 0
  let within = 0
  for (const group of scores) {
    const middle = mean(group)
    between += group.length * (middle - centre) ** 2
    for (const score of group) within += (score - middle) ** 2
  }
  if (!(between > 1e-12)) return 1
  if (!(within > 1e-12)) return 0
  const f = between / (present.length - 1) / (within / df) / inflation
  return present.length === 2
    ? twoSidedTPValue(Math.sqrt(f), df)
    : Math.max(0, 1 - fCdf(f, present.length - 1, df))
}
