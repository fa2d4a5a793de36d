const cumulativeBySizes = new Map<string, Float64Array>()

/**
 * Cumulative probabilities P(U ≤ 0), P(U ≤ 1), … of the Mann-Whitney count of m against n untied readings.
 * Kept once computed. Source: Mann & Whitney 1947, Ann Math Stat 18:50.
 */
export function rankSumCumulative(m: number, n: number): Float64Array {
  const key = `${Math.min(m, n)} ${Math.max(m, n)}`
  const kept = cumulativeBySizes.get(key)
  if (kept) return kept
  let sum = 0
  const cumulative = rankSumProbabilities(m, n).map((p) => (sum += p))
  if (cumulativeBySizes.size >= maxKept) cumulativeBySizes.clear()
  cumulativeBySizes.set(key, cumulative)
  return cumulative
}

/** Distributions kept at once; a lesson needs a handful. */
const maxKept = 200

/**
 * P(U = 0), P(U = 1), … of the Mann-Whitney count without ties.
 * From the generating function ∏ (1 − qⁿ⁺ⁱ)/(1 − qⁱ), i = 1…m, whose coefficients are symmetric: only the lower half
 * is computed, where they rise and the subtractions lose no digits to speak of (4e-15 at worst against counting,
 * up to 12 against 400). Source: Andrews 1976, The Theory of Partitions, chapter 3 (from memory).
 */
export function rankSumProbabilities(m: number, n: number): Float64Array {
  const small = Math.min(m, n)
  const large = Math.max(m, n)
  const top = small * large
  const half = Math.floor(top / 2)
  const lower = new Float64Array(half + 1)
  lower[0] = 1
  for (let i = 1; i <= small; i++) {
    for (let u = half; u >= large + i; u--) lower[u]! -= lower[u - large - i]!
    for (let u = i; u <= half; u++) lower[u]! += lower[u - i]!
    // Chance of this step's lowest count: keeps the numbers inside the range of a double.
    const scale = i / (large + i)
    for (let u = 0; u <= half; u++) lower[u]! *= scale
  }
  return Float64Array.from({ length: top + 1 }, (_, u) => lower[Math.min(u, top - u)]!)
}

/**
 * Exact permutation distribution of the doubled Mann-Whitney count 2U (ties count one half), given the pooled
 * readings' tie pattern. `groupSizes`: how many pooled readings share each distinct value, in ascending order
 * of the value; `m`: how many of them belong to the block whose wins are counted. Entry u2 is P(2U = u2).
 *
 * Counting by dynamic programming over the ordered values (Streitberg & Röhmel 1986): after a value, the state
 * is the number i of counted readings so far and 2U, which lies in [0, 2·i·(seen − i)]; that band keeps it fast.
 * Only positive numbers are added and multiplied, so no digits are lost.
 */
export function pairCountProbabilities(groupSizes: readonly number[], m: number): Float64Array {
  const total = groupSizes.reduce((sum, size) => sum + size, 0)
  const n = total - m
  const step = groupSizes.every((size) => size === 1) ? 2 : 1
  let rows: Float64Array[] = [Float64Array.of(1)]
  let firstRow = 0
  let seen = 0
  for (const size of groupSizes) {
    const after = seen + size
    const lowest = Math.max(0, after - n)
    const highest = Math.min(m, after)
    const next = Array.from(
      { length: highest - lowest + 1 },
      (_, row) => new Float64Array((2 * (lowest + row) * (after - lowest - row)) / step + 1),
    )
    rows.forEach((counts, row) => {
      const i = firstRow + row
      for (let chosen = 0; chosen <= size; chosen++) {
        const target = i + chosen
        if (target < lowest || target > highest) continue
        // Chance that the next `size` readings, in random order, hold exactly `chosen` counted ones.
        const chance = hypergeometric(m - i, total - seen, size, chosen)
        if (chance === 0) continue
        const shift = (2 * chosen * (seen - i) + chosen * (size - chosen)) / step
        const out = next[target - lowest]!
        for (let u = 0; u < counts.length; u++) out[u + shift]! += counts[u]! * chance
      }
    })
    rows = next
    firstRow = lowest
    seen = after
  }
  const compact = rows[0]!
  if (step === 1) return compact
  const spread = new Float64Array(2 * m * n + 1)
  for (let u = 0; u < compact.length; u++) spread[2 * u] = compact[u]!
  return spread
}

/** P(chosen of `draws` are marked) when drawing without return from `total` of which `marked` are marked. */
function hypergeometric(marked: number, total: number, draws: number, chosen: number): number {
  if (chosen > marked || draws - chosen > total - marked) return 0
  if (draws === 1) return chosen === 1 ? marked / total : (total - marked) / total
  let probability = 1
  for (let k = 0; k < chosen; k++) probability *= (marked - k) / (total - k)
  for (let k = 0; k < draws - chosen; k++) probability *= (total - marked - k) / (total - chosen - k)
  for (let k = 1; k <= chosen; k++) probability *= (draws - chosen + k) / k
  return probability
}

/** How many pooled readings share each distinct value, in ascending order of the value. */
export function tieGroupSizes(sortedPooled: ArrayLike<number>): number[] {
  const sizes: number[] = []
  for (let i = 0; i < sortedPooled.length; i++) {
    if (i > 0 && sortedPooled[i] === sortedPooled[i - 1]) sizes[sizes.length - 1]!++
    else sizes.push(1)
  }
  return sizes
}

/** P(|2U − mean| ≥ |observed − mean|) of a doubled-count distribution with the given mean (a whole number). */
export function twoSidedTail(probabilities: Float64Array, observed: number, meanCount: number): number {
  const distance = Math.abs(observed - meanCount)
  let p = 0
  for (let u = 0; u < probabilities.length; u++) {
    if (Math.abs(u - meanCount) >= distance) p += probabilities[u]!
  }
  return Math.min(1, p)
}
