import { allEqual } from './all-equal.ts'
import { mean } from './mean.ts'
import { presentValues } from './reading.ts'
import type { Readings, Reason } from './reading.ts'

/** Least squares segmentation with its number of breaks chosen by BIC (Bai & Perron 2003). */
export interface Segmentation {
  /** Least residual sum of squares with 0, 1, 2, … breaks. */
  rss: number[]
  /** n(ln(RSS/n) + 1 + ln 2π) + 2(m + 1)·ln n; null where the RSS is 0. */
  bic: (number | null)[]
  chosenBreaks: number | null
  /** Shots before each break of the chosen number of breaks. */
  shotsBefore: number[]
  oneBreakAt: number | null
  reason: Reason | null
}

/**
 * Levels for drawing: least squares over all placements of up to `maxBreaks` breaks, parts of at least
 * `minSegment` shots, by dynamic programming; number of breaks by BIC. For drawing only: BIC alone calls a change
 * in one steady session of 20 shots out of five. Source: Bai & Perron 2003, J Appl Econom 18:1.
 */
export function segmentation(
  values: Readings,
  options: { minSegment?: number; maxBreaks?: number } = {},
): Segmentation {
  const minSegment = Math.max(1, options.minSegment ?? 5)
  const present = presentValues(values)
  const n = present.length
  const none = { rss: [], bic: [], chosenBreaks: null, shotsBefore: [], oneBreakAt: null }
  if (n < minSegment || n === 0) return { ...none, reason: n === 0 ? 'no-data' : 'too-few' }
  if (allEqual(present)) return { ...none, reason: 'no-spread' }
  const maxBreaks = Math.max(0, Math.min(options.maxBreaks ?? 3, Math.floor(n / minSegment) - 1))
  const cost = segmentCosts(present)

  // best[m][end]: least RSS of the first `end` shots with m breaks; from[m][end]: index of the shot after the last break.
  const best: Float64Array[] = [Float64Array.from({ length: n + 1 }, (_, end) => cost(0, end))]
  const from: Int32Array[] = [new Int32Array(n + 1)]
  for (let m = 1; m <= maxBreaks; m++) {
    const row = new Float64Array(n + 1).fill(Infinity)
    const startOfLast = new Int32Array(n + 1)
    for (let end = (m + 1) * minSegment; end <= n; end++) {
      for (let start = m * minSegment; start <= end - minSegment; start++) {
        const total = best[m - 1]![start]! + cost(start, end)
        if (total < row[end]!) {
          row[end] = total
          startOfLast[end] = start
        }
      }
    }
    best.push(row)
    from.push(startOfLast)
  }
  const rss = best.map((row) => row[n]!)
  const bic = rss.map((value, m) =>
    value > 0 ? n * (Math.log(value / n) + 1 + Math.log(2 * Math.PI)) + 2 * (m + 1) * Math.log(n) : null,
  )
  // A perfect fit (RSS 0) needs no more breaks; otherwise the first smallest BIC.
  const perfect = rss.findIndex((value) => !(value > 0))
  const chosenBreaks = perfect >= 0 ? perfect : bic.indexOf(Math.min(...(bic as number[])))
  const breaks = (count: number): number[] => {
    const places: number[] = []
    let end = n
    for (let m = count; m > 0; m--) {
      end = from[m]![end]!
      places.unshift(end)
    }
    return places
  }
  return {
    rss,
    bic,
    chosenBreaks,
    shotsBefore: breaks(chosenBreaks),
    oneBreakAt: maxBreaks >= 1 ? breaks(1)[0]! : null,
    reason: null,
  }
}

/** Residual sum of squares of the shots from start to end (exclusive), from sums of the centred values. */
function segmentCosts(values: readonly number[]): (start: number, end: number) => number {
  const centre = mean(values)
  const sums = new Float64Array(values.length + 1)
  const squares = new Float64Array(values.length + 1)
  const changes = new Int32Array(values.length + 1)
  values.forEach((value, i) => {
    sums[i + 1] = sums[i]! + (value - centre)
    squares[i + 1] = squares[i]! + (value - centre) ** 2
    changes[i + 1] = changes[i]! + (i > 0 && value !== values[i - 1] ? 1 : 0)
  })
  return (start, end) => {
    // A part of equal values costs exactly nothing.
    if (end - start < 2 || changes[end]! === changes[start + 1]!) return 0
    const sum = sums[end]! - sums[start]!
    return Math.max(0, squares[end]! - squares[start]! - (sum * sum) / (end - start))
  }
}
