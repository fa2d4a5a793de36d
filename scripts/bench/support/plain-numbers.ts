/** Statistics as one writes them first: every pair listed, then sorted. Reference for the season's report. */

const middle = (values: Float64Array): number => {
  values.sort()
  const half = values.length >> 1
  return values.length % 2 === 1 ? values[half]! : (values[half - 1]! + values[half]!) / 2
}

/** Hodges-Lehmann centre: the median of all means of two readings, each reading with itself, too. */
export const plainCentre = (values: readonly number[]): number => {
  const means = new Float64Array((values.length * (values.length + 1)) / 2)
  let at = 0
  for (let i = 0; i < values.length; i++) {
    for (let j = i; j < values.length; j++) means[at++] = (values[i]! + values[j]!) / 2
  }
  return middle(means)
}

/** Theil-Sen slope: the median of the slopes of all pairs that differ in x. */
export const plainSlope = (x: readonly number[], y: readonly number[]): number => {
  const slopes: number[] = []
  for (let i = 0; i < x.length; i++) {
    for (let j = i + 1; j < x.length; j++) {
      if (x[j] !== x[i]) slopes.push((y[j]! - y[i]!) / (x[j]! - x[i]!))
    }
  }
  return middle(Float64Array.from(slopes))
}

/** Hodges-Lehmann shift between two groups: the median of all differences. */
export const plainShift = (before: readonly number[], after: readonly number[]): number => {
  const differences = new Float64Array(before.length * after.length)
  let at = 0
  for (const b of before) for (const a of after) differences[at++] = a - b
  return middle(differences)
}
