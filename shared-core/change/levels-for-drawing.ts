import { blockSummary } from '../statistics/block-summary.ts'
import { mean } from '../statistics/mean.ts'
import { isPresent } from '../statistics/reading.ts'
import type { Readings } from '../statistics/reading.ts'
import { segmentation } from '../statistics/segmentation.ts'

/** A level to draw behind the shots `fromShot` … `toShot` (0-based places in the given list, both included). */
export interface DrawnLevel {
  fromShot: number
  toShot: number
  level: number
}

/**
 * Levels for a picture of a session: least squares parts of at least five shots, flagged shots left out of the
 * fit. For drawing only: whether a level changed is `sessionReport`'s to say. Empty below ten readings.
 * Source: Bai & Perron 2003.
 */
export function levelsForDrawing(values: Readings, options: { maxBreaks?: number } = {}): DrawnLevel[] {
  const flagged = new Set(blockSummary(values).flagged ?? [])
  const indices = values.flatMap((value, index) => (isPresent(value) && !flagged.has(index) ? [index] : []))
  if (indices.length < 10) return []
  const kept = indices.map((index) => values[index]!)
  const { shotsBefore } = segmentation(kept, { minSegment: 5, maxBreaks: options.maxBreaks ?? 3 })
  const starts = [0, ...shotsBefore]
  return starts.map((start, i) => {
    const end = starts[i + 1] ?? kept.length
    return {
      fromShot: indices[start]!,
      toShot: indices[end - 1]!,
      level: mean(kept.slice(start, end)),
    }
  })
}
