import { Problem } from '../problem.ts'
import { alignInOrder, type Candidate } from './align-in-order.ts'
import { fitClock, residual, type ClockHypothesis, type ClockInput } from './fit-clock.ts'

/** A swing or a shot, as pairing needs it. */
export type PairingItem = {
  id: string
  /** A swing's impact on the phone's clock, a shot on the device's clock, s; null if unknown. */
  atSeconds: number | null
  blockId?: string | null
  club?: string | null
}

/** A pair the coach made, or a swing that has none. */
export type FixedPair = { swingId: string; shotId: string | null }

/** How strictly pairs are made. */
export type PairingOptions = {
  /** What a pair of different clubs is: allowed at a low confidence, or never made. Default 'lower'. */
  clubMismatch?: 'lower' | 'forbid'
}

/** A pair that was found. */
export type SwingPair = {
  swingId: string
  shotId: string
  /** 0 to 1; from 0.8 on, simulated lessons had at least 99 % of the pairs right (tests/shared-core/pairing). */
  confidence: number
  /**
   * `clock`: both times agree on the fitted clocks; `spacing`: they disagree by seconds but nothing else fits
   * between the neighbours; `order`: by position only; `coach`: fixed by the coach.
   */
  how: 'clock' | 'spacing' | 'order' | 'coach'
  /** Device time less the time expected from the fitted clock, s; null without times. */
  residualSeconds: number | null
}

/** How the device’s clock goes against the phone’s. */
export type PairingClock = {
  /** Device clock less phone clock in the middle of the lesson, s. */
  offsetSeconds: number
  /** How much faster the device's clock runs, parts per million. */
  driftPpm: number
  residualSdSeconds: number
  /** `coach` if pairs fixed by the coach held the fit, else `spacing`. */
  how: 'spacing' | 'coach'
}

/** All pairs of a lesson, and what is left over. */
export type Pairing = {
  pairs: SwingPair[]
  clock: PairingClock | null
  unpairedSwings: string[]
  unpairedShots: string[]
}

/**
 * Pairs swings with shot records. The two clocks may differ by any offset and drift a little; records may be missing
 * on either side. Offset and drift come from the spacing of the two sequences (fit-clock.ts); pairs never cross in
 * time. Pairs fixed by the coach are kept as they are, hold the fit, and a swing fixed to no shot stays alone. Where
 * times are missing, order decides, at a low confidence. Of clocks that explain the times about equally well (evenly spaced swings), the
 * one that keeps most of the pairs that `stood` is taken: a device's clock does not jump because another clip has come.
 *
 * Both lists are put in order of time; items without a time keep their place in the list.
 *
 * @throws Problem `pairing-fixed` when a fixed pair names something unknown or names a shot twice.
 */
export const pairSwings = (input: {
  swings: readonly PairingItem[]
  shots: readonly PairingItem[]
  fixed?: readonly FixedPair[]
  /** Pairs found before. */
  stood?: readonly { swingId: string; shotId: string }[]
  options?: PairingOptions
}): Pairing => {
  const swings = inOrder(input.swings)
  const shots = inOrder(input.shots)
  const fixed = checkFixed(swings, shots, input.fixed ?? [])
  const rules = rulesOf(swings, shots, fixed, input.options ?? {})
  const clockInput: ClockInput = {
    swingSeconds: swings.map((s) => s.atSeconds ?? Number.NaN),
    shotSeconds: shots.map((s) => s.atSeconds ?? Number.NaN),
    bonus: rules.bonus,
    fixed: fixed.pairs,
  }
  const hypotheses = fitClock(clockInput)
  const stood = new Map((input.stood ?? []).map(({ swingId, shotId }) => [swingId, shotId]))
  const best = steadiest(hypotheses, (i, j) => stood.get(swings[i]!.id) === shots[j]!.id)
  const made = new Map<number, SwingPair & { j: number }>()
  for (const [i, j] of fixed.pairs) {
    made.set(i, {
      ...{ swingId: swings[i]!.id, shotId: shots[j]!.id, confidence: 1, how: 'coach' as const, j },
      residualSeconds: best ? orNull(residual(clockInput, best.line, i, j)) : null,
    })
  }
  if (best) addTimed(made, clockInput, hypotheses, best, swings, shots, rules)
  addByOrder(made, swings, shots, rules, fixed.alone)

  const pairs = [...made.entries()].sort((a, b) => a[0] - b[0]).map(([, { j: _, ...pair }]) => pair)
  const pairedShots = new Set(pairs.map((p) => p.shotId))
  const pairedSwings = new Set(pairs.map((p) => p.swingId))
  const timedPairs = [...made].filter(([, p]) => p.residualSeconds !== null)
  return {
    pairs,
    clock:
      best && timedPairs.length >= 2
        ? {
            offsetSeconds: best.line.offsetSeconds,
            driftPpm: best.line.drift * 1e6,
            residualSdSeconds: best.sdSeconds,
            how: timedPairs.some(([, p]) => p.how === 'coach') ? 'coach' : 'spacing',
          }
        : null,
    unpairedSwings: swings.filter((s) => !pairedSwings.has(s.id)).map((s) => s.id),
    unpairedShots: shots.filter((s) => !pairedShots.has(s.id)).map((s) => s.id),
  }
}

