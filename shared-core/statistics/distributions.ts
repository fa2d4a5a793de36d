import chiSquareQuantile from '@stdlib/stats-base-dists-chisquare-quantile'
import fCdf from '@stdlib/stats-base-dists-f-cdf'
import fQuantile from '@stdlib/stats-base-dists-f-quantile'
import normalCdf from '@stdlib/stats-base-dists-normal-cdf'
import normalQuantile from '@stdlib/stats-base-dists-normal-quantile'
import tCdf from '@stdlib/stats-base-dists-t-cdf'
import tQuantile from '@stdlib/stats-base-dists-t-quantile'

/** Probability below z of the standard normal distribution. */
export const standardNormalCdf = (z: number): number => normalCdf(z, 0, 1)

/** Quantile of the standard normal distribution. */
export const standardNormalQuantile = (probability: number): number => normalQuantile(probability, 0, 1)

/** Density of the standard normal distribution. */
export const standardNormalDensity = (z: number): number => Math.exp(-0.5 * z * z) / Math.sqrt(2 * Math.PI)

/** z that leaves (1 - confidence)/2 in each tail: 1.96 for 0.95. */
export const twoSidedNormal = (confidence: number): number => standardNormalQuantile(1 - (1 - confidence) / 2)

/** t that leaves (1 - confidence)/2 in each tail. */
export const twoSidedT = (confidence: number, df: number): number => tQuantile(1 - (1 - confidence) / 2, df)

/** Two-sided p-value of a t statistic; taken from the lower tail, which keeps its digits when small. */
export const twoSidedTPValue = (t: number, df: number): number => Math.min(1, 2 * tCdf(-Math.abs(t), df))

export { chiSquareQuantile, fCdf, fQuantile, tCdf, tQuantile }
