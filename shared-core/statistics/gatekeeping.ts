/** A question of a lesson: one test, or several steps that are tested together and share what it has of the budget. */
export interface GatekeptFamily {
  /** p-values, each already allowing for the other members; null takes no part. A single test is a family of one. */
  p: readonly (number | null)[]
  /** Share of the whole budget, from 0; the weights of all families add up to 1 at most. */
  weight: number
  /** Places of other families and the part of this one's share each inherits once all members are shown; 1 at most together. */
  passesTo: readonly { to: number; part: number }[]
  /**
   * For each member, what it gives as soon as it is shown alone; all members together give no more than the part of the share that
   * the members' p-values keep free, and no family more than it inherits in the end.
   */
  gives?: readonly (readonly { to: number; part: number }[])[]
}

/**
 * p-values adjusted for one budget over everything looked at, in the order of what matters: a family without a share of its own
 * is looked at only after one before it has been shown. With equal weights that pass on evenly this is Holm's procedure.
 * Holds under any dependence between the families. A test that no share reaches gets 1.
 * Sources: Bretz, Maurer, Brannath & Posch 2009, Stat Med 28:586 (graphs); Dmitrienko, Tamhane & Wiens 2008, Biometrical J
 * 50:667 (part of a family shown); Goeman & Solari 2010, Ann Stat 38:3782 (sequential rejection).
 */
export function gatekeep(families: readonly GatekeptFamily[]): (number | null)[][] {
  const adjusted = families.map(({ p }) => p.map((each): number | null => (each === null ? null : 1)))
  const shown = families.map(({ p }) => p.map(() => false))
  const isComplete = (i: number): boolean =>
    families[i]!.p.every((each, k) => each === null || shown[i]![k]!) &&
    families[i]!.p.some((each) => each !== null)
  let reached = 0
  for (;;) {
    const weights = weightsNow(families, shown, isComplete)
    let next: [number, number] | null = null
    let lowest = Infinity
    families.forEach(({ p }, i) => {
      if (!(weights[i]! > 0)) return
      p.forEach((each, k) => {
        if (each === null || shown[i]![k]!) return
        const scaled = each / weights[i]!
        if (scaled < lowest) [next, lowest] = [[i, k], scaled]
      })
    })
    if (next === null || lowest >= 1) return adjusted
    const [i, k] = next as [number, number]
    reached = Math.max(reached, lowest)
    adjusted[i]![k] = reached
    shown[i]![k] = true
  }
}

/** Share of each family once those that are complete have passed theirs on, and shown members have given. */
function weightsNow(
  families: readonly GatekeptFamily[],
  shown: readonly (readonly boolean[])[],
  isComplete: (i: number) => boolean,
): Float64Array {
  const isOpen = families.map(({ p }, i) => p.some((each) => each !== null) && !isComplete(i))
  const weights = Float64Array.from(families, ({ p, weight }) =>
    p.some((each) => each !== null) ? weight : 0,
  )
  const passes = families.map(({ passesTo }) => {
    const row = new Float64Array(families.length)
    for (const { to, part } of passesTo) row[to]! += part
    return row
  })
  const left = new Set(families.keys())
  families.forEach((_, i) => {
    if (!isComplete(i)) return
    left.delete(i)
    const given = passes[i]!
    for (const k of left) weights[k]! += weights[i]! * given[k]!
    for (const j of left) {
      const own = passes[j]!
      const back = own[i]! * given[j]!
      for (const k of left) own[k] = k === j || back >= 1 ? 0 : (own[k]! + own[i]! * given[k]!) / (1 - back)
    }
  })
  const base = Float64Array.from(weights)
  families.forEach(({ gives }, i) => {
    if (!isOpen[i] || gives === undefined) return
    shown[i]!.forEach((isShown, k) => {
      if (isShown) for (const { to, part } of gives[k] ?? []) weights[to]! += base[i]! * part
    })
  })
  return weights
}
