import { standardNormalQuantile, standardNormalCdf } from './distributions.ts'
import { mean } from './mean.ts'
import { presentValues } from './reading.ts'
import type { Readings } from './reading.ts'

/** How much consecutive shots of a player resemble each other before any are seen, one standard deviation (assumption). */
const usualResemblance = 0.15

/** Shots of a player are not taken to resemble each other more than this; a drift inside a block looks like it and is asked about apart (assumption). */
const maxResemblance = 0.4

/** Standard errors that a resemblance must reach to be allowed for: at one, chance alone makes it one time in six; at two, one in forty. */
const minErrors = 2

/**
 * Lag-1 autocorrelation pooled over runs (blocks, and metrics that need not share a unit), each about its own mean, cleared of
 * its bias, (1 + 3r)/n a run (Kendall 1954, Biometrika 41:403), and drawn towards 0 by what chance alone makes of it, 1/√N.
 * Never below 0: shots that alternate do not make a result surer. `perReading`: readings that count as one, where the runs
 * are of metrics of the same shots.
 */
export function pooledLag1(runs: readonly Readings[], perReading = 1): number {
  let weighted = 0
  let shots = 0
  let used = 0
  for (const run of runs) {
    const values = presentValues(run)
    if (values.length < 4) continue
    const centre = mean(values)
    let cross = 0
    let square = 0
    values.forEach((value, i) => {
      square += (value - centre) ** 2
      if (i > 0) cross += (value - centre) * (values[i - 1]! - centre)
    })
    if (!(square > 1e-18 * centre ** 2)) continue
    weighted += (values.length * cross) / square
    shots += values.length
    used++
  }
  if (used === 0) return 0
  const perRun = shots / used
  const raw = weighted / shots
  const cleared = perRun > 3 ? (raw + 1 / perRun) / (1 - 3 / perRun) : raw
  const chance = perReading / shots
  if (cleared < minErrors * Math.sqrt(chance)) return 0
  const kept = usualResemblance ** 2 / (usualResemblance ** 2 + chance)
  return Math.min(maxResemblance, kept * cleared)
}

/** Variance of a mean of autocorrelated shots over that of independent ones, (1 + r)/(1 − r): NIST/SEMATECH handbook (effective n). */
export const varianceInflation = (lag1: number): number => (1 + lag1) / (1 - lag1)

/** A p-value as it would be with standard errors larger by √inflation (by its normal deviate). */
export function widenP(p: number | null, inflation: number): number | null {
  if (p === null || inflation <= 1 || p <= 0 || p >= 1) return p
  return 2 * standardNormalCdf(standardNormalQuantile(p / 2) / Math.sqrt(inflation))
}

/** An interval widened about the estimate by √inflation. */
export const widenAbout = (estimate: number, end: number, inflation: number): number =>
  estimate + (end - estimate) * Math.sqrt(inflation)
