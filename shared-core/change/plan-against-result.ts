import { centreInterval } from '../statistics/centre-interval.ts'
import type { CentreInterval } from '../statistics/centre-interval.ts'
import { twoSidedNormal } from '../statistics/distributions.ts'
import type { ShownMetric } from '../units.ts'
import type { ChangeBlock } from './change-shot.ts'
import { metricNoise } from './metric-noise.ts'
import type { NoiseOptions } from './metric-noise.ts'
import { metricValues } from './metric-value.ts'
import { mostHitClub, onlyClub } from './same-club.ts'

export interface PlanTarget {
  metric: ShownMetric
  /** In the metric's unit. */
  target: number
  /** Reached when the level is at least, or at most, the target. */
  want: 'at-least' | 'at-most'
  club?: string | null
}

export interface PlanResult {
  metric: ShownMetric
  target: number
  want: PlanTarget['want']
  club: string | null
  n: number
  level: number | null
  /** Interval of the level, the set-up's own error included. */
  ci95: [number, number] | null
  verdict: 'reached' | 'not-yet' | 'cannot-tell' | 'too-few'
}

/**
 * What was planned against what the first block of the next lesson shows: the interval of its centre, widened by
 * the error of placing the device anew, on one side of the target or not.
 * Source: statistics/centre-interval.ts.
 */
export function planAgainstResult(input: {
  targets: readonly PlanTarget[]
  block: ChangeBlock
  options?: NoiseOptions
}): PlanResult[] {
  return input.targets.map(({ metric, target, want, ...rest }) => {
    const club = rest.club === undefined ? (mostHitClub([input.block]) ?? null) : rest.club
    const block = onlyClub([input.block], club).blocks[0]!
    const found = centreInterval(metricValues(block.shots, metric))
    const { setupSem } = metricNoise(metric, found.centre ?? 0, input.options)
    const ci95 = widened(found, setupSem)
    return {
      metric,
      target,
      want,
      club,
      n: found.n,
      level: found.centre,
      ci95,
      verdict: judge(ci95, target, want),
    }
  })
}

/** Null where the readings are too few for 95 %. */
function widened(found: CentreInterval, setupSem: number): [number, number] | null {
  const { centre, lower, upper, achievedConfidence } = found
  if (centre === null || lower === null || upper === null || achievedConfidence! < 0.95 - 1e-12) return null
  const reach = twoSidedNormal(0.95) * setupSem
  return [centre - Math.hypot(centre - lower, reach), centre + Math.hypot(upper - centre, reach)]
}

function judge(
  ci95: [number, number] | null,
  target: number,
  want: PlanTarget['want'],
): PlanResult['verdict'] {
  if (ci95 === null) return 'too-few'
  const [isAbove, isBelow] = [ci95[0] >= target, ci95[1] <= target]
  if (want === 'at-least') return isAbove ? 'reached' : isBelow ? 'not-yet' : 'cannot-tell'
  return isBelow ? 'reached' : isAbove ? 'not-yet' : 'cannot-tell'
}
