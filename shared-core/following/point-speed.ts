import { localFit } from '../body/local-fit.ts'
import { realSecondsBetween, type ClipTimes } from '../timing/clip-clock.ts'
import { placeOn, type FollowedTrack } from './followed-track.ts'

/** Speed of a followed point, m/s. */
export interface PointSpeed {
  /** In the plane of the picture. */
  readonly speedMps: number
  /** One standard deviation: the scatter of the places, the scale, and what one camera can't see. */
  readonly sdMps: number
  readonly places: number
}

/** One sigma of a scale taken from a ruler drawn on the picture, as a share. Our own choice. */
const scaleShare = 0.02
/**
 * What one camera can't see, one sigma as a share: the thing is nearer or farther than where the scale was taken, and moves partly
 * towards or away from the camera. Filmed face on from 3 to 4 m the club head at the ball is 0.5 to 0.8 m nearer than the hands, 13 to 27 %;
 * with the scale at the hands two of three films were a fifth too fast (tests/worlds/path.md).
 */
const depthShare = 0.17
/**
 * Real seconds of the way that a speed is taken from, and places at least: a club head gains a third of its speed in the last 50 ms,
 * so the fit has to bend (from six places), and over a longer way no one bend holds.
 */
const windowSeconds = 0.025
const mostWindowSeconds = 0.06
const minPlaces = 6

/** The places that a speed is taken from; none where frames lie too far apart. */
const placesBefore = (track: FollowedTrack, times: ClipTimes, frame: number) => {
  const frameSeconds = Math.abs(realSecondsBetween(times, frame - 1, frame)) || 1 / times.captureRate
  const half = Math.max(windowSeconds, (minPlaces + 0.5) * frameSeconds)
  const way = { seconds: [] as number[], x: [] as number[], y: [] as number[], errors: 0, half, frameSeconds }
  if (half > mostWindowSeconds) return way
  track.frames.forEach((at, k) => {
    const t = realSecondsBetween(times, frame, at)
    if (at > frame || t < -half) return
    way.seconds.push(t)
    way.x.push(track.points[k * 3]!)
    way.y.push(track.points[k * 3 + 1]!)
    way.errors += track.points[k * 3 + 2]! ** 2
  })
  return way
}

/**
 * Speed of a followed point on a frame, from the way up to it: at impact a club head is slower after than before. Null where the
 * way has too few places just before the frame (always below about 110 frames a second), or none on it.
 */
export const pointSpeed = (
  track: FollowedTrack,
  times: ClipTimes,
  frame: number,
  pixelsPerMeter: number,
): PointSpeed | null => {
  if (!placeOn(track, frame)) return null
  const { seconds, x, y, errors, half, frameSeconds } = placesBefore(track, times, frame)
  const n = seconds.length
  if (n < minPlaces) return null
  const [fx, fy] = [x, y].map((values) => localFit(seconds, values, 0, half))
  if (!fx || !fy) return null
  const perSecond = Math.hypot(fx.slope, fy.slope)
  if (perSecond === 0) return { speedMps: 0, sdMps: 0, places: n }
  // The fit's own scatter, or what each place is off by where that says more (few places can lie on a curve by chance).
  const span = seconds.at(-1)! - seconds[0]!
  const placing = (Math.sqrt(errors / n) * Math.sqrt(12 / n)) / Math.max(span, frameSeconds)
  const scatter = Math.hypot(fx.slope * fx.slopeSd, fy.slope * fy.slopeSd) / perSecond
  const speedMps = perSecond / pixelsPerMeter
  const sdMps = Math.hypot(
    Math.max(scatter, placing) / pixelsPerMeter,
    speedMps * scaleShare,
    speedMps * depthShare,
  )
  return { speedMps, sdMps, places: n }
}

/**
 * A club head gains speed up to impact and bends along a circle of half a metre and more (figures 0.6 to 1.1 m, measured as here). A camera
 * that stands off the side by an angle sees the speed smaller by its cosine and the circle by the cosine's square; from the end, down
 * the line, the way stops and turns back within centimetres. Beyond these more than a third of the speed is not in the picture.
 */
const leastRadiusM = 0.45
const leastGain = 0.7

/**
 * Whether the way up to a frame can't be a club head's that is seen from beside: most of its speed is along the camera's line of sight, and
 * what the picture shows of it is no speed of the club. False where too few places tell.
 */
export const isSeenFromItsEnd = (
  track: FollowedTrack,
  times: ClipTimes,
  frame: number,
  pixelsPerMeter: number,
): boolean => {
  const { seconds, x, y } = placesBefore(track, times, frame)
  if (seconds.length < minPlaces) return false
  const middle = (seconds[0]! + seconds.at(-1)!) / 2
  const half = (isLate: boolean) => {
    const own = seconds.flatMap((t, k) => (t >= middle === isLate ? [k] : []))
    const [from, to] = [own[0]!, own.at(-1)!]
    const took = seconds[to]! - seconds[from]!
    return { vx: (x[to]! - x[from]!) / took, vy: (y[to]! - y[from]!) / took }
  }
  const [early, late] = [half(false), half(true)]
  const [before, after] = [Math.hypot(early.vx, early.vy), Math.hypot(late.vx, late.vy)]
  if (after < leastGain * before) return true
  const turn = Math.abs(
    Math.atan2(early.vx * late.vy - early.vy * late.vx, early.vx * late.vx + early.vy * late.vy),
  )
  // Each half's direction holds in its middle: half of the whole time lies between them.
  const wayPx = ((before + after) / 2) * ((seconds.at(-1)! - seconds[0]!) / 2)
  return turn > 0 && wayPx / turn < leastRadiusM * pixelsPerMeter
}

/** A club head in the downswing moves metres a second: in so much real time before impact it can't stay within two pixels. */
const restingSeconds = 0.06
const restingPx = 2

/**
 * Whether a point that should be the club head lies still just before impact: then it holds on to the ball or the mat beside it, and
 * neither its way nor its speed is the club's.
 */
export const holdsOnToBall = (track: FollowedTrack, times: ClipTimes, impactFrame: number): boolean => {
  const xs: number[] = []
  const ys: number[] = []
  track.frames.forEach((at, k) => {
    const t = realSecondsBetween(times, impactFrame, at)
    if (at >= impactFrame || t < -restingSeconds) return
    xs.push(track.points[k * 3]!)
    ys.push(track.points[k * 3 + 1]!)
  })
  const spread = (values: readonly number[]) => Math.max(...values) - Math.min(...values)
  return xs.length >= 2 && spread(xs) <= restingPx && spread(ys) <= restingPx
}
