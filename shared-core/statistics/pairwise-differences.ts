/** Every after − before, sorted: m·n values. Their median is the Hodges-Lehmann shift. */
export function pairwiseDifferences(before: readonly number[], after: readonly number[]): Float64Array {
  const differences = new Float64Array(before.length * after.length)
  let k = 0
  for (const b of after) for (const a of before) differences[k++] = b - a
  return differences.sort()
}

/** Pairs in which the reading after is above the one before, ties counting one half (Mann-Whitney U). */
export function winsOfAfter(before: readonly number[], after: readonly number[]): number {
  let doubled = 0
  for (const b of after) for (const a of before) doubled += b > a ? 2 : b === a ? 1 : 0
  return doubled / 2
}
