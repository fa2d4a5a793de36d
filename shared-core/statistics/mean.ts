import { mean as kahanMean } from 'simple-statistics'

/** Arithmetic mean by compensated summation (simple-statistics); NaN for none. */
export const mean = (values: readonly number[]): number =>
  values.length === 0 ? NaN : kahanMean(values as number[])
