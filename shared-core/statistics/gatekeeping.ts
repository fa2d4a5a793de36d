/** One test of a family: its p-value, its share of the budget, and who gets that share once it is shown. */
export interface GatekeptTest {
  /** Null where nothing could be tested; such a test takes no part. */
  p: number | null
  /** Share of the whole budget, from 0; the weights of a family add up to 1 at most. */
  weight: number
  /** Places of other tests and the part of this one's share each of them inherits; the parts add up to 1 at most. */
  passesTo: readonly { to: number; part: number }[]
}

/**
 * p-values adjusted for one budget over everything looked at, in the order of what matters: a test without a share of its own
 * is looked at only after the one before it has been shown. With equal weights that pass on evenly this is Holm's procedure.
 * Holds under any dependence between the tests. A test that no share reaches gets 1.
 * Source: Bretz, Maurer, Brannath & Posch 2009, Stat Med 28:586 (graphical procedure, algorithm 1).
 */
export function gatekeep(tests: readonly GatekeptTest[]): (number | null)[] {
  const weights = tests.map((test) => (test.p === null ? 0 : test.weight))
  const passes = tests.map(() => new Float64Array(tests.length))
  tests.forEach((test, i) => {
    for (const { to, part } of test.passesTo) passes[i]![to]! += part
  })
  const adjusted: (number | null)[] = tests.map((test) => (test.p === null ? null : 1))
  const open = new Set(tests.flatMap((test, i) => (test.p === null ? [] : [i])))
  let reached = 0
  while (open.size > 0) {
    let next = -1
    let lowest = Infinity
    for (const i of open) {
      if (!(weights[i]! > 0)) continue
      const scaled = tests[i]!.p! / weights[i]!
      if (scaled < lowest) [next, lowest] = [i, scaled]
    }
    if (next < 0 || lowest >= 1) break
    reached = Math.max(reached, lowest)
    adjusted[next] = reached
    open.delete(next)
    const given = passes[next]!
    for (const i of open) weights[i]! += weights[next]! * given[i]!
    for (const i of open) {
      const own = passes[i]!
      const back = own[next]! * given[i]!
      for (const k of open) {
        own[k] = k === i || back >= 1 ? 0 : (own[k]! + own[next]! * given[k]!) / (1 - back)
      }
    }
  }
  return adjusted
}
