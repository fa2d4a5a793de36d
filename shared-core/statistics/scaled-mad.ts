import { median } from './median.ts'

/** Standard deviation of normal data over its median absolute deviation. Source: Hampel 1974, JASA 69:383. */
export const madToSd = 1.4826

/**
 * Median absolute deviation from the median, times 1.4826 so that it estimates the standard deviation of
 * normal data. Source: Hampel 1974, JASA 69:383.
 */
export function scaledMad(values: readonly number[], centre: number = median(values)): number {
  return madToSd * median(values.map((value) => Math.abs(value - centre)))
}
