import { realSecondsBetween, type ClipTimes } from '../timing/clip-clock.ts'
import { pointOf, shiftFields, type BodyTrack } from './body-track.ts'
import { jointIndex, sidedIndex, type SidedJoint } from './joints.ts'
import { localFit, type LocalFit } from './local-fit.ts'
import { withoutLongLegs } from './long-legs.ts'
import { withoutStrayArms } from './stray-arms.ts'

/** One value per read frame over real seconds from impact; NaN is a gap. */
export interface Series {
  readonly seconds: Float64Array
  readonly values: Float64Array
}

/** A point's way across the picture, each coordinate against time, px and s. */
export interface Path {
  readonly x: Series
  readonly y: Series
}

/** How the picture shows the hands go from one read frame to the next, pixels and one standard deviation, real seconds from impact. */
export interface HandShift {
  readonly fromSeconds: number
  readonly toSeconds: number
  readonly x: number
  readonly y: number
  readonly sdX: number
  readonly sdY: number
}

/** Over a longer time than that the hands may have gone and come back, seconds. */
const longestShift = 0.07

/** The player's side: a right-handed player's lead side is the left one. */
export type PlayingSide = 'right' | 'left'
/** The side towards the target, or the other. */
export type Which = 'lead' | 'trail'

/**
 * The paths of a body's joints over real time, in pixels of the shown picture turned upright (`tiltDeg`: the camera's roll, +
 * clockwise). y runs down.
 */
export class BodySeries {
  readonly seconds: Float64Array
  /** Half the window that a value is smoothed over, seconds: 50 ms, or two pictures where they are further apart. */
  readonly halfWidth: number
  /** Real seconds of a frame at impact. */
  readonly frameSeconds: number
  /** In rising order; empty where they were not looked for. */
  readonly handShifts: readonly HandShift[]
  readonly #track: BodyTrack
  readonly #side: PlayingSide
  readonly #turn: readonly [number, number]

  constructor(
    track: BodyTrack,
    times: ClipTimes,
    zeroFrame: number,
    options: { side: PlayingSide; tiltDeg?: number },
  ) {
    this.#track = withoutLongLegs(withoutStrayArms(track))
    this.#side = options.side
    this.seconds = Float64Array.from(track.frames, (frame) => realSecondsBetween(times, zeroFrame, frame))
    const roll = ((options.tiltDeg ?? 0) * Math.PI) / 180
    this.#turn = [Math.cos(roll), Math.sin(roll)]
    this.frameSeconds = Math.abs(realSecondsBetween(times, zeroFrame, zeroFrame + 1)) || 1 / times.captureRate
    this.halfWidth = Math.max(0.05, 2.2 * this.frameSeconds)
    const [cos, sin] = this.#turn
    this.handShifts = Array.from(track.frames).flatMap((frame, k) => {
      const [over, x, y, sdX, sdY] = track.shifts?.subarray(k * shiftFields, (k + 1) * shiftFields) ?? []
      if (over === undefined || !Number.isFinite(over)) return []
      const [fromSeconds, toSeconds] = [realSecondsBetween(times, zeroFrame, frame - over), this.seconds[k]!]
      if (toSeconds - fromSeconds > longestShift) return []
      return {
        fromSeconds,
        toSeconds,
        x: x! * cos - y! * sin,
        y: x! * sin + y! * cos,
        sdX: Math.hypot(sdX! * cos, sdY! * sin),
        sdY: Math.hypot(sdX! * sin, sdY! * cos),
      }
    })
  }

  #path(joint: number): Path {
    const n = this.seconds.length
    const [x, y] = [new Float64Array(n), new Float64Array(n)]
    const [cos, sin] = this.#turn
    for (let k = 0; k < n; k++) {
      const point = pointOf(this.#track, k, joint)
      x[k] = point ? point.x * cos - point.y * sin : NaN
      y[k] = point ? point.x * sin + point.y * cos : NaN
    }
    return { x: { seconds: this.seconds, values: x }, y: { seconds: this.seconds, values: y } }
  }

  joint(part: SidedJoint, which: Which): Path {
    return this.#path(sidedIndex(part, which, this.#side))
  }

  /** The middle of the two joints; a gap where either is one. */
  middle(part: SidedJoint): Path {
    return meanOf([this.joint(part, 'lead'), this.joint(part, 'trail')])
  }

