import { ascending } from './ascending.ts'
import { hodgesLehmann } from './hodges-lehmann.ts'
import { mean } from './mean.ts'
import { median } from './median.ts'
import { isPresent, presentValues } from './reading.ts'
import type { Readings, Reason } from './reading.ts'
import { scaledMad } from './scaled-mad.ts'
import { standardDeviation } from './variance.ts'

/** One block's readings of one metric, in their own unit. */
export interface BlockSummary {
  n: number
  missing: number
  mean: number | null
  /** Divides by n - 1; null below two readings. */
  sd: number | null
  median: number | null
  /** 1.4826 times the median absolute deviation. */
  scaledMad: number | null
  /** Median of all (xᵢ + xⱼ)/2, i ≤ j. */
  hodgesLehmann: number | null
  min: number | null
  max: number | null
  /** Places in the given list (0-based, missing ones counted) of readings to look at; null below five readings. */
  flagged: number[] | null
  reason: Reason | null
}

/**
 * Where one block of shots is, and how wide. Flags mark |x − median|/MAD > 3.5; where the MAD is 0,
 * √(π/2)·mean|x − median| takes its place. A flag asks for a look ("misread or mishit?") and drops nothing.
 * Sources: Hodges & Lehmann 1963; Hampel 1974; Iglewicz & Hoaglin 1993.
 */
export function blockSummary(values: Readings): BlockSummary {
  // In ascending order, so that not even the rounding depends on the order of the shots.
  const present = Array.from(ascending(presentValues(values)))
  const n = present.length
  const missing = values.length - n
  if (n === 0) {
    return {
      n,
      missing,
      mean: null,
      sd: null,
      median: null,
      scaledMad: null,
      hodgesLehmann: null,
      min: null,
      max: null,
      flagged: [],
      reason: 'no-data',
    }
  }
  const centre = median(present)
  const spread = scaledMad(present, centre)
  return {
    n,
    missing,
    mean: mean(present),
    sd: n > 1 ? standardDeviation(present) : null,
    median: centre,
    scaledMad: spread,
    hodgesLehmann: hodgesLehmann(present),
    min: present[0]!,
    max: present[n - 1]!,
    flagged: n < 5 ? null : flaggedIndices(values, centre, spread, present),
    reason: null,
  }
}

function flaggedIndices(values: Readings, centre: number, spread: number, present: number[]): number[] {
  const scale =
    spread > 0 ? spread : Math.sqrt(Math.PI / 2) * mean(present.map((value) => Math.abs(value - centre)))
  if (!(scale > 0)) return []
  return values.flatMap((value, index) =>
    isPresent(value) && Math.abs(value - centre) / scale > 3.5 ? [index] : [],
  )
}
