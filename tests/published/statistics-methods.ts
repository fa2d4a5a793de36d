import { bca } from './reference/bca.ts'
import { blockStatistics, pairStatistics } from './reference/bootstrap-statistics.ts'
import { blockSummary } from '../../shared-core/statistics/block-summary.ts'
import { centreInterval } from '../../shared-core/statistics/centre-interval.ts'
import { changeLocation } from '../../shared-core/statistics/change-location.ts'
import { correlation } from '../../shared-core/statistics/correlation.ts'
import { ellipse } from '../../shared-core/statistics/ellipse.ts'
import { equivalence } from '../../shared-core/statistics/equivalence.ts'
import { defaultGenerator, minimalStandardGenerator } from '../../shared-core/statistics/generator.ts'
import type { Generator } from '../../shared-core/statistics/generator.ts'
import { hedgesG } from '../../shared-core/statistics/hedges-g.ts'
import { holm } from '../../shared-core/statistics/holm.ts'
import { lag1 } from './reference/lag1.ts'
import { line } from '../../shared-core/statistics/line.ts'
import { pettittPermutation } from '../../shared-core/statistics/pettitt-permutation.ts'
import { pettitt } from '../../shared-core/statistics/pettitt.ts'
import { playSpeedBootstrap } from '../../shared-core/statistics/play-speed-bootstrap.ts'
import { playSpeed } from '../../shared-core/statistics/play-speed.ts'
import { quantiles } from '../../shared-core/statistics/quantiles.ts'
import { ratioSlope } from '../../shared-core/statistics/ratio-slope.ts'
import { ratioUncertainty } from './reference/ratio-uncertainty.ts'
import { isPresent } from '../../shared-core/statistics/reading.ts'
import { regressionToMean } from '../../shared-core/statistics/regression-to-mean.ts'
import { reliability } from './reference/reliability.ts'
import { retention } from '../../shared-core/statistics/retention.ts'
import { segmentation } from '../../shared-core/statistics/segmentation.ts'
import { semPairs } from './reference/sem-pairs.ts'
import { shiftLarge } from '../../shared-core/statistics/shift-large.ts'
import { shiftWithinBlocks } from '../../shared-core/statistics/shift-within-blocks.ts'
import { shift } from '../../shared-core/statistics/shift.ts'
import { shotsNeeded } from './reference/shots-needed.ts'
import { shrinkage } from '../../shared-core/statistics/shrinkage.ts'
import { smallestVisible } from '../../shared-core/statistics/smallest-visible.ts'
import { spreadChange } from '../../shared-core/statistics/spread-change.ts'
import { trend } from '../../shared-core/statistics/trend.ts'
import { verdict } from '../../shared-core/statistics/verdict.ts'
import { welch } from '../../shared-core/statistics/welch.ts'

/* eslint-disable @typescript-eslint/no-explicit-any -- the data and options of a case are what its file says */
type Method = (data: any, options: any) => object

const generatorOf = (options: any): Generator =>
  options.generator === undefined ? defaultGenerator() : minimalStandardGenerator(options.generator.seed)

const bootstrap: Method = (data, options) => {
  const how = { ...options, generator: generatorOf(options) }
  if (data.pairs !== undefined) {
    const rows = data.pairs.filter((row: unknown[]) => row.every((value) => isPresent(value as number)))
    return bca<number[]>([rows], pairStatistics[options.statistic as keyof typeof pairStatistics], how)
  }
  const blocks = data.values === undefined ? [data.before, data.after] : [data.values]
  return bca<number>(
    blocks.map((block: number[]) => block.filter(isPresent)),
    blockStatistics[options.statistic as keyof typeof blockStatistics],
    how,
  )
}

/** What the published cases call by another name than this code: theirs and ours. */
const otherNames = { deviceSem: 'deviceErrorSd', setupSem: 'setupErrorSd' } as const

const inOurNames = (given: Record<string, unknown>) =>
  Object.fromEntries(
    Object.entries(given).map(([name, value]) => [
      otherNames[name as keyof typeof otherNames] ?? name,
      value,
    ]),
  )

const ours: Record<string, Method> = {
  'block-summary': (data) => {
    const { scaledMad: madScaled, ...summary } = blockSummary(data.values)
    return { ...summary, madScaled }
  },
  quantile: (data, options) => quantiles(data.values, options.probabilities),
  lag1: (data) => lag1(data.values),
  'centre-interval': (data, options) => centreInterval(data.values, options),
  welch: (data, options) => welch(data.before, data.after, options),
  shift: (data, options) => shift(data.before, data.after, options),
  'shift-large': (data) => shiftLarge(data.before, data.after),
  'shift-within-blocks': (data) => shiftWithinBlocks(data.values, data.tagged, data.block),
  bca: bootstrap,
  'hedges-g': (data, options) => hedgesG(data.before, data.after, options),
  'spread-change': (data) => spreadChange(data.before, data.after),
  equivalence: (data, options) => equivalence(data.before, data.after, options),
  retention: (data, options) => retention(data.first, data.last, data.nextFirst, options),
  'shots-needed': (data, options) => shotsNeeded(data.sd, data.difference, options),
  reliability: (data) => reliability(data.table),
  'sem-pairs': (data) => semPairs(data.first, data.second),
  'smallest-visible': (data, options) => smallestVisible(data, options),
  'ratio-uncertainty': (data, options) => ratioUncertainty(data, options),
  holm: (data) => ({ adjusted: holm(data.pValues) }),
  verdict: (data, options) => verdict(data.before, data.after, options),
  trend: (data, options) => trend(data.values, { ...options, x: data.x }),
  'regression-to-mean': (data, options) => regressionToMean(data, options),
  shrinkage: (data) => shrinkage(data.groups),
  pettitt: (data) => pettitt(data.values),
  'pettitt-permutation': (data, options) =>
    pettittPermutation(data.values, { ...options, generator: generatorOf(options) }),
  segmentation: (data, options) => segmentation(data.values, options),
  'change-location': (data, options) => changeLocation(data.values, options),
  line: (data, options) => line(data.x, data.y, options),
  'play-speed': (data, options) => playSpeed(data.speed, data.ratio, options),
  'play-speed-bootstrap': (data, options) =>
    playSpeedBootstrap(data.speed, data.ratio, { ...options, generator: generatorOf(options) }),
  'ratio-slope': (data, options) => ratioSlope(data.speed, data.ratio, options),
  ellipse: (data, options) => ellipse(data.points, options),
  correlation: (data, options) => correlation(data.x, data.y, options),
}

/** The `method` of a published case → the function of shared-core that must reproduce it. */
export const methods: Record<string, Method> = Object.fromEntries(
  Object.entries(ours).map(([name, method]): [string, Method] => [
    name,
    (data, options) => method(inOurNames(data ?? {}), inOurNames(options ?? {})),
  ]),
)