/** Clocks less likely than the likeliest by more than this are not chosen for keeping pairs. */
const aboutAsLikely = 0.5

/** The likeliest clock; of those about as likely the one that keeps most pairs. */
const steadiest = (
  hypotheses: readonly ClockHypothesis[],
  didStand: (i: number, j: number) => boolean,
): ClockHypothesis | null => {
  const kept = ({ pairs }: ClockHypothesis) => pairs.filter(([i, j]) => didStand(i, j)).length
  const [first, ...others] = hypotheses
  if (!first) return null
  return others
    .filter(({ weight }) => weight >= aboutAsLikely * first.weight)
    .reduce((best, other) => (kept(other) > kept(best) ? other : best), first)
}

const orNull = (value: number): number | null => (Number.isNaN(value) ? null : value)

/** In order of time; an item without one stands behind the item it follows in the list. */
const inOrder = (items: readonly PairingItem[]): PairingItem[] => {
  let last = Number.NEGATIVE_INFINITY
  return items
    .map((item, index) => {
      last = item.atSeconds ?? last
      return { item, index, key: last }
    })
    .sort((a, b) => (a.key === b.key ? a.index - b.index : a.key - b.key))
    .map(({ item }) => item)
}

const checkFixed = (
  swings: readonly PairingItem[],
  shots: readonly PairingItem[],
  fixed: readonly FixedPair[],
) => {
  const indexOf = (list: readonly PairingItem[]) => new Map(list.map((item, k) => [item.id, k]))
  const swingIndex = indexOf(swings)
  const shotIndex = indexOf(shots)
  const pairs: [number, number][] = []
  const alone = new Set<number>()
  const usedSwings = new Set<string>()
  const usedShots = new Set<string>()
  for (const { swingId, shotId } of fixed) {
    const i = swingIndex.get(swingId)
    if (i === undefined) throw new Problem('pairing-fixed.noSwing', { swing: swingId })
    if (usedSwings.has(swingId)) throw new Problem('pairing-fixed.swingTwice', { swing: swingId })
    usedSwings.add(swingId)
    if (shotId === null) {
      alone.add(i)
      continue
    }
    const j = shotIndex.get(shotId)
    if (j === undefined) throw new Problem('pairing-fixed.noShot', { shot: shotId })
    if (usedShots.has(shotId)) throw new Problem('pairing-fixed.shotTwice', { shot: shotId })
    usedShots.add(shotId)
    pairs.push([i, j])
  }
  return { pairs, alone }
}

type Rules = {
  bonus: (i: number, j: number) => number
  clubsDiffer: (i: number, j: number) => boolean
  blocksDiffer: (i: number, j: number) => boolean
}

const rulesOf = (
  swings: readonly PairingItem[],
  shots: readonly PairingItem[],
  fixed: { pairs: readonly (readonly [number, number])[]; alone: ReadonlySet<number> },
  options: PairingOptions,
): Rules => {
  const differ = (a: string | null | undefined, b: string | null | undefined) =>
    a != null && b != null && a !== b
  const clubsDiffer = (i: number, j: number) => differ(swings[i]!.club, shots[j]!.club)
  const blocksDiffer = (i: number, j: number) => differ(swings[i]!.blockId, shots[j]!.blockId)
  const crossesFixed = (i: number, j: number) =>
    fixed.pairs.some(([fi, fj]) => (i === fi) !== (j === fj) || (i < fi && j > fj) || (i > fi && j < fj))
  const bonus = (i: number, j: number): number => {
    if (fixed.alone.has(i) || crossesFixed(i, j)) return Number.NEGATIVE_INFINITY
    if (clubsDiffer(i, j) && options.clubMismatch === 'forbid') return Number.NEGATIVE_INFINITY
    return (clubsDiffer(i, j) ? -3 : 0) + (blocksDiffer(i, j) ? -3 : 0)
  }
  return { bonus, clubsDiffer, blocksDiffer }
}

