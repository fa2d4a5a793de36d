import { median } from 'simple-statistics'
import { alignInOrder, type Candidate } from './align-in-order.ts'

/** Two clocks: deviceSeconds − phoneSeconds = offset + drift · (phoneSeconds − atSeconds). */
export type ClockLine = {
  readonly offsetSeconds: number
  readonly drift: number
  readonly aroundSeconds: number
}

/** One way in which two clocks may belong together. */
export type ClockHypothesis = {
  readonly line: ClockLine
  /** [swing, shot] by index, in order. */
  readonly pairs: [number, number][]
  /** Spread of the residuals of the pairs that fit, s. */
  readonly sdSeconds: number
  /** Pairs within three spreads. */
  readonly fitting: number
  /** How telling the spacing is, in log likelihood a pair: 0 when the swings come as evenly as the clocks jitter. */
  readonly worth: number
  /** Share of belief among all hypotheses, 0 to 1. */
  readonly weight: number
}

/** Two rows of times, and what speaks for or against single pairs. */
export type ClockInput = {
  /** Rising phone times of the swings, NaN where unknown. */
  readonly swingSeconds: readonly number[]
  readonly shotSeconds: readonly number[]
  /** Extra gain (or loss) of a pair for reasons other than time; -Infinity forbids it (what crosses a fixed pair, above all). */
  readonly bonus: (i: number, j: number) => number
  readonly fixed: readonly (readonly [number, number])[]
}

/*
 * Assumptions about the two clocks: jitter of the logged instants about a second, whole-second rounding included;
 * drift within some 100 ppm (quartz clocks keep 20 to 200 ppm: common practice, no source).
 */
const startSdSeconds = 1.1
const minSdSeconds = 0.35
const maxSdSeconds = 2
const usualDrift = 1e-4
/** Gain of a pair that fits exactly, in units of log likelihood; pairs pay half their squared residual. */
const fullGain = 4.5
/** Small gain that keeps a pair of lone neighbours together although their times disagree by seconds. */
const looseGain = 0.3
/** What a coach's pair weighs in choosing between clocks. */
const coachGain = 8
const tested = 48
const refined = 12

/**
 * Finds the offset and drift between two clocks from the spacing of what both recorded. Every difference of one
 * swing's time and one shot's time votes for an offset; the offsets with the most votes are tried by aligning the
 * sequences in order, refined by a robust line through the differences, and weighed against each other.
 *
 * A wrong offset matches evenly spaced swings as well as the right one does, so what a match is worth depends on how
 * uneven the spacing is.
 *
 * @returns hypotheses, the likeliest first; weights sum to less than 1 (the rest: nothing fits).
 */
export const fitClock = (input: ClockInput): ClockHypothesis[] => {
  const { swingSeconds, shotSeconds } = input
  const known = swingSeconds.filter((t) => !Number.isNaN(t))
  const knownShots = shotSeconds.filter((t) => !Number.isNaN(t))
  if (known.length === 0 || knownShots.length === 0) return []
  const aroundSeconds = (known[0]! + known.at(-1)!) / 2
  const gaps = [...gapsOf(known), ...gapsOf(knownShots)].filter((g) => g > 0)
  const typicalGap = gaps.length > 0 ? median(gaps) : 30
  const reach = Math.min(12, Math.max(3, 0.35 * typicalGap))

  const start = (offsetSeconds: number) => {
    const line = { offsetSeconds, drift: 0, aroundSeconds }
    const pairs = align(input, line, startSdSeconds, reach)
    return {
      line,
      pairs,
      sdSeconds: startSdSeconds,
      fitting: 0,
      score: scoreOf(input, line, pairs, startSdSeconds, 1),
    }
  }
  const firsts = candidateOffsets(input)
    .map(start)
    .sort((a, b) => b.score - a.score)
    .slice(0, refined)

  const unevenness = unevennessOf(known, knownShots)
  const refinedOnes = firsts.map((first) => {
    let { line, pairs, sdSeconds } = first
    for (let round = 0; round < 4; round++) {
      const fit = robustLine(input, pairs, line, sdSeconds)
      line = fit.line
      sdSeconds = fit.sdSeconds
      pairs = align(input, line, sdSeconds, reach)
    }
    const worth = Math.log(Math.hypot(unevenness, sdSeconds * Math.SQRT2) / (sdSeconds * Math.SQRT2))
    const fitting = pairs.filter(([i, j]) => Math.abs(residual(input, line, i, j)) <= 3 * sdSeconds).length
    return { line, pairs, sdSeconds, fitting, worth, score: scoreOf(input, line, pairs, sdSeconds, worth) }
  })

  const distinct: typeof refinedOnes = []
  for (const one of refinedOnes.sort((a, b) => b.score - a.score)) {
    if (!distinct.some((d) => Math.abs(d.line.offsetSeconds - one.line.offsetSeconds) < 2)) distinct.push(one)
  }
  const top = distinct[0]!.score
  // exp(-top) stands for "no clock fits": the score of an empty alignment is 0.
  const total = distinct.reduce((sum, d) => sum + Math.exp(d.score - top), Math.exp(-Math.max(top, 0)))
  return distinct.map(({ score, ...rest }) => ({ ...rest, weight: Math.exp(score - top) / total }))
}

