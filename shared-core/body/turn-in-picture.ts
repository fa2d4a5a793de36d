import type { BodySeries } from './body-series.ts'
import type { BodyInstant } from './way-changes.ts'

/** So much of the way down is looked at before and after the turn, or so many frames. */
const backShare = 0.35
const outShare = 0.3
const leastFrames = 2.6

/** A shift errs by so much whatever it is, a share of the leg (two and a half millimetres), and by so much of itself: what stands still slows it. */
const leastShare = 0.003
const ofItself = 0.1

/** How the acceleration of the way back and of the way down changes, a share over the whole of the way down; see `handsTurn`. */
const backRisings = [0, 1, 3]
const downRisings = [-1, -0.5, 0]
/** Hands may rest for so long before they go down, seconds. */
const rests = [0, 0.03, 0.06, 0.1]

const tails = 3
/** Neighbouring shifts err a little alike: each counts for so much of one. */
const countsFor = 0.6
const stepSeconds = 0.004
/** Fewer shifts tell nothing; so many must lie on either side. */
const leastShifts = 5
const leastASide = 2
/** No turn is told more surely. */
const leastSd = 0.006

interface Speed {
  readonly t: number
  readonly speed: number
  readonly sd: number
}

/**
 * When the hands turn by their speed in the picture: along the way they will go down it runs out, rests or not, and gathers anew. Only the
 * place of its zero matters, not its size, so that whatever slows all of it (the ground behind, a forearm instead of the hand) does no harm.
 * Profile likelihood over the instants, Student's t; null where too few shifts were followed round it.
 *
 * @param near where about, real seconds from impact
 * @param legPx height of the legs in the picture
 */
export const turnInPicture = (body: BodySeries, near: number, legPx: number): BodyInstant | null => {
  let found: BodyInstant = { atSeconds: slowest(body, near), sdSeconds: NaN }
  for (let round = 0; round < 3; round++) {
    const at: number = found.atSeconds
    const down = -at
    const speeds = speedsDown(body, at, down, legPx)
    const [before, after] = [speeds.filter((s) => s.t < at).length, speeds.filter((s) => s.t >= at).length]
    if (speeds.length < leastShifts || Math.min(before, after) < leastASide) return null
    const next = weighTurn(speeds, down)
    if (!next) return null
    found = next
  }
  return found
}

/** The hands are slowest so far from where their places say at most, a share of the way down, over so long, seconds. */
const slowestWithin = 0.6
const slowFor = 0.04

/** Where round an instant the hands are slowest. */
const slowest = (body: BodySeries, near: number): number => {
  const own = body.handShifts.map((shift) => ({
    t: (shift.fromSeconds + shift.toSeconds) / 2,
    speed: Math.hypot(shift.x, shift.y) / (shift.toSeconds - shift.fromSeconds),
  }))
  let best = { t: near, speed: Infinity }
  for (const { t } of own.filter((one) => Math.abs(one.t - near) < slowestWithin * -near)) {
    const round = own.filter((one) => Math.abs(one.t - t) < slowFor)
    const speed = round.reduce((sum, one) => sum + one.speed, 0) / round.length
    if (speed < best.speed) best = { t, speed }
  }
  return best.t
}

/** Speeds along the way down, pixels a second. */
const speedsDown = (body: BodySeries, at: number, down: number, legPx: number): Speed[] => {
  const shifts = body.handShifts.map((shift) => ({ ...shift, t: (shift.fromSeconds + shift.toSeconds) / 2 }))
  const way = shifts.filter(({ t }) => t > at && t < at + outShare * down)
  const [x, y] = [way.reduce((sum, s) => sum + s.x, 0), way.reduce((sum, s) => sum + s.y, 0)]
  const size = Math.hypot(x, y)
  if (!(size > 0)) return []
  const [ux, uy] = [x / size, y / size]
  const least = leastFrames * body.frameSeconds
  const [from, to] = [at - Math.max(backShare * down, least), at + Math.max(outShare * down, least)]
  return shifts
    .filter(({ t }) => t > from && t < to)
    .map((shift) => {
      const seconds = shift.toSeconds - shift.fromSeconds
      const own = Math.hypot(shift.sdX * ux, shift.sdY * uy)
      const sd = Math.hypot(own, leastShare * legPx, ofItself * Math.hypot(shift.x, shift.y))
      return { t: shift.t, speed: (shift.x * ux + shift.y * uy) / seconds, sd: sd / seconds }
    })
}

const weighTurn = (speeds: readonly Speed[], down: number): BodyInstant | null => {
  const tried: { at: number; log: number }[] = []
  const [first, last] = [speeds[0]!.t, speeds.at(-1)!.t]
  for (let at = first; at <= last; at += stepSeconds) {
    for (const rest of rests) {
      for (const rising of backRisings) {
        for (const outRising of downRisings) {
          const log = logLikelihood(speeds, (t) => {
            const [s, q] = [t - at, t - at + rest]
            if (q < 0) return [2 * q - (3 * rising * q * q) / down, 0]
            return s < 0 ? [0, 0] : [0, 2 * s + (3 * outRising * s * s) / down]
          })
          if (log !== null) tried.push({ at, log })
        }
      }
    }
  }
  if (tried.length === 0) return null
  const likeliest = Math.max(...tried.map((one) => one.log))
  let [all, sum, squares] = [0, 0, 0]
  for (const { at, log } of tried) {
    const weight = Math.exp(log - likeliest)
    all += weight
    sum += weight * at
    squares += weight * at * at
  }
  const mean = sum / all
  return {
    atSeconds: mean,
    sdSeconds: Math.max(leastSd, Math.sqrt(Math.max(0, squares / all - mean * mean))),
  }
}

/** Of speeds that run as `row` times two factors, both fitted; null where the hands would not go back before and down after. */
const logLikelihood = (
  speeds: readonly Speed[],
  row: (t: number) => readonly [number, number],
): number | null => {
  const rows = speeds.map((s) => row(s.t))
  let [back, out] = [0, 0]
  let weights = speeds.map(() => 1)
  const offs = () => speeds.map((s, i) => (s.speed - rows[i]![0] * back - rows[i]![1] * out) / s.sd)
  for (const wide of [4, 2, 1]) {
    let [bb, bv, oo, ov] = [0, 0, 0, 0]
    speeds.forEach((s, i) => {
      const [b, o] = rows[i]!
      const weight = weights[i]! / s.sd ** 2
      bb += weight * b * b
      bv += weight * b * s.speed
      oo += weight * o * o
      ov += weight * o * s.speed
    })
    if (bb === 0 || oo === 0) return null
    back = bv / bb
    out = ov / oo
    weights = offs().map((off) => (tails + 1) / (tails + (off / wide) ** 2))
  }
  if (back <= 0 || out <= 0) return null
  const sum = offs().reduce((total, off) => total + Math.log(1 + (off * off) / tails), 0)
  return (-countsFor * (tails + 1) * sum) / 2
}
