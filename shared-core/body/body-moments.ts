import { angleSeries, fitAt, type BodySeries } from './body-series.ts'

/** A moment proposed from the body, real seconds from impact. */
export interface BodyMoment {
  readonly name: 'brace' | 'release'
  readonly atSeconds: number
  /** 0 to 1 */
  readonly confidence: number
}

/** Shares of the pelvis' fastest move at which it counts as stopped; our own choice, see `braceOf`. */
const stoppedShare = 0.15

interface Stop {
  readonly atSeconds: number
  /** The slowest the pelvis got before impact, as a share of its fastest. */
  readonly slowest: number
}

/**
 * When the pelvis stops moving toward the target: after its fastest move between top and impact, the first time at which it has
 * slowed to 15 % of that. Null where it does not by 30 ms after impact, or is not seen.
 *
 * @param sign +1 where the target lies to the right in the picture
 */
export const pelvisStop = (body: BodySeries, topSeconds: number, sign: number): Stop | null => {
  const { x } = body.middle('Hip')
  const step = 0.004
  const speeds: { at: number; v: number }[] = []
  for (let at = topSeconds - 0.04; at <= 0.03; at += step) {
    const fit = fitAt(x, at, Math.max(0.06, body.halfWidth))
    if (fit) speeds.push({ at, v: fit.slope * sign })
  }
  if (speeds.length < 8) return null
  const peak = speeds.reduce((best, s, i) => (s.at < -0.01 && s.v > speeds[best]!.v ? i : best), 0)
  const fastest = speeds[peak]!.v
  if (!(fastest > 0)) return null
  const after = speeds.slice(peak)
  const stop = after.find((s) => s.v <= stoppedShare * fastest)
  const slowest = Math.min(...after.map((s) => s.v)) / fastest
  return stop ? { atSeconds: stop.at, slowest } : null
}

/**
 * Brace: the pelvis stops moving toward the target while the lead knee straightens (common practice for the words; where the
 * line is drawn is our own). Face on only: from down the line the pelvis moves toward the camera.
 */
export const braceOf = (body: BodySeries, topSeconds: number, sign: number): BodyMoment | null => {
  const stop = pelvisStop(body, topSeconds, sign)
  if (!stop || stop.atSeconds > 0.005) return null
  const knee = angleSeries(body.joint('Hip', 'lead'), body.joint('Knee', 'lead'), body.joint('Ankle', 'lead'))
  const late = fitAt(knee, Math.min(-0.01, stop.atSeconds / 2), Math.max(0.06, body.halfWidth), 1)
  if (!late) return null
  const straightens = late.slope > 2 * late.slopeSd && late.slope > 20
  if (late.slope < -20) return null
  return {
    name: 'brace',
    atSeconds: stop.atSeconds,
    confidence: (straightens ? 0.7 : 0.4) * (stop.slowest < 0 ? 1 : 0.85),
  }
}

/**
 * Release: after impact the hands have turned over, seen as the lead arm no longer hanging but both arms straight and level with
 * the club: taken where the line from lead to trail wrist passes the level. Face on only.
 */
export const releaseOf = (body: BodySeries, sign: number): BodyMoment | null => {
  const lead = body.joint('Wrist', 'lead')
  const trail = body.joint('Wrist', 'trail')
  let before: { at: number; deg: number } | null = null
  for (let at = -0.02; at <= 0.18; at += 0.004) {
    const w = Math.max(0.03, body.halfWidth * 0.8)
    const [lx, ly, tx, ty] = [lead.x, lead.y, trail.x, trail.y].map((s) => fitAt(s, at, w))
    if (!lx || !ly || !tx || !ty) continue
    const deg = (Math.atan2(ly.value - ty.value, (tx.value - lx.value) * sign) * 180) / Math.PI
    if (before && before.deg < 0 && deg >= 0 && at > 0.005) {
      return { name: 'release', atSeconds: at, confidence: 0.5 }
    }
    before = { at, deg }
  }
  return null
}
