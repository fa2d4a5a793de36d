import os from 'node:os'
import { quantileSorted } from 'simple-statistics'

/** One row of the table that `npm run bench` prints. */
export interface Measurement {
  name: string
  value: number
  unit: string
  aim?: string
  note?: string
}

/** How busy the machine is, for the note of a row: other work on it slows every measurement. */
export const loadNote = (): string =>
  `load ${os.loadavg()[0]!.toFixed(1)} on ${os.availableParallelism()} cores`

/** Median and 95th percentile (linear between order statistics), and how many readings they rest on. */
export const spreadOf = (values: readonly number[]): { median: number; p95: number; n: number } => {
  if (values.length === 0) throw new Error('nothing was measured')
  const sorted = [...values].sort((a, b) => a - b)
  return { median: quantileSorted(sorted, 0.5), p95: quantileSorted(sorted, 0.95), n: sorted.length }
}

/** Milliseconds that each of `runs` calls takes, after one that warms up. */
export const timesOfRuns = (run: () => unknown, runs: number): number[] => {
  run()
  return Array.from({ length: runs }, () => {
    const begin = performance.now()
    run()
    return performance.now() - begin
  })
}
