import { standardNormalQuantile } from './distributions.ts'
import { mersenneGenerator } from './generator.ts'
import type { Generator } from './generator.ts'

export interface ShotsBySimulation {
  /** Standard deviation of a block as seen, and the degrees of freedom it is known with. */
  sd: number
  df: number
  /** The change to be shown, in the same unit. */
  difference: number
  /** What one p-value must reach under the budget in force. */
  alpha: number
  /** Variance over that of independent shots. */
  inflation?: number
  /** The device's error of one reading; a difference below what it alone can make is not spoken of. */
  deviceSem?: number
  power?: number
}

const runs = 500
/** Numbers of shots a coach would count; the answer is the first that does. */
const sizes = [5, 6, 7, 8, 9, 10, 12, 14, 16, 18, 20, 24, 28, 32, 36, 40, 50, 60]
const largest = sizes.at(-1)!

interface Draws {
  before: Float64Array[]
  after: Float64Array[]
  /** Two normal draws a run and degree of freedom would be many; Wilson & Hilferty 1931 takes one. */
  scale: Float64Array
}

const normal = (generator: Generator): number =>
  Math.sqrt(-2 * Math.log(1 - generator())) * Math.cos(2 * Math.PI * generator())

let keptDraws: Draws | null = null
/** The same draws for every question, so that the answer falls steadily with the difference. */
function draws(): Draws {
  if (keptDraws) return keptDraws
  const generator = mersenneGenerator(20_110_301)
  const block = () => Float64Array.from({ length: largest }, () => normal(generator))
  keptDraws = {
    before: Array.from({ length: runs }, block),
    after: Array.from({ length: runs }, block),
    scale: Float64Array.from({ length: runs }, () => normal(generator)),
  }
  return keptDraws
}

/** √(df/χ²_df): how much wider than seen the scatter may really be (Wilson & Hilferty 1931, PNAS 17:684). */
const scaleOf = (z: number, df: number): number => {
  const share = 2 / (9 * df)
  return 1 / Math.sqrt(Math.max(0.05, (1 - share + z * Math.sqrt(share)) ** 3))
}

const answers = new Map<string, number | null>()
const mostKept = 500

/**
 * Shots a block that show a change `power` of the time: whole pairs of blocks are drawn, with the scatter itself no better known
 * than it is, and put to the rank test at the level that the budget leaves. Null above 60: too small for one lesson.
 * Source: simulation; that formulas promise too much under a budget was seen by simulating lessons.
 */
export function shotsBySimulation(question: ShotsBySimulation): number | null {
  const { sd, df, difference, alpha, inflation = 1, deviceSem = 0, power = 0.8 } = question
  if (!(sd > 0) || !(Math.abs(difference) > 0) || !(alpha > 0) || df < 1) return null
  // To two or three digits: the same answer, and most questions are asked again.
  const round = (value: number) => Number(value.toPrecision(2))
  const effect = Number((Math.abs(difference) / sd).toPrecision(3))
  const sem = round(deviceSem / sd)
  const key = [effect, round(alpha), round(inflation), sem, Math.min(60, df)].join(' ')
  const kept = answers.get(key)
  if (kept !== undefined) return kept
  const passes = (n: number) =>
    shareShown(n, effect, round(alpha), round(inflation), sem, Math.min(60, df)) >= power
  let low = 0
  let high = sizes.length
  while (low < high) {
    const middle = Math.floor((low + high) / 2)
    if (passes(sizes[middle]!)) high = middle
    else low = middle + 1
  }
  const answer = sizes[low] ?? null
  if (answers.size >= mostKept) answers.clear()
  answers.set(key, answer)
  return answer
}

function shareShown(
  n: number,
  effect: number,
  alpha: number,
  inflation: number,
  sem: number,
  df: number,
): number {
  const { before, after, scale } = draws()
  const middle = (n * n) / 2
  const wanted =
    -standardNormalQuantile(alpha / 2) * Math.sqrt(((n * n * (2 * n + 1)) / 12) * inflation) + 0.5
  const floor = 1.96 * sem * Math.sqrt(2 / n)
  let shown = 0
  for (let run = 0; run < runs; run++) {
    const shift = effect / scaleOf(scale[run]!, df)
    const a = before[run]!.slice(0, n).sort()
    const b = after[run]!.slice(0, n).sort()
    let u = 0
    let below = 0
    let sum = 0
    for (let j = 0; j < n; j++) {
      const value = b[j]! + shift
      while (below < n && a[below]! < value) below++
      u += below
      sum += value - a[j]!
    }
    if (Math.abs(u - middle) >= wanted && Math.abs(sum / n) * (effect / shift) >= floor) shown++
  }
  return shown / runs
}
