import { correlation } from '../statistics/correlation.ts'
import { standardNormalCdf, twoSidedNormal } from '../statistics/distributions.ts'
import { mersenneGenerator } from '../statistics/generator.ts'
import { line } from '../statistics/line.ts'
import { mean } from '../statistics/mean.ts'
import { median } from '../statistics/median.ts'
import { playSpeedBootstrap } from '../statistics/play-speed-bootstrap.ts'
import type { PlaySpeedVerdict } from '../statistics/play-speed-bootstrap.ts'
import { playSpeed } from '../statistics/play-speed.ts'
import { ratioSlope } from '../statistics/ratio-slope.ts'
import { isPresent } from '../statistics/reading.ts'
import type { Reason } from '../statistics/reading.ts'
import type { ShownMetric } from '../units.ts'
import type { ChangeBlock, ChangeShot } from './change-shot.ts'
import { metricNoise } from './metric-noise.ts'
import type { NoiseOptions } from './metric-noise.ts'
import { metricValue } from './metric-value.ts'
import { mostHitClub, onlyClub } from './same-club.ts'
import type { LeftOut } from './same-club.ts'

/** At which speed the player's ball speed is greatest, speeds in m/s, and how surely that is known. */
export interface PlaySpeedReport {
  club: string | null
  /** Shots with both club speed and efficiency. */
  n: number
  verdict: PlaySpeedVerdict
  slowestMps: number | null
  fastestMps: number | null
  /** Best speed and the band within 1 % of its ball speed; only with the verdict `inside`. */
  bestMps: number | null
  /** Covers what resampling gives and the band: within 1 % of ball speed the place is not known better. */
  bestCi95: [number, number] | null
  /** The bend is so mild that the band is wide: then the slower end is the one to give. */
  isTooMild: boolean
  bandMps: [number, number] | null
  /** The band, cut at the best speed where direction gets worse with speed. */
  suggestedMps: [number, number] | null
  /** Share of the spread of club speed that is not the device's error; below 0.8 nothing is said. */
  reliability: number | null
  shares: { inside: number | null; atFastest: number | null; atSlowest: number | null }
  /** Efficiency lost or gained per m/s: as read, made by misread speeds alone, and with that taken out. */
  slope: { naive: number | null; fromNoiseAlone: number | null; corrected: number | null }
  /** Slope of the typical strike (Theil-Sen); where it parts from `slope.naive`, mishits are what speed costs. */
  typicalSlope: number | null
  control: Control
  /** What to hit to find out; null where an answer was found. */
  toHit: { shots: number; speedsMps: number[]; efforts: number[] } | null
  leftOut: LeftOut[]
  reason: Reason | null
}

/** Whether direction gets worse with speed (Spearman 1904). */
export interface Control {
  /** What direction was read from; null if none was recorded. */
  metric: 'launchDirectionDeg' | 'sideM' | null
  n: number
  /** Rank correlation of club speed with the distance from the typical direction. */
  spearman: number | null
  ci95: [number, number] | null
  p: number | null
  verdict: 'worse-with-speed' | 'better-with-speed' | 'cannot-tell' | 'too-few' | 'not-recorded'
}

/** What the report may be told; every part has its default. */
export interface PlaySpeedReportOptions extends NoiseOptions {
  club?: string | null
  replicates?: number
  /** Start of the generator: same data, same answer. */
  start?: number
}

/** Shots that are worth waiting for before play speed is judged (statistics 7.3). */
const worthWaitingFor = 20
/** A band within 1 % of ball speed wider than this share of the best speed can't be placed (our choice). */
const mildShare = 0.08
const covering = ([low, high]: [number, number], band: [number, number] | null): [number, number] =>
  band === null ? [low, high] : [Math.min(low, band[0]), Math.max(high, band[1])]
/** Share of the fastest speed to hit at, when the range is missing. */
const efforts = [0.8, 0.9, 1]

/**
 * At which club speed ball speed and control are best together, over all shots of one club, or what to hit to find
 * out. Refuses with too few shots, with a range the device's error could make, and where resampling does not agree.
 * Sources: those of statistics/play-speed*.ts and ratio-slope.ts.
 */
