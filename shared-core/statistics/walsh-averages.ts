/** All xᵢ + xⱼ with i ≤ j, in no order: n(n + 1)/2 values, twice the Walsh averages. */
export function walshSums(values: readonly number[]): Float64Array {
  const n = values.length
  const sums = new Float64Array((n * (n + 1)) / 2)
  let k = 0
  for (let i = 0; i < n; i++) for (let j = i; j < n; j++) sums[k++] = values[i]! + values[j]!
  return sums
}

/** All (xᵢ + xⱼ)/2 with i ≤ j, sorted. Their median is the Hodges-Lehmann centre. */
export function walshAverages(values: readonly number[]): Float64Array {
  const averages = walshSums(values)
  for (let k = 0; k < averages.length; k++) averages[k]! /= 2
  return averages.sort()
}
