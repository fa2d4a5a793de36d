/** A partner, and what the pair would gain. */
export type Candidate = { readonly j: number; readonly gain: number }
type Node = { readonly i: number; readonly j: number; readonly previous: Node | null }

/**
 * The best pairing of two sequences that never goes out of order: picks for each i at most one of its candidate j's,
 * both rising, so that the sum of gains is largest (dynamic programming over prefixes of j; candidates with no gain are
 * never taken).
 *
 * @param candidates for each i its possible partners, any order.
 * @param count how many j there are.
 * @returns [i, j] pairs, rising.
 */
export const alignInOrder = (
  candidates: readonly (readonly Candidate[])[],
  count: number,
): [number, number][] => {
  // best[j + 1]: largest sum using the i's so far and only partners up to j.
  const best = new Float64Array(count + 1)
  const chain = new Array<Node | null>(count + 1).fill(null)
  candidates.forEach((list, i) => {
    // From the last j down, so that this i is not used twice.
    for (const { j, gain } of [...list].sort((a, b) => b.j - a.j)) {
      if (!(gain > 0)) continue
      const sum = best[j]! + gain
      if (sum <= best[j + 1]!) continue
      const node: Node = { i, j, previous: chain[j]! }
      for (let k = j + 1; k <= count && best[k]! < sum; k++) {
        best[k] = sum
        chain[k] = node
      }
    }
  })
  const pairs: [number, number][] = []
  for (let node = chain[count]!; node; node = node.previous as Node) pairs.push([node.i, node.j])
  return pairs.reverse()
}
