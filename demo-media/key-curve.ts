/** One key of a curve: time in seconds, value, and the slope there if it is not to be chosen by the curve. */
export type Key = readonly [atSeconds: number, value: number, slope?: number]

/**
 * A smooth curve through keys: cubic Hermite pieces, slopes by the monotone rule of Fritsch and Carlson
 * (1980; harmonic mean of the neighbouring secants, zero at turning points and ends), so that a limb never
 * swings past its keys. Constant before the first and after the last key.
 */
export const keyCurve = (keys: readonly Key[]): ((t: number) => number) => {
  const slopes = keys.map((key, i) => {
    if (key[2] !== undefined) return key[2]
    const before = keys[i - 1]
    const after = keys[i + 1]
    if (!before || !after) return 0
    const s0 = (key[1] - before[1]) / (key[0] - before[0])
    const s1 = (after[1] - key[1]) / (after[0] - key[0])
    return s0 * s1 <= 0 ? 0 : (2 * s0 * s1) / (s0 + s1)
  })
  return (t) => {
    const first = keys[0]!
    const last = keys[keys.length - 1]!
    if (t <= first[0]) return first[1]
    if (t >= last[0]) return last[1]
    let i = 0
    while (t > keys[i + 1]![0]) i++
    const [t0, v0] = keys[i]!
    const [t1, v1] = keys[i + 1]!
    const h = t1 - t0
    const s = (t - t0) / h
    const s2 = s * s
    const s3 = s2 * s
    return (
      v0 * (2 * s3 - 3 * s2 + 1) +
      slopes[i]! * h * (s3 - 2 * s2 + s) +
      v1 * (3 * s2 - 2 * s3) +
      slopes[i + 1]! * h * (s3 - s2)
    )
  }
}
