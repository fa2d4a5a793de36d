import { angleSeries, fitAt, type BodySeries } from './body-series.ts'
import { channelsOf, joinHint, legPx, weighInstants, type BodyInstant, type Hint } from './way-changes.ts'

/** Where a brace lies by itself, real seconds from impact: our own choice, wide. */
const usualBrace: Hint = { atSeconds: -0.055, sdSeconds: 0.03, wildSdSeconds: 0.06 }

/** Hips of the model drift less than wrists, m/s; set on the tuning seeds of scripts/worlds/body.ts. */
const hipDriftMps = 0.05

/** A lead knee that bends faster than this before impact does not brace, degrees a second; our own choice. */
const bendingDegPerS = -60

/**
 * Brace: the pelvis, on its way toward the target, slows down for good while the lead knee straightens (common practice for the words).
 * Taken where a slowing way of the hips turns into a steady one. Face on only: from down the line the pelvis moves toward the camera.
 *
 * @param sign +1 where the target lies to the right in the picture
 */
export const braceOf = (body: BodySeries, topSeconds: number, sign: number): BodyInstant | null => {
  const leg = legPx(body)
  if (leg === null) return null
  const hips = [body.joint('Hip', 'lead'), body.joint('Hip', 'trail')]
  // The pelvis is fastest in the first half of the downswing; what it does before is another movement.
  const from = Math.max(0.6 * topSeconds, -0.22)
  const found = weighInstants(
    channelsOf(hips, from, 0.05, () => [[sign, 0]]),
    [(t0) => (t) => [t - t0, t < t0 ? (t - t0) ** 2 : 0]],
    { from: from + 0.04, to: 0.01 },
    {
      legPx: leg,
      bendOf: ([, slowing]) => 2 * Math.abs(slowing!),
      channelsAJoint: 1,
      driftMps: hipDriftMps,
      hint: usualBrace,
    },
  )
  if (!found) return null
  const knee = angleSeries(body.joint('Hip', 'lead'), body.joint('Knee', 'lead'), body.joint('Ankle', 'lead'))
  const late = fitAt(knee, -0.035, Math.max(0.06, body.halfWidth), 1)
  return !late || late.slope + 2 * late.slopeSd < bendingDegPerS ? null : found
}

/**
 * The club turns a quarter from impact until it is level again: at 30 to 50 m/s at its head 60 to 95 ms, in full swings of drivers and
 * irons (the figure's and the captured swings of the tuning seeds).
 */
const quarterTurn: Hint = { atSeconds: 0.073, sdSeconds: 0.013, wildSdSeconds: 0.03 }
/** Where the wrists' line was not seen. */
const unseenRelease: BodyInstant = { atSeconds: quarterTurn.atSeconds, sdSeconds: 0.045 }
const leastTurnDegPerS = 500
/** The wrists stand a hand's breadth apart on the grip: the model errs by so much of a turn, seconds. */
const gripSdSeconds = 0.03

/**
 * Release: the club has passed the hands and is level again after impact. The line from the lead wrist to the trail wrist lies along the
 * grip, so it passes the level with it. Face on only.
 */
export const releaseOf = (body: BodySeries, sign: number): BodyInstant | null => {
  const [lead, trail] = [body.joint('Wrist', 'lead'), body.joint('Wrist', 'trail')]
  const level: { t: number; deg: number }[] = []
  body.seconds.forEach((t, k) => {
    const [x, y] = [trail.x.values[k]! - lead.x.values[k]!, lead.y.values[k]! - trail.y.values[k]!]
    const deg = (Math.atan2(y, x * sign) * 180) / Math.PI
    if (t > -0.01 && t < 0.16 && Number.isFinite(deg)) level.push({ t, deg })
  })
  if (level.length < 4) return null
  const seconds = Float64Array.from(level, (l) => l.t)
  const series = { seconds, values: Float64Array.from(level, (l) => l.deg) }
  // The straight line through the middle of the turn says when it passes the level.
  const middle = quarterTurn.atSeconds
  const line = fitAt(series, middle, 0.09, 1)
  // The club turns at twice that: a slower line, or one far from a quarter turn, is the model’s mistake. Then only the turn is known.
  const at = line ? middle - line.value / line.slope : NaN
  if (!line || line.slope < leastTurnDegPerS || Math.abs(at - middle) > 0.06) return unseenRelease
  return joinHint({ atSeconds: at, sdSeconds: Math.hypot(gripSdSeconds, line.sd / line.slope) }, quarterTurn)
}
