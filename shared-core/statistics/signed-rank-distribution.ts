const cumulativeBySize = new Map<number, Float64Array>()

/**
 * Cumulative probabilities P(V ≤ 0), P(V ≤ 1), … of the signed-rank sum of n untied differences, counted by
 * dynamic programming. Kept once computed. Source: Wilcoxon 1945, Biometrics Bull 1:80.
 */
export function signedRankCumulative(n: number): Float64Array {
  const kept = cumulativeBySize.get(n)
  if (kept) return kept
  const ranks = Array.from({ length: n }, (_, i) => i + 1)
  const cumulative = signFlipProbabilities(ranks)
  for (let v = 1; v < cumulative.length; v++) cumulative[v]! += cumulative[v - 1]!
  if (n <= 200) cumulativeBySize.set(n, cumulative)
  return cumulative
}

/** Probability of each sum 0, 1, 2, … when every whole number of the list counts with chance one half. */
export function signFlipProbabilities(wholeNumbers: readonly number[]): Float64Array {
  const total = wholeNumbers.reduce((sum, value) => sum + value, 0)
  const probability = new Float64Array(total + 1)
  probability[0] = 1
  let reached = 0
  for (const value of wholeNumbers) {
    reached += value
    for (let sum = reached; sum >= 0; sum--) {
      probability[sum] = 0.5 * (probability[sum]! + (sum >= value ? probability[sum - value]! : 0))
    }
  }
  return probability
}