  /** The head as the middle of both ears: the model places the hidden one, too, and the nose turns with the look. */
  head(): Path {
    return meanOf([this.#path(jointIndex('leftEar')), this.#path(jointIndex('rightEar'))])
  }
}

const combine = (series: readonly Series[], how: (values: number[]) => number): Series => ({
  seconds: series[0]!.seconds,
  values: Float64Array.from(series[0]!.values, (_, k) => how(series.map((s) => s.values[k]!))),
})

const meanOf = (paths: readonly Path[]): Path => {
  const mean = (v: number[]) => v.reduce((a, b) => a + b, 0) / v.length
  return {
    x: combine(
      paths.map((p) => p.x),
      mean,
    ),
    y: combine(
      paths.map((p) => p.y),
      mean,
    ),
  }
}

const degrees = (radians: number) => (radians * 180) / Math.PI

/** Angle at `vertex` between the rays to `a` and `b` in the picture, 0 to 180°. */
export const angleSeries = (a: Path, vertex: Path, b: Path): Series =>
  combine([a.x, a.y, vertex.x, vertex.y, b.x, b.y], (v) => {
    const [ax, ay, vx, vy, bx, by] = v as [number, number, number, number, number, number]
    const [p, q, r, s] = [ax - vx, ay - vy, bx - vx, by - vy]
    return degrees(Math.abs(Math.atan2(p * s - q * r, p * r + q * s)))
  })

/** Difference of two series. */
export const difference = (a: Series, b: Series): Series => combine([a, b], ([p, q]) => p! - q!)

/** Distance of two paths in the picture. */
export const distanceSeries = (a: Path, b: Path): Series =>
  combine([a.x, a.y, b.x, b.y], ([ax, ay, bx, by]) => Math.hypot(ax! - bx!, ay! - by!))

/** Angle of the line from `a` to `b` above the horizontal, −90 to 90°, + where the end further along `sign` is higher. */
export const slopeSeries = (a: Path, b: Path, sign: number): Series =>
  combine([a.x, a.y, b.x, b.y], ([ax, ay, bx, by]) => {
    const [dx, dy] = [(bx! - ax!) * sign, ay! - by!]
    return degrees(dx < 0 ? Math.atan2(-dy, -dx) : Math.atan2(dy, dx))
  })

/** Lean of the line from `low` up to `high` from the vertical, degrees, + along `sign`. */
export const leanSeries = (low: Path, high: Path, sign: number): Series =>
  combine([low.x, low.y, high.x, high.y], ([lx, ly, hx, hy]) =>
    degrees(Math.atan2((hx! - lx!) * sign, ly! - hy!)),
  )

/** The local fit of a series at a time, s; null with too few values within `halfWidth` seconds. */
export const fitAt = (series: Series, at: number, halfWidth: number, degree: 1 | 2 = 2): LocalFit | null =>
  localFit(series.seconds, series.values, at, halfWidth, degree)

/** A level that should not move: the median between two times, with its standard error; null with fewer than two values. */
export const levelOf = (series: Series, from: number, to: number): { value: number; sd: number } | null => {
  const values = Array.from(series.values).filter(
    (v, k) => Number.isFinite(v) && series.seconds[k]! >= from && series.seconds[k]! <= to,
  )
  if (values.length < 2) return null
  const sorted = values.sort((a, b) => a - b)
  const middleOf = (v: number[]) => (v[(v.length - 1) >> 1]! + v[v.length >> 1]!) / 2
  const value = middleOf(sorted)
  const mad = middleOf(sorted.map((v) => Math.abs(v - value)).sort((a, b) => a - b))
  // 1.4826: MAD to standard deviation; 1.2533: the median's error against the mean's (both for a normal distribution).
  return { value, sd: (1.4826 * mad * 1.2533) / Math.sqrt(values.length) }
}

/**
 * Face on the shoulders are about as wide as three quarters of the trunk is long, down the line a fraction; over the seconds in
 * which the player stands at the ball. Null where they were not seen.
 */
export const isSeenFaceOn = (body: BodySeries, from: number, to: number): boolean | null => {
  const width = levelOf(
    distanceSeries(body.joint('Shoulder', 'lead'), body.joint('Shoulder', 'trail')),
    from,
    to,
  )
  const trunk = levelOf(distanceSeries(body.middle('Shoulder'), body.middle('Hip')), from, to)
  return width && trunk ? width.value > 0.55 * trunk.value : null
}
