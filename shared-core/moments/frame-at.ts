/**
 * The index of the last frame whose timestamp is not after `seconds` (0 if all are later).
 * `timestamps` rise; they need not be evenly spaced, so clips of variable rate come out right.
 */
export const frameAtOrBefore = (timestamps: ArrayLike<number>, seconds: number): number => {
  let low = 0
  let high = timestamps.length - 1
  // A timestamp read from text may be off by its last digit; a microsecond is never a frame.
  const limit = seconds + 1e-6
  while (low < high) {
    const middle = (low + high + 1) >> 1
    if (timestamps[middle]! <= limit) low = middle
    else high = middle - 1
  }
  return low
}