/** Pairs of the likeliest clock; each is as sure as the clocks that agree on it and as its own residual. */
const addTimed = (
  made: Map<number, SwingPair & { j: number }>,
  clockInput: ClockInput,
  hypotheses: readonly ClockHypothesis[],
  best: ClockHypothesis,
  swings: readonly PairingItem[],
  shots: readonly PairingItem[],
  rules: Rules,
) => {
  const agreed = new Map<string, number>()
  for (const { pairs, weight } of hypotheses) {
    for (const [i, j] of pairs) agreed.set(`${i} ${j}`, (agreed.get(`${i} ${j}`) ?? 0) + weight)
  }
  // Two clocks through few pairs prove little, whatever their residuals: 3 pairs 0.83, 6 pairs 0.97.
  const anchored = best.fitting + 2 * clockInput.fixed.length
  const evidence = 1 - Math.exp(-0.6 * anchored)
  // When many pairs of this clock are loose (mixed ways of stamping the clips), none of them is quite sure.
  const timed = best.pairs.length
  const tidiness = timed > 0 ? Math.min(1, 0.4 + (0.7 * best.fitting) / timed) : 1
  // Evenly spaced swings fit a clock that is off by one swing nearly as well, unless the coach has fixed one.
  const telling = clockInput.fixed.length > 0 ? 1 : Math.min(1, 0.4 + 0.45 * best.worth)
  for (const [i, j] of best.pairs) {
    if (made.has(i)) continue
    const residualSeconds = residual(clockInput, best.line, i, j)
    const spreads = Math.abs(residualSeconds) / best.sdSeconds
    const closeness = 1 / (1 + Math.exp(2.5 * (spreads - 3.5)))
    const clubs = (rules.clubsDiffer(i, j) ? 0.4 : 1) * (rules.blocksDiffer(i, j) ? 0.5 : 1)
    const how = spreads <= 3.5 ? 'clock' : 'spacing'
    const confidence = Math.min(
      0.99,
      agreed.get(`${i} ${j}`)! * evidence * telling * tidiness * Math.max(closeness, 0.15) * clubs,
    )
    made.set(i, { swingId: swings[i]!.id, shotId: shots[j]!.id, confidence, how, residualSeconds, j })
  }
}

/** What has no time on one side at least: in order between the pairs already made. */
const addByOrder = (
  made: Map<number, SwingPair & { j: number }>,
  swings: readonly PairingItem[],
  shots: readonly PairingItem[],
  rules: Rules,
  alone: ReadonlySet<number>,
) => {
  const takenShots = new Set([...made.values()].map((p) => p.j))
  const anchors = [...made].map(([i, p]) => [i, p.j] as const)
  const crosses = (i: number, j: number) =>
    anchors.some(([ai, aj]) => (i < ai && j > aj) || (i > ai && j < aj))
  const free = swings.map((_, i) => !made.has(i) && !alone.has(i))
  const couldPair = (i: number, j: number) =>
    (swings[i]!.atSeconds === null || shots[j]!.atSeconds === null) &&
    !rules.clubsDiffer(i, j) &&
    !rules.blocksDiffer(i, j)
  const candidates = swings.map((swing, i): Candidate[] =>
    free[i]
      ? shots.flatMap((shot, j) => {
          if (takenShots.has(j) || !couldPair(i, j) || crosses(i, j)) return []
          const sameClub = swing.club != null && swing.club === shot.club
          const sameBlock = swing.blockId != null && swing.blockId === shot.blockId
          return [{ j, gain: 1 + (sameClub ? 1 : 0) + (sameBlock ? 1 : 0) }]
        })
      : [],
  )
  // Whether as many swings as shots are left in the block tells how far position can be trusted.
  const blockOf = (item: PairingItem) => item.blockId ?? ''
  const count = (items: readonly PairingItem[], isFree: (k: number) => boolean) => {
    const counts = new Map<string, number>()
    items.forEach((item, k) => isFree(k) && counts.set(blockOf(item), (counts.get(blockOf(item)) ?? 0) + 1))
    return counts
  }
  const freeSwings = count(swings, (i) => free[i]!)
  const freeShots = count(shots, (j) => !takenShots.has(j))
  for (const [i, j] of alignInOrder(candidates, shots.length)) {
    const equal = freeSwings.get(blockOf(swings[i]!)) === freeShots.get(blockOf(shots[j]!))
    const sameClub = swings[i]!.club != null && swings[i]!.club === shots[j]!.club
    const confidence = (equal ? 0.45 : 0.2) + (equal && sameClub ? 0.1 : 0)
    made.set(i, {
      swingId: swings[i]!.id,
      shotId: shots[j]!.id,
      confidence,
      how: 'order',
      residualSeconds: null,
      j,
    })
  }
}