const gapsOf = (times: readonly number[]) => times.slice(1).map((t, i) => t - times[i]!)

/** How far a shot’s time lies from where the clock puts a swing, s; NaN where one has no time. */
export const residual = (
  input: Pick<ClockInput, 'swingSeconds' | 'shotSeconds'>,
  line: ClockLine,
  i: number,
  j: number,
): number => {
  const at = input.swingSeconds[i]!
  return input.shotSeconds[j]! - at - line.offsetSeconds - line.drift * (at - line.aroundSeconds)
}

/** How far the gaps between swings stray from the usual gap, s (robust); few gaps lean on a guess of a third of the gap. */
const unevennessOf = (swings: readonly number[], shots: readonly number[]): number => {
  const spread = (times: readonly number[]) => {
    const gaps = gapsOf(times)
    if (gaps.length === 0) return { sd: 0, n: 0 }
    const middle = median(gaps)
    // Gaps near a multiple of the usual one (a record missing) are as even as the usual one.
    const strays = gaps.map((g) =>
      middle > 0 ? Math.abs(g - middle * Math.max(1, Math.round(g / middle))) : 0,
    )
    return { sd: 1.4826 * median(strays), n: gaps.length, middle }
  }
  const both = [spread(swings), spread(shots)].filter((s) => s.n > 0)
  if (both.length === 0) return 0
  const n = Math.min(...both.map((s) => s.n))
  const sd = Math.min(...both.map((s) => s.sd))
  const guess = 0.15 * Math.min(...both.map((s) => s.middle ?? 0))
  return n >= 6 ? sd : Math.min(sd, guess)
}

const candidateOffsets = (input: ClockInput): number[] => {
  const { swingSeconds, shotSeconds, fixed } = input
  const width = 1.5
  const bins = new Map<number, { votes: number; sum: number }>()
  const vote = (difference: number, votes: number) => {
    const bin = bins.get(Math.round(difference / width))
    if (bin) {
      bin.votes += votes
      bin.sum += votes * difference
    } else bins.set(Math.round(difference / width), { votes, sum: votes * difference })
  }
  swingSeconds.forEach((swing, i) =>
    shotSeconds.forEach((shot, j) => {
      if (!Number.isNaN(shot - swing) && input.bonus(i, j) > -3.5) vote(shot - swing, 1)
    }),
  )
  for (const [i, j] of fixed) {
    const difference = shotSeconds[j]! - swingSeconds[i]!
    if (!Number.isNaN(difference)) vote(difference, coachGain)
  }
  const smoothed = [...bins].map(([key, bin]) => {
    const sides = [bins.get(key - 1), bins.get(key + 1)]
    const votes = bin.votes + sides.reduce((s, b) => s + (b?.votes ?? 0), 0)
    const sum = bin.sum + sides.reduce((s, b) => s + (b?.sum ?? 0), 0)
    return { key, votes, offset: sum / votes }
  })
  smoothed.sort((a, b) => b.votes - a.votes || a.key - b.key)
  const taken: typeof smoothed = []
  const near = new Set<number>()
  for (const one of smoothed) {
    if (near.has(one.key)) continue
    taken.push(one)
    near
      .add(one.key - 1)
      .add(one.key)
      .add(one.key + 1)
    if (taken.length >= tested) break
  }
  return taken.map((t) => t.offset)
}

