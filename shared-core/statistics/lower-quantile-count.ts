/**
 * Smallest q with P(X ≤ q) ≥ probability, from cumulative probabilities of 0, 1, 2, …; a hair (10 machine
 * epsilons) of slack, as R's qwilcox and qsignrank have it, so that an exact tie counts as reached.
 */
export function lowerQuantileCount(cumulative: ArrayLike<number>, probability: number): number {
  const wanted = probability - 10 * Number.EPSILON
  let q = 0
  while (q < cumulative.length - 1 && cumulative[q]! < wanted) q++
  return q
}
