import { tQuantile } from '../statistics/distributions.ts'
import { mean } from '../statistics/mean.ts'
import { isPresent, presentValues } from '../statistics/reading.ts'
import { variance } from '../statistics/variance.ts'
import type { ShownMetric } from '../units.ts'
import type { ChangeBlock } from './change-shot.ts'
import { metricValue } from './metric-value.ts'

/**
 * Blocks that follow each other can't be told from a drift. What tells something: the common slope inside the blocks, carried
 * over the distance between two of them.
 */
export interface DriftCheck {
  /** What the slope makes of the distance between the blocks' middles, in the metric's unit. */
  expected: number
  /** Its 90 % interval: each end leaves out 5 %. */
  ci90: [number, number]
  /** The difference found lies inside what such a drift can make. */
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

/** Shots inside blocks that a slope needs, over and above the blocks' means. */
const fewestForSlope = 4

/**
 * Common slope inside the blocks (least squares about each block's means) and what it makes of the distance between two of
 * them. Source: analysis of covariance, textbook; the rule is Leadside's own.
 */
export function driftCheck(
  around: SessionAround,
  metric: ShownMetric,
  difference: number | null,
): DriftCheck | null {
  if (difference === null) return null
  let place = 0
  const blocks = around.blocks.map(({ shots }) =>
    shots
      .map((shot) => ({ x: place++, y: metricValue(shot, metric) }))
      .filter((point): point is { x: number; y: number } => isPresent(point.y)),
  )
  let sxx = 0
  let sxy = 0
  let syy = 0
  let shots = 0
  let used = 0
  for (const points of blocks) {
    if (points.length < 2) continue
    const [mx, my] = [mean(points.map(({ x }) => x)), mean(points.map(({ y }) => y))]
    for (const { x, y } of points) {
      sxx += (x - mx) ** 2
      sxy += (x - mx) * (y - my)
      syy += (y - my) ** 2
    }
    shots += points.length
    used++
  }
  const df = shots - used - 1
  const [a, b] = [blocks[around.before]!, blocks[around.after]!]
  if (df < fewestForSlope || !(sxx > 0) || a.length === 0 || b.length === 0) return null
  const slope = sxy / sxx
  const se = Math.sqrt(Math.max(0, syy - slope * sxy) / df / sxx)
  const distance = mean(b.map(({ x }) => x)) - mean(a.map(({ x }) => x))
  const reach = tQuantile(0.95, df) * se * Math.abs(distance)
  const expected = slope * distance
  const sign = Math.sign(difference)
  return {
    expected,
    ci90: [expected - reach, expected + reach],
    couldExplain: sign * expected + reach >= Math.abs(difference),
    isLikely: Math.abs(slope) > tQuantile(0.975, df) * se && sign * expected >= Math.abs(difference) / 2,
  }
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
