import { levelOf, type BodySeries, type Path } from './body-series.ts'

/** An instant read off the body's way, real seconds from impact. */
export interface BodyInstant {
  readonly atSeconds: number
  /** One standard deviation, seconds. */
  readonly sdSeconds: number
}

/** A coordinate of one joint over time: each has an offset of its own, so that a gap in one is no jump. */
export type Channel = readonly { readonly t: number; readonly q: number }[]
/** A direction of the picture, of length one. */
export type Direction = readonly [number, number]

/** The ways of some joints within a time window along some directions, one channel a joint and direction; gaps left out. */
export const channelsOf = (
  joints: readonly Path[],
  from: number,
  to: number,
  directionsOf: (path: Path) => readonly Direction[],
): Channel[] =>
  joints.flatMap((path) =>
    directionsOf(path).map(([ux, uy]) =>
      Array.from(path.x.seconds, (t, k) => ({
        t,
        q: path.x.values[k]! * ux + path.y.values[k]! * uy,
      })).filter((s) => s.t >= from && s.t <= to && Number.isFinite(s.q)),
    ),
  )

/** Hip to ankle, metres: 0.491 of a stature of 1.75 m (Drillis and Contini 1966), knees a little bent. */
export const legM = 0.83

/** Height of the legs in the picture, hips to ankles; null where they were not seen. */
export const legPx = (body: BodySeries): number | null => {
  const [hip, ankle] = [body.middle('Hip').y, body.middle('Ankle').y]
  const values = hip.values.map((y, k) => ankle.values[k]! - y)
  const leg = levelOf({ seconds: hip.seconds, values }, -3, 0)
  return leg && leg.value > 0 ? leg.value : null
}

/** Least squares by Gauss-Jordan on the normal equations: five columns at most. Null where they are not told apart. */
const solve = (
  rows: readonly (readonly number[])[],
  values: readonly number[],
  weights: readonly number[],
): number[] | null => {
  const m = rows[0]!.length
  const a = Array.from({ length: m }, (_, i) => [
    ...Array.from({ length: m }, (_, k) => rows.reduce((s, r, j) => s + weights[j]! * r[i]! * r[k]!, 0)),
    rows.reduce((s, r, j) => s + weights[j]! * r[i]! * values[j]!, 0),
  ])
  for (let i = 0; i < m; i++) {
    let pivot = i
    for (let k = i + 1; k < m; k++) if (Math.abs(a[k]![i]!) > Math.abs(a[pivot]![i]!)) pivot = k
    ;[a[i], a[pivot]] = [a[pivot]!, a[i]!]
    const lead = a[i]![i]!
    if (Math.abs(lead) < 1e-12) return null
    for (let c = i; c <= m; c++) a[i]![c]! /= lead
    for (let k = 0; k < m; k++) {
      if (k === i) continue
      const factor = a[k]![i]!
      for (let c = i; c <= m; c++) a[k]![c]! -= factor * a[i]![c]!
    }
  }
  return a.map((row) => row[m]!)
}

/** Fit of one channel with two rounds of bisquare weights; `loss` is Huber's: one outlier must not choose the instant. */
const robustFit = (channel: Channel, columns: (t: number) => readonly number[]) => {
  const rows = channel.map((s) => [1, ...columns(s.t)])
  const values = channel.map((s) => s.q)
  let weights = channel.map(() => 1)
  let beta: number[] = []
  let loss = Infinity
  for (let round = 0; round < 3; round++) {
    const solved = solve(rows, values, weights)
    if (!solved) return null
    beta = solved
    const rest = rows.map((row, i) => values[i]! - row.reduce((sum, c, k) => sum + c * beta[k]!, 0))
    const scale = Math.max(0.05, rest.map(Math.abs).sort((p, q) => p - q)[rest.length >> 1]!)
    const bound = 2.5 * scale
    loss = rest.reduce((sum, r) => sum + (Math.abs(r) < bound ? r * r : bound * (2 * Math.abs(r) - bound)), 0)
    weights = rest.map((r) => (Math.abs(r) < 6 * scale ? (1 - (r / (6 * scale)) ** 2) ** 2 : 0))
  }
  return { beta: beta.slice(1), loss }
}

const stepSeconds = 0.004

/**
 * What the model errs by even where its points don't scatter, as a share of the leg: 0.8 % are seven millimetres. With the share of
 * the likelihood that is counted (errors of neighbouring frames are alike) set so that on the tuning films what is said of
 * the error holds (scripts/worlds/body.ts, seed 31).
 */
export const leastScatter = 0.008
const likelihoodShare = 0.5

/** Speed at which a wrist of the model drifts against the joint while it moves, m/s; set like the two above. */
export const wristDriftMps = 0.18

/** A way that bends this little tells nothing any more, seconds. */
const mostDriftSd = 0.15

/** What the motion in the picture says of the same instant, real seconds from impact. */
export interface Hint {
  readonly atSeconds: number
  /** Usual error, and the one of a motion that was misread, seconds. */
  readonly sdSeconds: number
  readonly wildSdSeconds: number
}

