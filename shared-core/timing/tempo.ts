import { said } from '../wording/phrase.ts'

/** An instant of a swing in real seconds, with its standard deviation. */
export interface Mark {
  readonly atSeconds: number
  readonly sdSeconds: number
}

/** A value with one standard deviation, both in the same unit. */
export interface Measured {
  readonly value: number
  readonly sd: number
}

/** Backswing, downswing and their ratio, with their errors. */
export interface Tempo {
  /** Backswing over downswing; what the file was slowed by cancels out. */
  readonly ratio: Measured
  readonly backswingSeconds: Measured
  readonly downswingSeconds: Measured
}

/** Standard deviation of a mark anywhere within ± half a frame that lasts `frameSeconds` (uniform: width / √12). */
export const frameSdSeconds = (frameSeconds: number): number => frameSeconds / Math.sqrt(12)

/** Real time between two marks. `stretchSdShare`: how unsure the file's slowness is, as a share of it. */
export const between = (from: Mark, to: Mark, stretchSdShare = 0): Measured => {
  const value = to.atSeconds - from.atSeconds
  return { value, sd: Math.hypot(from.sdSeconds, to.sdSeconds, value * stretchSdShare) }
}

/**
 * Tempo of a swing from three marks: takeaway (the last still frame), top, impact.
 *
 * With r = B / D the top's error goes into both parts, so sd(r)² = [sd(takeaway)² + (1 + r)² sd(top)² + r² sd(impact)²] / D²
 * (first-order propagation). With each mark uniform within ± half a frame this is the published form
 * r² [1/Nb² + (1/Nb + 1/Nd)² + 1/Nd²] / 12 (by that propagation, computed).
 *
 * @returns null unless takeaway < top < impact.
 */
export const tempo = (
  marks: { takeaway: Mark; top: Mark; impact: Mark },
  stretchSdShare = 0,
): Tempo | null => {
  const { takeaway, top, impact } = marks
  const backswingSeconds = between(takeaway, top, stretchSdShare)
  const downswingSeconds = between(top, impact, stretchSdShare)
  if (!(backswingSeconds.value > 0) || !(downswingSeconds.value > 0)) return null
  const ratio = backswingSeconds.value / downswingSeconds.value
  const sd =
    Math.hypot(takeaway.sdSeconds, (1 + ratio) * top.sdSeconds, ratio * impact.sdSeconds) /
    downswingSeconds.value
  return { ratio: { value: ratio, sd }, backswingSeconds, downswingSeconds }
}

/**
 * Tempo of 1,400 labelled swings of tour players (952 with the driver), backswing over downswing: own computation from the
 * published labels of GolfDB (McNally et al., "GolfDB: A Video Database for Golf Swing Sequencing", CVPR 2019 Workshops).
 * The two durations are the medians of its 758 swings at real speed (about 30 frames/s).
 */
export const publishedTempo = {
  ratioMedian: 3.4,
  ratioQuartiles: [3.0, 4.1],
  ratio5To95: [2.6, 5.3],
  backswingSeconds: 0.87,
  downswingSeconds: 0.27,
  swings: 1400,
} as const

/** Where a ratio lies among the published ones, in plain words; no ratio is right or wrong by itself. */
export const placeAmongPublished = (ratio: Measured): string => {
  const {
    ratioQuartiles: [low, high],
    ratio5To95: [lowest, highest],
  } = publishedTempo
  const lies = (a: number, b: number) => ratio.value >= a && ratio.value <= b
  if (lies(low, high)) return said('tempo.middle')
  if (ratio.value + ratio.sd < low && lies(lowest, low)) return said('tempo.quicker')
  if (ratio.value - ratio.sd > high && lies(high, highest)) return said('tempo.slower')
  if (ratio.value + ratio.sd < lowest) return said('tempo.quickest')
  if (ratio.value - ratio.sd > highest) return said('tempo.slowest')
  return said('tempo.nearEdge')
}
