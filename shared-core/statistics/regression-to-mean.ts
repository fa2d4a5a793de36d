import { standardNormalCdf, standardNormalDensity } from './distributions.ts'
import { finiteOrNull } from './reading.ts'
import type { Reason } from './reading.ts'

/** What the next block is expected to be when nothing is done, in the readings' own unit. */
export interface RegressionToMean {
  /** Share of the block mean's variance that is the player's level, not scatter. */
  reliability: number | null
  expectedNext: number | null
  expectedChange: number | null
  /** Rise (or fall) to expect only because a block beyond the cut-off was picked. */
  expectedChangeGivenCutoff: number | null
  reason: Reason | null
}

/**
 * How much better the next block is to be expected after a bad one, with nothing done: ρ = σ_b²/(σ_b² + σ_w²/n),
 * expected next mean μ + ρ(x̄ − μ). Source: Barnett, van der Pols & Dobson 2005, Int J Epidemiol 34:215.
 */
export function regressionToMean(
  data: { overallMean: number; betweenSd: number; withinSd: number; nBaseline: number; observed: number },
  options: { cutoff?: number | null; direction?: 'below' | 'above' } = {},
): RegressionToMean {
  const { overallMean, betweenSd, withinSd, nBaseline, observed } = data
  const { cutoff = null, direction = 'below' } = options
  const scatter = withinSd ** 2 / nBaseline
  const total = Math.sqrt(betweenSd ** 2 + scatter)
  if (!(total > 0) || !Number.isFinite(total)) {
    const reason = total === 0 ? 'no-spread' : 'too-few'
    return {
      reliability: null,
      expectedNext: null,
      expectedChange: null,
      expectedChangeGivenCutoff: null,
      reason,
    }
  }
  const reliability = betweenSd ** 2 / (betweenSd ** 2 + scatter)
  const z = cutoff === null ? NaN : (cutoff - overallMean) / total
  const pull =
    direction === 'below'
      ? standardNormalDensity(z) / standardNormalCdf(z)
      : -standardNormalDensity(z) / standardNormalCdf(-z)
  return {
    reliability,
    expectedNext: overallMean + reliability * (observed - overallMean),
    expectedChange: (1 - reliability) * (overallMean - observed),
    expectedChangeGivenCutoff: finiteOrNull((scatter / total) * pull),
    reason: null,
  }
}