const timeGain = (residualSeconds: number, sd: number, reach: number): number => {
  const away = Math.abs(residualSeconds)
  const tight = fullGain - residualSeconds ** 2 / (2 * sd * sd)
  const loose = away < reach ? looseGain * (1 - away / reach) : 0
  return Math.max(tight, loose)
}

const align = (input: ClockInput, line: ClockLine, sd: number, reach: number): [number, number][] => {
  const { swingSeconds, shotSeconds } = input
  const candidates = swingSeconds.map((at, i): Candidate[] => {
    if (Number.isNaN(at)) return []
    const list: Candidate[] = []
    for (
      let j = firstAtLeast(
        shotSeconds,
        at + line.offsetSeconds + line.drift * (at - line.aroundSeconds) - reach,
      );
      j < shotSeconds.length;
      j++
    ) {
      if (Number.isNaN(shotSeconds[j]!)) continue
      const away = residual(input, line, i, j)
      if (away > reach) break
      const gain = timeGain(away, sd, reach) + input.bonus(i, j)
      if (gain > 0) list.push({ j, gain })
    }
    return list
  })
  return alignInOrder(candidates, shotSeconds.length)
}

/** First index whose time reaches `least`; unknown times (NaN) inherit the one before, so the search stays valid. */
const firstAtLeast = (times: readonly number[], least: number): number => {
  let low = 0
  let high = times.length
  while (low < high) {
    const middle = (low + high) >> 1
    let k = middle
    while (k >= low && Number.isNaN(times[k]!)) k--
    if (k >= low && times[k]! >= least) high = middle
    else low = middle + 1
  }
  return Math.max(0, low - 1)
}

/** Log-likelihood-like score of one clock: what its pairs are worth less what their residuals cost. */
const scoreOf = (
  input: ClockInput,
  line: ClockLine,
  pairs: readonly [number, number][],
  sd: number,
  worth: number,
): number => {
  const isFixed = new Set(input.fixed.map(([i]) => i))
  let score = 0
  let timed = 0
  for (const [i, j] of pairs) {
    const away = residual(input, line, i, j)
    if (Number.isNaN(away)) continue
    const cost = away ** 2 / (2 * sd * sd)
    if (isFixed.has(i)) score += coachGain - Math.min(cost, 2 * coachGain)
    else {
      timed++
      score += Math.max(worth + 0.7 - cost, 0) + Math.min(input.bonus(i, j), 0)
    }
  }
  // The first pair always fits: the offset is free.
  return timed > 0 && input.fixed.length === 0 ? score - worth : score
}

/** A line through the differences of the pairs, outliers weighed down (Huber's weights), drift held near zero when the lesson is short. */
const robustLine = (
  input: ClockInput,
  pairs: readonly [number, number][],
  line: ClockLine,
  sd: number,
): { line: ClockLine; sdSeconds: number } => {
  let current = line
  let spread = sd
  const timed = pairs.filter(([i, j]) => !Number.isNaN(residual(input, line, i, j)))
  if (timed.length === 0) return { line, sdSeconds: sd }
  for (let round = 0; round < 5; round++) {
    let w0 = 0
    let w1 = 0
    let w2 = 0
    let y0 = 0
    let y1 = 0
    const sizes: number[] = []
    for (const [i, j] of timed) {
      const away = residual(input, current, i, j)
      const size = Math.abs(away)
      if (size <= 4 * spread) sizes.push(size)
      // Beyond four spreads a pair says nothing about the clock.
      const weight = size <= 1.5 * spread ? 1 : size <= 4 * spread ? (1.5 * spread) / size : 0
      const x = input.swingSeconds[i]! - current.aroundSeconds
      const y = input.shotSeconds[j]! - input.swingSeconds[i]!
      w0 += weight
      w1 += weight * x
      w2 += weight * x * x
      y0 += weight * y
      y1 += weight * x * y
    }
    if (w0 < 1) break
    const ridge = (spread / usualDrift) ** 2
    const determinant = w0 * (w2 + ridge) - w1 * w1
    const drift = (w0 * y1 - w1 * y0) / determinant
    current = { ...current, drift, offsetSeconds: (y0 - drift * w1) / w0 }
    if (sizes.length >= 3) spread = Math.min(maxSdSeconds, Math.max(minSdSeconds, 1.4826 * median(sizes)))
    else spread = Math.max(spread, 0.7)
  }
  return { line: current, sdSeconds: spread }
}
