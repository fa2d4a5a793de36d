import { metricNames, type MetricName, type ShotFlag, type ShotMetrics } from '../model/shot.ts'

/** A value that takes no part in any comparison, and why. */
export type Withheld = { readonly metric: MetricName; readonly message: string }

/** Numbers with doubts about them. */
export interface Flagged extends Partial<ShotMetrics> {
  readonly flags?: readonly ShotFlag[]
  /** The coach has said that the flagged values are right. */
  readonly isTrusted?: boolean
}

const isMetric = (name: string): name is MetricName => (metricNames as readonly string[]).includes(name)

/**
 * The values of a shot that blocks, comparisons and the verdict may use: what can't be, or contradicts another value,
 * is taken out until the coach says that it is right. A value that is only rare stays.
 */
export const usable = <Shot extends Flagged>(shot: Shot): { shot: Shot; withheld: Withheld[] } => {
  if (shot.isTrusted || !shot.flags?.length) return { shot, withheld: [] }
  const withheld: Withheld[] = []
  for (const { metric, code, message } of shot.flags) {
    if (code === 'unlikely' || !isMetric(metric) || shot[metric] == null) continue
    if (!withheld.some((w) => w.metric === metric)) withheld.push({ metric, message })
  }
  if (withheld.length === 0) return { shot, withheld }
  const empty = Object.fromEntries(withheld.map(({ metric }) => [metric, null]))
  return { shot: { ...shot, ...empty }, withheld }
}
