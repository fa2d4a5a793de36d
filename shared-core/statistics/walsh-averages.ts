import { ascending } from './ascending.ts'

/** All (xᵢ + xⱼ)/2 with i ≤ j, sorted: n(n + 1)/2 values. Their median is the Hodges-Lehmann centre. */
export function walshAverages(values: readonly number[]): Float64Array {
  const n = values.length
  const averages = new Float64Array((n * (n + 1)) / 2)
  let k = 0
  for (let i = 0; i < n; i++) for (let j = i; j < n; j++) averages[k++] = (values[i]! + values[j]!) / 2
  return ascending(averages)
}