/** How likely an instant lies within some seconds of the truth, 0 to 1 (normal errors). */
export const chanceWithin = (seconds: number, sdSeconds: number): number => {
  const z = seconds / sdSeconds / Math.SQRT2
  // Abramowitz and Stegun 7.1.26, good to 1.5e-7.
  const t = 1 / (1 + 0.3275911 * z)
  const y = ((((1.061405429 * t - 1.453152027) * t + 1.421413741) * t - 0.284496736) * t + 0.254829592) * t
  return 1 - y * Math.exp(-z * z)
}

/** An instant that was told with a normal error, weighed with a hint. */
export const joinHint = (found: BodyInstant, hint: Hint): BodyInstant => {
  const reach = 4 * found.sdSeconds
  let [all, first, second] = [0, 0, 0]
  for (let off = -reach; off <= reach; off += stepSeconds) {
    const weight = Math.exp(-0.5 * (off / found.sdSeconds) ** 2 + logHint(hint, found.atSeconds + off))
    all += weight
    first += weight * off
    second += weight * off * off
  }
  const mean = first / all
  return {
    atSeconds: found.atSeconds + mean,
    sdSeconds: Math.sqrt(Math.max(stepSeconds ** 2, second / all - mean ** 2)),
  }
}

/** Log density of an instant by the motion alone: a quarter of its marks are far off (tests/worlds/moments.md). */
const logHint = (hint: Hint | null, at: number): number => {
  if (!hint) return 0
  const normal = (sd: number) => Math.exp(-0.5 * ((at - hint.atSeconds) / sd) ** 2) / sd
  return Math.log(0.75 * normal(hint.sdSeconds) + 0.25 * normal(hint.wildSdSeconds) + 1e-6)
}

/**
 * The instant at which a way changes its course, where `columns(t0)` say how it runs before and after: every instant is weighed by
 * how little rest it leaves (profile likelihood, each channel with a scatter of its own) and by the hint; mean and standard deviation of
 * what comes out (Bayes on a grid).
 */
export const weighInstants = (
  channels: readonly Channel[],
  shapes: readonly ((t0: number) => (t: number) => readonly number[])[],
  range: { from: number; to: number },
  options: {
    /** How large the body is, {@link legPx}. */
    legPx: number
    /** Change of speed at the instant by one channel's fit, pixels a second squared. */
    bendOf: (beta: readonly number[]) => number
    /** Speed at which the model's point drifts against the joint while it moves, m/s. */
    driftMps: number
    /** Channels that belong to one joint. */
    channelsAJoint: number
    hint: Hint | null
  },
): BodyInstant | null => {
  const terms = shapes[0]!(range.from)(range.from).length + 1
  const enough = channels.filter((channel) => channel.length >= terms + 2)
  if (enough.length === 0) return null
  const leastPx2 = (leastScatter * options.legPx) ** 2
  const tried: { at: number; log: number }[] = []
  let best: { log: number; bendPx: number } | null = null
  for (let at = range.from; at <= range.to; at += stepSeconds) {
    const logs: number[] = []
    for (const shape of shapes) {
      const fits = enough.map((channel) => robustFit(channel, shape(at)))
      if (fits.some((fit) => !fit)) continue
      // A wrist that is hidden jumps about: each channel counts by its own scatter.
      const rest = fits.reduce(
        (total, fit, i) =>
          total + ((enough[i]!.length - terms) / 2) * Math.log(fit!.loss / enough[i]!.length + leastPx2),
        0,
      )
      const log = -likelihoodShare * rest
      logs.push(log)
      if (best && best.log >= log) continue
      const squares = fits.reduce((total, fit) => total + options.bendOf(fit!.beta) ** 2, 0)
      best = { log, bendPx: Math.sqrt((squares * options.channelsAJoint) / enough.length) }
    }
    if (logs.length === 0) continue
    const most = Math.max(...logs)
    tried.push({ at, log: most + Math.log(logs.reduce((sum, log) => sum + Math.exp(log - most), 0)) })
  }
  if (tried.length < 3 || !best) return null
  // The model's points drift while the body moves: a drift shifts the instant by as long as the joint takes to gain its speed.
  const driftSd = Math.min(
    mostDriftSd,
    (options.driftMps * options.legPx) / legM / Math.max(1e-6, best.bendPx),
  )
  const most = Math.max(...tried.map((one) => one.log))
  const likelihood = tried.map((one) => Math.exp(one.log - most))
  const reach = 3 * driftSd
  const grid: { at: number; weight: number }[] = []
  for (let at = range.from - reach; at <= range.to + reach; at += stepSeconds) {
    const spread = tried.reduce(
      (sum, one, i) =>
        Math.abs(one.at - at) > reach + stepSeconds
          ? sum
          : sum + likelihood[i]! * Math.exp(-0.5 * ((one.at - at) / Math.max(driftSd, stepSeconds)) ** 2),
      0,
    )
    grid.push({ at, weight: spread * Math.exp(logHint(options.hint, at)) })
  }
  const all = grid.reduce((sum, one) => sum + one.weight, 0)
  const mean = grid.reduce((sum, one) => sum + one.at * one.weight, 0) / all
  const variance = grid.reduce((sum, one) => sum + (one.at - mean) ** 2 * one.weight, 0) / all
  return Number.isFinite(mean) ? { atSeconds: mean, sdSeconds: Math.sqrt(variance) } : null
}
