import { pearsonCorrelation } from '../../../shared-core/statistics/correlation.ts'
import { mean } from '../../../shared-core/statistics/mean.ts'

type Blocks = readonly (readonly number[])[]
type PairBlocks = readonly (readonly (readonly number[])[])[]

/** Mean without the given share of the values at each end (whole values, rounded down). */
export function trimmedMean(values: readonly number[], share: number): number {
  const cut = Math.floor(values.length * share)
  return mean([...values].sort((a, b) => a - b).slice(cut, values.length - cut))
}

/** Statistics of blocks of readings that `bca` is used with. */
export const blockStatistics = {
  mean: (blocks: Blocks): number => mean(blocks[0]!),
  'difference-of-means': (blocks: Blocks): number => mean(blocks[1]!) - mean(blocks[0]!),
  'difference-of-trimmed-means': (blocks: Blocks): number =>
    trimmedMean(blocks[1]!, 0.2) - trimmedMean(blocks[0]!, 0.2),
} as const

/** Statistics of one block of [x, y] rows that `bca` is used with. */
export const pairStatistics = {
  correlation: (blocks: PairBlocks): number =>
    pearsonCorrelation(
      blocks[0]!.map((row) => row[0]!),
      blocks[0]!.map((row) => row[1]!),
    ),
  'ratio-of-means': (blocks: PairBlocks): number =>
    mean(blocks[0]!.map((row) => row[1]!)) / mean(blocks[0]!.map((row) => row[0]!)),
} as const