export function playSpeedReport(input: {
  blocks: readonly ChangeBlock[]
  options?: PlaySpeedReportOptions
}): PlaySpeedReport {
  const { options = {} } = input
  const club = options.club === undefined ? (mostHitClub(input.blocks) ?? null) : options.club
  const chosen = onlyClub(input.blocks, club)
  const shots = chosen.blocks
    .flatMap((block) => block.shots)
    .filter((shot) => metricValue(shot, 'clubSpeedMps') !== null && metricValue(shot, 'efficiency') !== null)
  const speeds = shots.map((shot) => metricValue(shot, 'clubSpeedMps')!)
  const ratios = shots.map((shot) => metricValue(shot, 'efficiency')!)
  const n = shots.length
  const speedSem = n > 0 ? metricNoise('clubSpeedMps', mean(speeds), options).deviceErrorSd : 0
  const found = playSpeedBootstrap(speeds, ratios, {
    speedSem,
    replicates: options.replicates ?? 2_000,
    generator: mersenneGenerator(options.start ?? 20_170_117),
  })
  const fit = playSpeed(speeds, ratios)
  const slope = ratioSlope(speeds, ratios, { speedSem })
  const isInside = found.verdict === 'inside' && fit.place === 'inside'
  const control = controlOf(shots)
  const band: [number, number] | null =
    isInside && fit.bandLower !== null && fit.bandUpper !== null ? [fit.bandLower, fit.bandUpper] : null
  const isTooMild = band !== null && band[1] - band[0] > mildShare * fit.best!
  const fastest = n > 0 ? Math.max(...speeds) : null
  const needsShots = found.verdict === 'too-few' || found.verdict === 'not-enough-range'
  return {
    club,
    n,
    verdict: found.verdict,
    slowestMps: n > 0 ? Math.min(...speeds) : null,
    fastestMps: fastest,
    bestMps: isInside ? fit.best : null,
    bestCi95:
      isInside && found.lower !== null && found.upper !== null
        ? covering([found.lower, found.upper], band)
        : null,
    isTooMild,
    bandMps: band,
    suggestedMps:
      band !== null && (isTooMild || control.verdict === 'worse-with-speed') ? [band[0], fit.best!] : band,
    reliability: found.reliability,
    shares: { inside: found.shareInside, atFastest: found.shareFastest, atSlowest: found.shareSlowest },
    slope: {
      naive: slope.slopeNaive,
      fromNoiseAlone: slope.slopeFromNoiseAlone,
      corrected: slope.slopeCorrected,
    },
    typicalSlope: line(speeds, ratios, { fit: 'theil-sen' }).slope,
    control,
    toHit:
      needsShots && fastest !== null
        ? {
            shots: Math.max(worthWaitingFor - n, 3 * efforts.length),
            speedsMps: efforts.map((effort) => effort * fastest),
            efforts,
          }
        : null,
    leftOut: chosen.leftOut,
    reason: n === 0 ? 'no-data' : needsShots ? (found.verdict as Reason) : null,
  }
}

/**
 * Direction against speed: Spearman's rank correlation of club speed with the distance from the median direction
 * (so that a constant aim error does not count), interval of Bonett & Wright 2000. Shown from ten shots on.
 */
function controlOf(shots: readonly ChangeShot[]): Control {
  const metric = (['launchDirectionDeg', 'sideM'] as const).find((name: ShownMetric) =>
    shots.some((shot) => isPresent(metricValue(shot, name))),
  )
  const none = { metric: metric ?? null, spearman: null, ci95: null, p: null }
  if (metric === undefined) return { ...none, n: 0, verdict: 'not-recorded' }
  const present = shots.filter((shot) => metricValue(shot, metric) !== null)
  const n = present.length
  if (n < 10) return { ...none, n, verdict: 'too-few' }
  const directions = present.map((shot) => metricValue(shot, metric)!)
  const middle = median(directions)
  const { spearman } = correlation(
    present.map((shot) => metricValue(shot, 'clubSpeedMps')),
    directions.map((direction) => Math.abs(direction - middle)),
  )
  if (spearman === null) return { ...none, n, verdict: 'cannot-tell' }
  const error = Math.sqrt((1 + spearman ** 2 / 2) / (n - 3))
  const reach = twoSidedNormal(0.95) * error
  const ci95: [number, number] = [
    Math.tanh(Math.atanh(spearman) - reach),
    Math.tanh(Math.atanh(spearman) + reach),
  ]
  const p = Math.min(1, 2 * standardNormalCdf(-Math.abs(Math.atanh(spearman)) / error))
  return judgeControl({ metric, n, spearman, ci95, p, verdict: 'cannot-tell' }, p, 0.05)
}

/** The verdict on direction once its p-value has been adjusted for everything looked at with it. */
export const judgeControl = (control: Control, pAdjusted: number | null, alpha: number): Control =>
  control.p === null || control.spearman === null
    ? control
    : {
        ...control,
        verdict:
          pAdjusted === null || pAdjusted > alpha
            ? 'cannot-tell'
            : control.spearman > 0
              ? 'worse-with-speed'
              : 'better-with-speed',
      }
