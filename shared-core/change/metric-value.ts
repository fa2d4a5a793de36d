import { efficiencyOf } from '../impact/efficiency.ts'
import type { ShownMetric } from '../units.ts'
import type { ChangeShot } from './change-shot.ts'

/** What a comparison looks at unless told otherwise. */
export const defaultMetrics: readonly ShownMetric[] = ['clubSpeedMps', 'efficiency', 'ballSpeedMps', 'carryM']

/**
 * One metric of one shot in SI units, null where the device gave none. Efficiency is the shot's own ball speed
 * over its own club speed, only where both exist: the ratio of each shot comes first, the centre later.
 */
export function metricValue(shot: ChangeShot, metric: ShownMetric): number | null {
  const value = metric === 'efficiency' ? efficiencyOf(shot)?.value : shot[metric]
  return typeof value === 'number' && Number.isFinite(value) ? value : null
}

/** One metric of every shot, in order. */
export const metricValues = (shots: readonly ChangeShot[], metric: ShownMetric): (number | null)[] =>
  shots.map((shot) => metricValue(shot, metric))
