import { standardNormalQuantile, tQuantile } from './distributions.ts'
import { mersenneGenerator } from './generator.ts'
import type { Generator } from './generator.ts'

/** What the number of shots is asked for; all in the metric's unit. */
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
  deviceErrorSd?: number
  power?: number
}

const runs = 500
/** Numbers of shots a coach would count; the answer is the first that does. */
const sizes = [5, 6, 7, 8, 9, 10, 12, 14, 16, 18, 20, 24, 28, 32, 36, 40, 50, 60]
const largest = sizes.at(-1)!

interface Draws {
  before: Float64Array[]
  after: Float64Array[]
  /** Sums and sums of squares of the first 1, 2, … draws. */
  sums: { before: Sums; after: Sums }[]
  /** Two normal draws a run and degree of freedom would be many; Wilson & Hilferty 1931 takes one. */
  scale: Float64Array
}

interface Sums {
  sum: Float64Array
  square: Float64Array
}

const normal = (generator: Generator): number =>
  Math.sqrt(-2 * Math.log(1 - generator())) * Math.cos(2 * Math.PI * generator())

function sumsOf(values: Float64Array): Sums {
  const sum = new Float64Array(values.length + 1)
  const square = new Float64Array(values.length + 1)
  values.forEach((value, i) => {
    sum[i + 1] = sum[i]! + value
    square[i + 1] = square[i]! + value ** 2
  })
  return { sum, square }
}

let keptDraws: Draws | null = null
/** The same draws for every question, so that the answer falls steadily with the difference. */
function draws(): Draws {
  if (keptDraws) return keptDraws
  const generator = mersenneGenerator(20_110_301)
  const block = () => Float64Array.from({ length: largest }, () => normal(generator))
  const before = Array.from({ length: runs }, block)
  const after = Array.from({ length: runs }, block)
  keptDraws = {
    before,
    after,
    sums: before.map((values, run) => ({ before: sumsOf(values), after: sumsOf(after[run]!) })),
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
const maxKept = 500

/**
 * Shots a block that show a change `power` of the time: whole pairs of blocks are drawn, with the scatter itself no better known
 * than it is, and put to the test of the verdict (normal scores) at the level that the budget leaves; the t test, quicker and
 * nearly as strict, finds where to begin. Null above 60: too small for one lesson.
 * Source: simulation; that formulas promise too much under a budget was seen by simulating lessons.
 */
export function shotsBySimulation(question: ShotsBySimulation): number | null {
  const { sd, df, difference, alpha, inflation = 1, deviceErrorSd = 0, power = 0.8 } = question
  if (!(sd > 0) || !(Math.abs(difference) > 0) || !(alpha > 0) || df < 1) return null
  // To two or three digits: the same answer, and most questions are asked again.
  const round = (value: number) => Number(value.toPrecision(2))
  const effect = Number((Math.abs(difference) / sd).toPrecision(3))
  const sem = round(deviceErrorSd / sd)
  const key = [effect, round(alpha), round(inflation), sem, Math.min(60, df)].join(' ')
  const kept = answers.get(key)
  if (kept !== undefined) return kept
  const asked: Asked = {
    effect,
    alpha: round(alpha),
    inflation: round(inflation),
    sem,
    shifts: draws().scale.map((z) => effect / scaleOf(z, Math.min(60, df))),
  }
  let low = 0
  let high = sizes.length
  while (low < high) {
    const middle = Math.floor((low + high) / 2)
    if (shareByT(sizes[middle]!, asked) >= power) high = middle
    else low = middle + 1
  }
  while (low < sizes.length && shareByScores(sizes[low]!, asked) < power) low++
  const answer = sizes[low] ?? null
  if (answers.size >= maxKept) answers.clear()
  answers.set(key, answer)
  return answer
}

interface Asked {
  /** The change over the scatter. */
  effect: number
  alpha: number
  inflation: number
  /** The device's error over the scatter. */
  sem: number
  /** The change over what the scatter may really be, for each run. */
  shifts: Float64Array
}

/** How often the mean difference of a run passes, and is more than the device alone makes. */
function shareOf(n: number, asked: Asked, isShown: (run: number, shift: number) => boolean): number {
  const { sums } = draws()
  const floor = 1.96 * asked.sem * Math.sqrt(2 / n)
  let shown = 0
  for (let run = 0; run < runs; run++) {
    const shift = asked.shifts[run]!
    const { before, after } = sums[run]!
    const difference = (after.sum[n]! - before.sum[n]!) / n + shift
    if (Math.abs(difference) * (asked.effect / shift) >= floor && isShown(run, shift)) shown++
  }
  return shown / runs
}

const wantedT = (n: number, { alpha, inflation }: Asked): number =>
  -tQuantile(alpha / 2, 2 * n - 2) * Math.sqrt(inflation)

function shareByT(n: number, asked: Asked): number {
  const wanted = wantedT(n, asked)
  return shareOf(n, asked, (run, shift) => {
    const { before, after } = draws().sums[run]!
    const [a, b] = [before.sum[n]!, after.sum[n]!]
    const within = before.square[n]! + after.square[n]! - (a ** 2 + b ** 2) / n
    return Math.abs((b - a) / n + shift) >= wanted * Math.sqrt((within / (2 * n - 2)) * (2 / n))
  })
}

function shareByScores(n: number, asked: Asked): number {
  const { before, after } = draws()
  const scores = Float64Array.from({ length: 2 * n }, (_, i) => standardNormalQuantile((i + 1) / (2 * n + 1)))
  const all = scores.reduce((sum, score) => sum + score ** 2, 0)
  const wanted = wantedT(n, asked)
  return shareOf(n, asked, (run, shift) => {
    const a = before[run]!.slice(0, n).sort()
    const b = after[run]!.slice(0, n).sort()
    let mean = 0
    let below = 0
    for (let j = 0; j < n; j++) {
      while (below < n && a[below]! < b[j]! + shift) below++
      mean += scores[below + j]! / n
    }
    // The scores add up to 0, so the other block's mean is the same with the other sign.
    const within = all - 2 * n * mean ** 2
    return within <= 0 || 2 * Math.abs(mean) >= wanted * Math.sqrt((within / (2 * n - 2)) * (2 / n))
  })
}
