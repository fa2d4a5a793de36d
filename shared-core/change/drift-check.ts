import { fQuantile, tQuantile } from '../statistics/distributions.ts'
import { mean } from '../statistics/mean.ts'
import { isPresent, presentValues } from '../statistics/reading.ts'
import { variance } from '../statistics/variance.ts'
import type { ShownMetric } from '../units.ts'
import type { ChangeBlock } from './change-shot.ts'
import { metricValue } from './metric-value.ts'

/**
 * Blocks that follow each other can't be told from a drift by their levels alone. What tells something: whether one straight line
 * through the whole lesson fits the shots as well as a level for each block with a common slope inside them.
 */
export interface DriftCheck {
  /** What the slope makes of the distance between the blocks' middles, in the metric's unit. */
  expected: number
  /** Its 90 % interval: each end leaves out 5 %. */
  ci90: [number, number]
  /** A straight line through the lesson is not refused, or the step beyond it goes the other way. */
  couldExplain: boolean
  /** The slope is clear by itself, goes the same way, and makes half of the difference or more. */
  isLikely: boolean
}

/** What going back to how it was before says of a change. */
export interface GoingBack {
  n: number
  /** The change held against the mean of the block before and the block after it, which no steady drift moves. */
  difference: number
  ci95: [number, number]
  /** `went`: the change was gone on going back; `stayed`: it was still there; else it can't be told. */
  verdict: 'went' | 'stayed' | 'cannot-tell'
}

/** The lesson around two blocks, shots of one club only. */
export interface SessionAround {
  blocks: readonly ChangeBlock[]
  before: number
  after: number
  /** The first block after both that was hit as before; null without one. */
  back: ChangeBlock | null
}

const plain = (label: string): string => label.trim().toLowerCase().replace(/\s+/g, ' ')

/** True for a block hit as before: named so ("As before", "Back to …"), or named like the baseline, "again" or a number added. */
export function isReturn(block: ChangeBlock, baseline: ChangeBlock): boolean {
  const name = plain(block.label)
  return (
    /^(as before|back to|baseline)\b/.test(name) ||
    name.replace(/ (again|\d+)$/, '') === plain(baseline.label)
  )
}

const baselineOf = (blocks: readonly ChangeBlock[]): ChangeBlock | undefined =>
  blocks.find((block) => block.isBaseline) ?? blocks[0]

/** Every other block with the baseline, as they are compared; a block hit as before is no step of its own. */
export function pairsWithBaseline(blocks: readonly ChangeBlock[]): [ChangeBlock, ChangeBlock][] {
  const baseline = baselineOf(blocks)
  if (baseline === undefined) return []
  const others = blocks.filter((block) => block !== baseline)
  const steps = others.filter(
    (block) => blocks.indexOf(block) < blocks.indexOf(baseline) + 2 || !isReturn(block, baseline),
  )
  return steps.map((block) => [baseline, block])
}

/**
 * The lesson round two of its blocks, with the block hit as before after them, if there is one; null if one of the
 * two is not in it.
 */
export function sessionAround(
  blocks: readonly ChangeBlock[],
  before: number,
  after: number,
): SessionAround | null {
  const baseline = blocks[before]
  if (baseline === undefined || blocks[after] === undefined) return null
  const later = blocks.slice(Math.max(before, after) + 1)
  return {
    blocks,
    before,
    after,
    back: later.find((block) => isReturn(block, baseline) && block.shots.length > 0) ?? null,
  }
}

/**
 * A straight line is refused below this p: a steady drift alone then passes for a step in less than this share of lessons (our
 * choice; 5 mph of drift over lessons of two to four blocks did in 6 to 9 %).
 */
const refusedBelow = 0.1

/** Shots inside blocks that a slope needs, over and above the blocks' means. */
const minForSlope = 4

/**
 * Common slope inside the blocks (least squares about each block's means), what it makes of the distance between two of them, and
 * the F test of the blocks' levels against one line. Source: analysis of covariance, textbook (e.g. Fisher 1932); the rule is
 * Leadside's own.
 */
