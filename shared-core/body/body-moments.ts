import { angleSeries, fitAt, leanSeries, type BodySeries } from './body-series.ts'
import { channelsOf, legPx, weighInstants, type BodyInstant, type Shape } from './way-changes.ts'

/** Hips of the model drift less than wrists, m/s; set on the tuning seeds of scripts/worlds/body.ts. */
const hipDriftMps = 0.05

/** A lead knee that bends faster than this before impact does not brace, degrees a second; our own choice. */
const bendingDegPerS = -60

/** Wider than that the hips say nothing: anywhere in the stretch that was looked at would be ± 0.06 s. */
const mostBraceSd = 0.052

/** How long the pelvis may take from its start until it goes on steadily, seconds. */
const shiftSeconds = [0.14, 0.18, 0.22, 0.26, 0.31, 0.36, 0.42, 0.48]

/** A pelvis as slow as this share of its fastest toward the target has slowed down; our own choice. */
export const slowedShare = 1 / 2

/**
 * A shift that begins and slows down smoothly (one cubic) and goes on steadily from the instant; whatever was before its start
 * is rest. Told is where it has slowed down: the end of the slowing itself is flat, its place a matter of a millimetre.
 */
const shifting: readonly Shape[] = shiftSeconds.map((lasts) => ({
  terms: (s) => {
    if (s >= 0) return [1, s]
    const u = Math.max(0, 1 + s / lasts)
    return [u * u * (3 - 2 * u), (u * u * u - u * u) * lasts]
  },
  bend: ([way, speed]) => Math.abs((4 * speed!) / lasts - (6 * way!) / lasts ** 2),
  tells: ([way, speed]) => {
    // Its speed is b·u − a·u² over the share u of the shift, fastest at b / 2a.
    const [a, b] = [6 * way! - 3 * speed! * lasts, 6 * way! - 2 * speed! * lasts]
    const slowed = (b / (2 * a)) * (1 + Math.sqrt(1 - slowedShare))
    return a > 0 && b > 0 && slowed <= 1 ? (slowed - 1) * lasts : null
  },
}))

/**
 * Brace: the pelvis, on its way toward the target, has slowed down to {@link slowedShare} of its fastest for good while the lead knee straightens
 * (common practice for the words, our own choice for the share). No habit of players comes in: where the hips don't tell, or the
 * pelvis slides on, nothing is said. Face on only: from down the line the pelvis moves toward the camera.
 *
 * @param sign +1 where the target lies to the right in the picture
 */
export const braceOf = (body: BodySeries, topSeconds: number, sign: number): BodyInstant | null => {
  const leg = legPx(body)
  if (leg === null) return null
  // Their middle: each by itself also moves as the pelvis turns.
  const hips = [body.middle('Hip')]
  // The shift begins round the top.
  const from = topSeconds - 0.2
  const found = weighInstants(
    channelsOf(hips, from, 0.09, () => [[sign, 0]]),
    shifting,
    { from: Math.max(0.6 * topSeconds, -0.18), to: 0.03 },
    {
      legPx: leg,
      channelsAJoint: 1,
      driftMps: hipDriftMps,
      hint: null,
    },
  )
  if (!found || found.sdSeconds > mostBraceSd) return null
  const knee = angleSeries(body.joint('Hip', 'lead'), body.joint('Knee', 'lead'), body.joint('Ankle', 'lead'))
  const late = fitAt(knee, -0.035, Math.max(0.06, body.halfWidth), 1)
  return !late || late.slope + 2 * late.slopeSd < bendingDegPerS ? null : found
}

/**
 * Where the arms are when the club is level after the strike, degrees from hanging straight down: on the tuning films 48 to 66 by the figure's
 * own joints, 62 by the captured player's, and some 8 less by the model's points, whose wrists lie short of the hands.
 */
const releasedArms = { deg: 47, sdDeg: 8 }
/** The club is level again no earlier and no later than that, real seconds after impact, in a full swing. */
const releasesWithin = { from: 0.025, to: 0.16 }
const leastTurnDegPerS = 200

/**
 * Release: the club has passed the hands and is level again after impact. The club is not among the points, and the wrists lie too close
 * together to show how it is held; the arms are seen well, and swing on with it. Face on only.
 */
export const releaseOf = (body: BodySeries, sign: number): BodyInstant | null => {
  const chest = body.middle('Shoulder')
  const lines = (['lead', 'trail'] as const).map((which) =>
    leanSeries(body.joint('Wrist', which), chest, -sign),
  )
  const seen = lines.flatMap(({ seconds, values }) =>
    Array.from(seconds, (t, k) => ({ t, deg: values[k]! })).filter(
      (s) => s.t > -0.03 && s.t < 0.19 && Number.isFinite(s.deg),
    ),
  )
  const series = {
    seconds: Float64Array.from(seen, (s) => s.t),
    values: Float64Array.from(seen, (s) => s.deg),
  }
  const halfWidth = Math.max(0.045, body.halfWidth)
  for (let at = releasesWithin.from; at <= releasesWithin.to; at += 0.004) {
    const fit = fitAt(series, at, halfWidth, 1)
    if (!fit || fit.value < releasedArms.deg) continue
    if (fit.slope < leastTurnDegPerS) return null
    return {
      atSeconds: at - (fit.value - releasedArms.deg) / fit.slope,
      sdSeconds: Math.hypot(releasedArms.sdDeg, fit.sd) / fit.slope,
    }
  }
  return null
}
