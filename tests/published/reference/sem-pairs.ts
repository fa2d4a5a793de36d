import { twoSidedNormal } from '../../../shared-core/statistics/distributions.ts'
import { mean } from '../../../shared-core/statistics/mean.ts'
import { finiteOrNull, presentPairs } from '../../../shared-core/statistics/reading.ts'
import type { Readings, Reason } from '../../../shared-core/statistics/reading.ts'
import { standardDeviation } from '../../../shared-core/statistics/variance.ts'

/** Error of measurement from pairs of readings, in their own unit. */
export interface SemPairs {
  n: number
  /** Mean of second − first. */
  bias: number | null
  sdOfDifferences: number | null
  /** SD of the differences over √2. */
  sem: number | null
  mdc95: number | null
  reason: Reason | null
}

/**
 * A device's error from two readings of the same shots; 15 pairs at least, better 30.
 * Sources: Bland & Altman 1986, Lancet 327:307; Weir 2005.
 */
export function semPairs(first: Readings, second: Readings): SemPairs {
  const pairs = presentPairs(first, second)
  const differences = pairs.second.map((value, i) => value - pairs.first[i]!)
  const n = differences.length
  const bias = finiteOrNull(mean(differences))
  if (n < 2) {
    return { n, bias, sdOfDifferences: null, sem: null, mdc95: null, reason: n ? 'too-few' : 'no-data' }
  }
  const sdOfDifferences = standardDeviation(differences)
  const sem = sdOfDifferences / Math.SQRT2
  return { n, bias, sdOfDifferences, sem, mdc95: twoSidedNormal(0.95) * Math.SQRT2 * sem, reason: null }
}
