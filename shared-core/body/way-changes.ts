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
  const a = Array.from({ length: m }, () => new Float64Array(m + 1))
  for (let j = 0; j < rows.length; j++) {
    const row = rows[j]!
    for (let i = 0; i < m; i++) {
      const weighed = weights[j]! * row[i]!
      const sums = a[i]!
      for (let k = 0; k < m; k++) sums[k]! += weighed * row[k]!
      sums[m]! += weighed * values[j]!
    }
  }
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

/** Degrees of freedom of the errors: the model's points scatter a little and sometimes jump to another limb. */
const tails = 3

/** Fit of one channel by reweighting for Student's t with that scatter (Lange, Little and Taylor, JASA 1989), wide at first. */
const robustFit = (
  values: readonly number[],
  rows: readonly (readonly number[])[],
  sd: number,
): { beta: number[]; rests: number[] } | null => {
  let weights = values.map(() => 1)
  let beta: number[] = []
  let rests: number[] = []
  for (const wide of [4, 2, 1]) {
    const solved = solve(rows, values, weights)
    if (!solved) return null
    beta = solved
    rests = rows.map((row, i) => values[i]! - row.reduce((sum, c, k) => sum + c * beta[k]!, 0))
    weights = rests.map((r) => 1 / (1 + (r / (wide * sd)) ** 2 / tails))
  }
  return { beta, rests }
}

const middleOf = (values: number[]): number => values.sort((p, q) => p - q)[values.length >> 1]!

const stepSeconds = 0.004

/** So many times likelier it may be that a way tells nothing; our own choice. */
const mostSilent = 3

/**
 * What the model errs by even where its points don't scatter, as a share of the leg: 0.8 % are seven millimetres. With the time over
 * which errors are alike set so that on the tuning films what is said of the error holds (scripts/worlds/body.ts, seed 41).
 */
export const leastScatter = 0.008
const alikeSeconds = 0.03

/** Speed at which a wrist of the model drifts against the joint while it moves, m/s; set like the two above. */
export const wristDriftMps = 0.22

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

/** How a way runs before and after an instant: its terms beside the offset, at seconds after the instant. */
export interface Shape {
  readonly terms: (afterSeconds: number) => readonly number[]
  /** Change of speed at the instant by one channel's terms, pixels a second squared. */
  readonly bend: (beta: readonly number[]) => number
  /** What is told of a fit, seconds after the instant, where that is not the instant itself; null where such a way tells nothing. */
  readonly tells?: (beta: readonly number[]) => number | null
}

/**
 * The instant at which a way changes its course, in one of some shapes: every instant is weighed by what rest it leaves (profile
 * likelihood, each channel with a scatter of its own and heavy tails) and by the hint; mean and standard deviation of
 * what comes out (Bayes on a grid). Null where too much of what is likely tells nothing.
 */
export const weighInstants = (
  channels: readonly Channel[],
  shapes: readonly Shape[],
  range: { from: number; to: number },
  options: {
    /** How large the body is, {@link legPx}. */
    legPx: number
    /** Speed at which the model's point drifts against the joint while it moves, m/s. */
    driftMps: number
    /** Channels that belong to one joint. */
    channelsAJoint: number
    hint: Hint | null
  },
): BodyInstant | null => {
  const most = Math.max(...shapes.map((shape) => shape.terms(0).length)) + 1
  const enough = channels
    .filter((channel) => channel.length >= most + 2)
    .map((channel) => ({
      seconds: channel.map((s) => s.t),
      values: channel.map((s) => s.q),
      // Errors of neighbouring frames are alike: together they count for no more than one in so many seconds.
      share: Math.min(1, (channel.at(-1)!.t - channel[0]!.t) / (channel.length - 1) / alikeSeconds),
    }))
  if (enough.length === 0) return null
  const leastPx = leastScatter * options.legPx
  const rowsAt = (shape: Shape, seconds: readonly number[], at: number) =>
    seconds.map((t) => [1, ...shape.terms(t - at)])
  const instants = (step: number) =>
    Array.from({ length: Math.floor((range.to - range.from) / step) + 1 }, (_, i) => range.from + i * step)
  // What a channel scatters by whatever instant is the right one.
  const scatters = enough.map(({ seconds, values }) => {
    let least = Infinity
    for (const at of instants(4 * stepSeconds)) {
      for (const shape of shapes) {
        const fit = robustFit(values, rowsAt(shape, seconds, at), leastPx)
        if (fit) least = Math.min(least, middleOf(fit.rests.map(Math.abs)))
      }
    }
    return Math.max(leastPx, 1.4826 * least)
  })
  const tried: { at: number; log: number }[] = []
  const silent: number[] = []
  let best: { log: number; bendPx: number } | null = null
  for (const at of instants(stepSeconds)) {
    for (const shape of shapes) {
      const fits = enough.map(({ seconds, values }, i) =>
        robustFit(values, rowsAt(shape, seconds, at), scatters[i]!),
      )
      if (fits.some((fit) => !fit)) continue
      const log = fits.reduce((total, fit, i) => {
        const sum = fit!.rests.reduce((all, r) => all + Math.log(1 + (r / scatters[i]!) ** 2 / tails), 0)
        return total - (enough[i]!.share * (tails + 1) * sum) / 2
      }, 0)
      const told = shape.tells ? shape.tells(fits[0]!.beta.slice(1)) : 0
      if (told === null) silent.push(log)
      else tried.push({ at: at + told, log })
      if (best && best.log >= log) continue
      const squares = fits.reduce((total, fit) => total + shape.bend(fit!.beta.slice(1)) ** 2, 0)
      best = { log, bendPx: Math.sqrt((squares * options.channelsAJoint) / enough.length) }
    }
  }
  if (tried.length < 3 || !best) return null
  // The model's points drift while the body moves: a drift shifts the instant by as long as the joint takes to gain its speed.
  const driftSd = Math.min(
    mostDriftSd,
    (options.driftMps * options.legPx) / legM / Math.max(1e-6, best.bendPx),
  )
  const likeliest = Math.max(...tried.map((one) => one.log), ...silent)
  const likelihood = tried.map((one) => Math.exp(one.log - likeliest))
  const sum = (values: readonly number[]) => values.reduce((total, one) => total + one, 0)
  if (sum(silent.map((log) => Math.exp(log - likeliest))) > mostSilent * sum(likelihood)) return null
  const [first, last] = [Math.min(...tried.map((one) => one.at)), Math.max(...tried.map((one) => one.at))]
  const reach = 3 * driftSd
  const grid: { at: number; weight: number }[] = []
  for (let at = first - reach; at <= last + reach; at += stepSeconds) {
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