export function driftCheck(
  around: SessionAround,
  metric: ShownMetric,
  difference: number | null,
): DriftCheck | null {
  if (difference === null) return null
  let position = 0
  const blocks = around.blocks.map(({ shots }) =>
    shots
      .map((shot) => ({ x: position++, y: metricValue(shot, metric) }))
      .filter((point): point is { x: number; y: number } => isPresent(point.y)),
  )
  const inside = sumsAbout(blocks)
  const whole = sumsAbout([blocks.flat()])
  const used = blocks.filter((points) => points.length > 0).length
  const df = blocks.flat().length - used - 1
  const [a, b] = [blocks[around.before]!, blocks[around.after]!]
  if (df < minForSlope || !(inside.xx > 0) || a.length === 0 || b.length === 0) return null
  const slope = inside.xy / inside.xx
  const left = Math.max(0, inside.yy - slope * inside.xy)
  const se = Math.sqrt(left / df / inside.xx)
  const levelOf = (points: Point[], of: keyof Point) => mean(points.map((point) => point[of]))
  const distance = levelOf(b, 'x') - levelOf(a, 'x')
  const reach = tQuantile(0.95, df) * se * Math.abs(distance)
  const expected = slope * distance
  const sign = Math.sign(difference)
  const beyond = levelOf(b, 'y') - levelOf(a, 'y') - expected
  const byLevels = Math.max(0, whole.yy - whole.xy ** 2 / whole.xx - left) / (used - 1)
  const isRefused = byLevels > (left / df) * fQuantile(1 - refusedBelow, used - 1, df)
  return {
    expected,
    ci90: [expected - reach, expected + reach],
    couldExplain: !isRefused || sign * beyond <= 0,
    isLikely: Math.abs(slope) > tQuantile(0.975, df) * se && sign * expected >= Math.abs(difference) / 2,
  }
}

interface Point {
  x: number
  y: number
}

/** Sums of squares and products about the means of each group. */
function sumsAbout(groups: readonly Point[][]): { xx: number; xy: number; yy: number } {
  const sums = { xx: 0, xy: 0, yy: 0 }
  for (const points of groups) {
    if (points.length === 0) continue
    const [mx, my] = [mean(points.map(({ x }) => x)), mean(points.map(({ y }) => y))]
    for (const { x, y } of points) {
      sums.xx += (x - mx) ** 2
      sums.xy += (x - mx) * (y - my)
      sums.yy += (y - my) ** 2
    }
  }
  return sums
}

/** A B A: the change against the mean of what came before and after it (Welch's standard error and degrees of freedom). */
export function goingBack(
  before: readonly (number | null)[],
  change: readonly (number | null)[],
  back: readonly (number | null)[],
  inflation: number,
): GoingBack | null {
  const runs = [before, change, back].map(presentValues)
  if (runs.some((run) => run.length < 3)) return null
  const [a, b, c] = runs.map(mean) as [number, number, number]
  const parts = runs.map((run, i) => ((i === 1 ? 1 : 0.25) * variance(run)) / run.length)
  const se2 = parts.reduce((sum, part) => sum + part, 0)
  const df = se2 ** 2 / parts.reduce((sum, part, i) => sum + part ** 2 / (runs[i]!.length - 1), 0)
  if (!(se2 > 0) || !Number.isFinite(df)) return null
  const difference = b - (a + c) / 2
  const reach = tQuantile(0.975, df) * Math.sqrt(se2 * inflation)
  const ci95: [number, number] = [difference - reach, difference + reach]
  // Near to how it was: more than half of the way back.
  const isBack = (b - c) * (b - a) > 0 && Math.abs(b - c) > Math.abs(b - a) / 2
  const isClear = ci95[0] * ci95[1] > 0 && difference * (b - a) > 0
  const stepBack = 2 * Math.sqrt(4 * parts[2]! + parts[1]!)
  return {
    n: runs[2]!.length,
    difference,
    ci95,
    verdict: isClear && isBack ? 'went' : !isBack && Math.abs(c - a) > stepBack ? 'stayed' : 'cannot-tell',
  }
}
