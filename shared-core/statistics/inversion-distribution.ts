const cumulativeBySize = new Map<number, Float64Array>()

/**
 * Cumulative probabilities P(D ≤ 0), P(D ≤ 1), … of the number of discordant pairs (inversions) of n untied
 * readings in random order. Kept once computed. Source: Kendall 1975, Rank Correlation Methods.
 */
export function inversionCumulative(n: number): Float64Array {
  const kept = cumulativeBySize.get(n)
  if (kept) return kept
  let cumulative: Float64Array = Float64Array.of(1)
  for (let size = 2; size <= n; size++) {
    // The size-th reading adds 0 … size − 1 inversions with equal chance, so the new probability of d is a mean
    // of `size` old ones, which the old cumulative sums give by one subtraction.
    const next = new Float64Array(cumulative.length + size - 1)
    const last = cumulative.length - 1
    let sum = 0
    for (let d = 0; d < next.length; d++) {
      const upper = d <= last ? cumulative[d]! : 1
      const lower = d >= size ? cumulative[d - size]! : 0
      sum += (upper - lower) / size
      next[d] = Math.min(1, sum)
    }
    cumulative = next
  }
  if (n <= 200) cumulativeBySize.set(n, cumulative)
  return cumulative
}
