import { correlation } from '../statistics/correlation.ts'
import { ellipse } from '../statistics/ellipse.ts'
import type { Ellipse } from '../statistics/ellipse.ts'
import { line } from '../statistics/line.ts'
import type { Reason } from '../statistics/reading.ts'
import { twoSidedT, twoSidedTPValue } from '../statistics/distributions.ts'
import { bestSpot } from './best-spot.ts'
import type { BestSpot } from './best-spot.ts'
import type { ChangeBlock } from './change-shot.ts'
import { metricValue } from './metric-value.ts'
import { mostHitClub, onlyClub } from './same-club.ts'
import type { LeftOut } from './same-club.ts'

/** Where on the face one club's strikes are, mm from its centre, and what distance costs. */
export interface StrikeMapReport {
  club: string | null
  n: number
  /** Spot that distances are counted from; null for the face centre. */
  spot: BestSpot | null
  /** Where the strikes are and in which ellipse 95 % of the next ones fall; shown from eight strikes on. */
  pattern: {
    centreMm: [number, number] | null
    semiAxesMm: [number, number] | null
    /** Major axis against the toe direction. */
    angleDeg: number | null
    areaMm2: number | null
    isShown: boolean
  }
  bias: {
    /** Distance of the centre from the spot. */
    distanceMm: number | null
    p: number | null
    verdict: 'off' | 'cannot-tell' | 'too-few'
  }
  /** Efficiency against the squared distance from the spot. */
  loss: {
    n: number
    /** Change of efficiency at 10 mm from the spot; negative is a loss. */
    at10Mm: number | null
    ci95: [number, number] | null
    /** One-sided question asked two-sided: does efficiency change with the squared distance? */
    p: number | null
    /** Rank correlation of distance with efficiency. */
    spearman: number | null
    verdict: 'falls-with-distance' | 'cannot-tell' | 'too-few' | 'not-recorded'
  }
  ellipse: Ellipse
  leftOut: LeftOut[]
  reason: Reason | null
}

/** Strikes that a pattern needs to be shown, and pairs that a loss with distance needs (statistics 8). */
const minToShow = 8
const minPairs = 10

/**
 * Strike map of one club: prediction ellipse, bias from a spot, and how efficiency falls with the squared distance
 * from it. The spot is fixed beforehand (the player's best one from earlier lessons, else the face centre): one searched in
 * the same data would flatter the fit. Sources: Chew 1966; Hotelling 1931.
 */
export function strikeMapReport(input: {
  blocks: readonly ChangeBlock[]
  options?: { club?: string | null; earlier?: readonly ChangeBlock[]; alpha?: number }
}): StrikeMapReport {
  const { options = {} } = input
  const { earlier = [], alpha = 0.05 } = options
  const club = options.club === undefined ? (mostHitClub(input.blocks) ?? null) : options.club
  const chosen = onlyClub(input.blocks, club)
  const strikes = chosen.blocks
    .flatMap((block) => block.shots)
    .filter((shot) => metricValue(shot, 'impactXMm') !== null && metricValue(shot, 'impactYMm') !== null)
  const points = strikes.map((shot) => [metricValue(shot, 'impactXMm')!, metricValue(shot, 'impactYMm')!])
  const spot = bestSpot(earlier, club)
  const [spotX, spotY] = [spot?.xMm ?? 0, spot?.yMm ?? 0]
  const found = ellipse(points, { target: [spotX, spotY] })
  const isShown = found.n >= minToShow
  return {
    club,
    n: found.n,
    spot,
    pattern: {
      centreMm: found.centre,
      semiAxesMm: isShown ? found.semiAxesPrediction : null,
      angleDeg: isShown ? found.angleDegrees : null,
      areaMm2: isShown ? found.areaPrediction : null,
      isShown,
    },
    bias: judgeBias(
      {
        distanceMm: found.biasDistance,
        p: isShown ? found.p : null,
        verdict: isShown ? 'cannot-tell' : 'too-few',
      },
      found.p,
      alpha,
    ),
    loss: lossWithDistance(
      points.map(([x, y]) => Math.hypot(x! - spotX, y! - spotY)),
      strikes.map((shot) => metricValue(shot, 'efficiency')),
      alpha,
    ),
    ellipse: found,
    leftOut: chosen.leftOut,
    reason: found.n === 0 ? 'no-data' : isShown ? null : 'too-few',
  }
}

function lossWithDistance(
  distancesMm: readonly number[],
  efficiencies: readonly (number | null)[],
  alpha: number,
): StrikeMapReport['loss'] {
  const n = efficiencies.filter((value) => value !== null).length
  const none = { n, at10Mm: null, ci95: null, p: null, spearman: null }
  if (n === 0) return { ...none, verdict: 'not-recorded' }
  if (n < minPairs) return { ...none, verdict: 'too-few' }
  const squares = distancesMm.map((distance) => distance ** 2)
  const fit = line(squares, efficiencies)
  const { spearman } = correlation(distancesMm, efficiencies)
  if (fit.slope === null || fit.slopeSe === null) return { ...none, spearman, verdict: 'cannot-tell' }
  const reach = twoSidedT(1 - alpha, n - 2) * fit.slopeSe
  const ci95: [number, number] = [100 * (fit.slope - reach), 100 * (fit.slope + reach)]
  const p = fit.slopeSe > 0 ? twoSidedTPValue(fit.slope / fit.slopeSe, n - 2) : null
  return judgeLoss({ n, at10Mm: 100 * fit.slope, ci95, p, spearman, verdict: 'cannot-tell' }, p, alpha)
}

/** The verdict on the bias once its p-value has been adjusted for everything looked at with it. */
export const judgeBias = (
  bias: StrikeMapReport['bias'],
  pAdjusted: number | null,
  alpha: number,
): StrikeMapReport['bias'] =>
  bias.verdict === 'too-few'
    ? bias
    : { ...bias, verdict: pAdjusted !== null && pAdjusted <= alpha ? 'off' : 'cannot-tell' }

/** The verdict on the loss with distance once its p-value has been adjusted for everything looked at with it. */
export const judgeLoss = (
  loss: StrikeMapReport['loss'],
  pAdjusted: number | null,
  alpha: number,
): StrikeMapReport['loss'] =>
  loss.p === null
    ? loss
    : {
        ...loss,
        verdict:
          pAdjusted !== null && pAdjusted <= alpha && loss.at10Mm! < 0
            ? 'falls-with-distance'
            : 'cannot-tell',
      }
