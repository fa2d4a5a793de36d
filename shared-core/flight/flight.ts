import { Problem } from '../problem.ts'
import { degrees, radians, radPerSecond, revPerMinute } from '../units.ts'
import type { Air } from './air.ts'
import { standardAir } from './air.ts'
import { ballAreaM2, ballMassKg, ballRadiusM, gravityMps2 } from './ball.ts'
import type { FlightModel } from './models.ts'
import { cappedLinear, tunnelFit } from './models.ts'

/** A steady wind, the same at every height. */
export interface Wind {
  speedMps: number
  /**
   * Where the wind comes from, seen from above, clockwise from the target line: 0 from the target (head wind),
   * 90 from the right, 180 from behind (tail wind), 270 from the left.
   */
  fromDeg: number
}

/** A launch: SI, degrees and rpm. */
export interface FlightInput {
  ballSpeedMps: number
  /** Above the horizontal; at or below 0 the ball may not fly at all (carry 0). */
  launchDeg: number
  spinRpm: number
  /** Tilt of the spin axis, + curves right. The axis is at right angles to the launch direction (no rifle spin). */
  spinAxisDeg?: number
  /** + to the right of the target line. */
  launchDirectionDeg?: number
  air?: Air
  wind?: Wind
}

/** Where and how a ball comes down. */
export interface Flight {
  /** Straight-line distance over level ground from the tee to where the ball lands. */
  carryM: number
  apexM: number
  /** Below the horizontal at landing. */
  landAngleDeg: number
  flightSeconds: number
  /** Distance of the landing point from the target line, + right. */
  sideM: number
  /** Distance of the landing point along the target line. */
  downRangeM: number
  landSpeedMps: number
  landSpinRpm: number
}

/** Largest error of carry, side and apex against the same equations solved far more finely, metres (tested). */
export const statedErrorM = 0.05

/**
 * Spin decay dω/dt = −λ (ρ/ρ₀) U ω / r: Smits & Smith 1994, (dω/dt) r²/U² = −2.0e-5 S (second-hand; three
 * sources carry the same law).
 */
const spinDecay = 2e-5
const decayReferenceDensity = 1.225

/** Error allowed in a step: metres for the place, a fifth of it per second for the velocity. */
const defaultToleranceM = 3e-5

/** A landing as level as this, degrees, is solved with a smaller tolerance. */
const levelDeg = 1
const levelShare = 1 / 30

/** Keeps the landing, interpolated inside a step, as good as the step; matters where a coefficient has a kink. */
const longestStepSeconds = 0.5

const stepsAtMost = 20_000

// Scratch of the solver. One flight is solved at a time and nothing here outlives a call; it keeps the loop
// free of allocation.
const state = new Float64Array(7) // x y z (m), vx vy vz (m/s), spin (rad/s)
const next = new Float64Array(7)
const slopes = new Float64Array(49) // seven stages of seven
const dense = new Float64Array(35) // five coefficients of seven, Hairer's continuous extension
const axis = new Float64Array(3) // unit vector of the spin
const drift = new Float64Array(3) // wind, m/s
const constants = new Float64Array(3) // ρA/2m, diameter/ν, decay rate

const limit = (name: string, value: number, low: number, high: number, unit: string): void => {
  if (!(value >= low && value <= high)) {
    throw new Problem('flight-input', { name, value, unit, low, high })
  }
}

/** Writes d(state)/dt of stage `at` for velocity and spin; the place does not matter in uniform air. */
function slope(at: number, vx: number, vy: number, vz: number, spin: number, model: FlightModel): void {
  const ux = vx - drift[0]!
  const uy = vy - drift[1]!
  const uz = vz - drift[2]!
  const speed = Math.sqrt(ux * ux + uy * uy + uz * uz)
  const s = (ballRadiusM * spin) / (speed + 1e-12)
  const reynolds = speed * constants[1]!
  const push = constants[0]! * speed
  const drag = push * model.drag(s, reynolds)
  const lift = push * model.lift(s, reynolds)
  const ax = axis[0]!
  const ay = axis[1]!
  const az = axis[2]!
  const o = at * 7
  slopes[o] = vx
  slopes[o + 1] = vy
  slopes[o + 2] = vz
  slopes[o + 3] = lift * (ay * uz - az * uy) - drag * ux
  slopes[o + 4] = lift * (az * ux - ax * uz) - drag * uy - gravityMps2
  slopes[o + 5] = lift * (ax * uy - ay * ux) - drag * uz
  slopes[o + 6] = -constants[2]! * speed * spin
}

/** One component of Σ aᵢ kᵢ for the stages before the sixth. */
const mixed = (i: number, a1: number, a2: number, a3: number, a4: number, a5: number): number =>
  a1 * slopes[i]! + a2 * slopes[7 + i]! + a3 * slopes[14 + i]! + a4 * slopes[21 + i]! + a5 * slopes[28 + i]!

function stage(
  at: number,
  h: number,
  a1: number,
  a2: number,
  a3: number,
  a4: number,
  a5: number,
  model: FlightModel,
): void {
  slope(
    at,
    state[3]! + h * mixed(3, a1, a2, a3, a4, a5),
    state[4]! + h * mixed(4, a1, a2, a3, a4, a5),
    state[5]! + h * mixed(5, a1, a2, a3, a4, a5),
    state[6]! + h * mixed(6, a1, a2, a3, a4, a5),
    model,
  )
}

/**
 * One step of Dormand & Prince 1980 (J. Comput. Appl. Math. 6:19), order 5 with an embedded order 4.
 * Fills `next` and the slopes; returns the error over the tolerance.
 */
function tryStep(h: number, toleranceM: number, model: FlightModel): number {
  stage(1, h, 1 / 5, 0, 0, 0, 0, model)
  stage(2, h, 3 / 40, 9 / 40, 0, 0, 0, model)
  stage(3, h, 44 / 45, -56 / 15, 32 / 9, 0, 0, model)
  stage(4, h, 19372 / 6561, -25360 / 2187, 64448 / 6561, -212 / 729, 0, model)
  stage(5, h, 9017 / 3168, -355 / 33, 46732 / 5247, 49 / 176, -5103 / 18656, model)
  for (let i = 0; i < 7; i++) {
    next[i] =
      state[i]! +
      h *
        ((35 / 384) * slopes[i]! +
          (500 / 1113) * slopes[14 + i]! +
          (125 / 192) * slopes[21 + i]! -
          (2187 / 6784) * slopes[28 + i]! +
          (11 / 84) * slopes[35 + i]!)
  }
  slope(6, next[3]!, next[4]!, next[5]!, next[6]!, model)
  let worst = 0
  for (let i = 0; i < 6; i++) {
    const error =
      h *
      ((71 / 57600) * slopes[i]! -
        (71 / 16695) * slopes[14 + i]! +
        (71 / 1920) * slopes[21 + i]! -
        (17253 / 339200) * slopes[28 + i]! +
        (22 / 525) * slopes[35 + i]! -
        (1 / 40) * slopes[42 + i]!)
    const share = Math.abs(error) / (i < 3 ? toleranceM : 0.2 * toleranceM)
    if (share > worst) worst = share
  }
  return worst
}

/** Prepares the continuous extension of the accepted step (Hairer, Nørsett & Wanner, Solving ODEs I, II.6). */
function prepareDense(h: number): void {
  for (let i = 0; i < 7; i++) {
    const change = next[i]! - state[i]!
    const bend = h * slopes[i]! - change
    dense[i] = state[i]!
    dense[7 + i] = change
    dense[14 + i] = bend
    dense[21 + i] = change - h * slopes[42 + i]! - bend
    dense[28 + i] =
      h *
      ((-12715105075 / 11282082432) * slopes[i]! +
        (87487479700 / 32700410799) * slopes[14 + i]! -
        (10690763975 / 1880347072) * slopes[21 + i]! +
        (701980252875 / 199316789632) * slopes[28 + i]! -
        (1453857185 / 822651844) * slopes[35 + i]! +
        (69997945 / 29380423) * slopes[42 + i]!)
  }
}

/** Component `i` at the share θ of the prepared step. */
const denseAt = (i: number, theta: number): number => {
  const rest = 1 - theta
  return (
    dense[i]! +
    theta * (dense[7 + i]! + rest * (dense[14 + i]! + theta * (dense[21 + i]! + rest * dense[28 + i]!)))
  )
}

/** Where component `i` of the prepared step crosses zero from above: secant steps, kept inside a bracket. */
function crossing(i: number): number {
  let low = 0
  let high = 1
  let atLow = denseAt(i, 0)
  let atHigh = denseAt(i, 1)
  let theta = 1
  for (let n = 0; n < 60; n++) {
    const guess = low + ((high - low) * atLow) / (atLow - atHigh)
    theta = guess > low && guess < high ? guess : (low + high) / 2
    const value = denseAt(i, theta)
    if (Math.abs(value) < 1e-12 || high - low < 1e-14) break
    // Illinois: halve the value of the end that stays, so that it moves in turn.
    if (value > 0) {
      low = theta
      atLow = value
      atHigh /= 2
    } else {
      high = theta
      atHigh = value
      atLow /= 2
    }
  }
  return theta
}

const noFlight = (input: FlightInput): Flight => ({
  carryM: 0,
  apexM: 0,
  landAngleDeg: Math.max(0, -input.launchDeg),
  flightSeconds: 0,
  sideM: 0,
  downRangeM: 0,
  landSpeedMps: input.ballSpeedMps,
  landSpinRpm: input.spinRpm,
})

/** Sets the solver up; false if the ball never leaves the ground. */
function start(input: FlightInput, model: FlightModel): boolean {
  const {
    ballSpeedMps,
    launchDeg,
    spinRpm,
    spinAxisDeg = 0,
    launchDirectionDeg = 0,
    air = standardAir,
    wind,
  } = input
  limit('a ball speed', ballSpeedMps, 0, 150, 'm/s')
  limit('a launch angle', launchDeg, -90, 90, 'deg')
  limit('a spin', spinRpm, 0, 20_000, 'rpm')
  limit('a spin axis', spinAxisDeg, -180, 180, 'deg')
  limit('a start line', launchDirectionDeg, -180, 180, 'deg')
  limit('an air density', air.densityKgM3, 0, 2, 'kg/m³')
  limit('an air viscosity', air.viscosityPaS, 1e-6, 1e-4, 'Pa s')

  const cosLaunch = Math.cos(radians(launchDeg))
  const sinLaunch = Math.sin(radians(launchDeg))
  const cosLine = Math.cos(radians(launchDirectionDeg))
  const sinLine = Math.sin(radians(launchDirectionDeg))
  state[0] = 0
  state[1] = 0
  state[2] = 0
  state[3] = ballSpeedMps * cosLaunch * cosLine
  state[4] = ballSpeedMps * sinLaunch
  state[5] = ballSpeedMps * cosLaunch * sinLine
  state[6] = radPerSecond(spinRpm)

  // x along the target line, y up, z right. Backspin turns about the axis pointing right; the tilt turns it
  // about the launch direction, its right end downwards for a curve to the right.
  const cosTilt = Math.cos(radians(spinAxisDeg))
  const sinTilt = Math.sin(radians(spinAxisDeg))
  axis[0] = -cosTilt * sinLine + sinTilt * sinLaunch * cosLine
  axis[1] = -sinTilt * cosLaunch
  axis[2] = cosTilt * cosLine + sinTilt * sinLaunch * sinLine

  drift.fill(0)
  if (wind && wind.speedMps !== 0) {
    limit('a wind', wind.speedMps, 0, 60, 'm/s')
    limit('a wind direction', wind.fromDeg, -360, 360, 'deg')
    drift[0] = -wind.speedMps * Math.cos(radians(wind.fromDeg))
    drift[2] = -wind.speedMps * Math.sin(radians(wind.fromDeg))
  }
  constants[0] = (air.densityKgM3 * ballAreaM2) / (2 * ballMassKg)
  constants[1] = (2 * ballRadiusM * air.densityKgM3) / air.viscosityPaS
  constants[2] = (spinDecay * (air.densityKgM3 / decayReferenceDensity)) / ballRadiusM

  slope(0, state[3]!, state[4]!, state[5]!, state[6]!, model)
  return state[4]! > 0 || (state[4]! === 0 && slopes[4]! > 0)
}

/** Solves to the landing; leaves the landing step prepared. `onStep` sees every prepared step (begin, length, share used). */
function solve(
  input: FlightInput,
  model: FlightModel,
  toleranceM: number,
  onStep: ((beginSeconds: number, h: number, share: number) => void) | null,
): Flight {
  if (!start(input, model)) return noFlight(input)
  let time = 0
  let apexM = 0
  // The first step must not jump over the landing of a low, short shot.
  let h = slopes[4]! < 0 ? Math.min(0.2, (0.5 * state[4]!) / -slopes[4]!) : 0.2
  for (let n = 0; n < stepsAtMost; n++) {
    const error = tryStep(h, toleranceM, model)
    const factor = error > 0 ? Math.min(6, Math.max(0.2, 0.9 * error ** -0.2)) : 6
    if (error > 1) {
      h *= factor
      continue
    }
    if (time === 0 && next[1]! <= 0 && h > 1e-9) {
      h /= 4
      continue
    }
    const peaks = state[4]! > 0 && next[4]! <= 0
    const lands = next[1]! <= 0
    if (peaks || lands || onStep) prepareDense(h)
    if (peaks) apexM = Math.max(apexM, denseAt(1, crossing(4)))
    if (lands) {
      const theta = time === 0 ? 1 : crossing(1)
      onStep?.(time, h, theta)
      const x = denseAt(0, theta)
      const z = denseAt(2, theta)
      const vx = denseAt(3, theta)
      const vy = denseAt(4, theta)
      const vz = denseAt(5, theta)
      const along = Math.sqrt(vx * vx + vz * vz)
      return {
        carryM: Math.sqrt(x * x + z * z),
        apexM,
        landAngleDeg: degrees(Math.atan2(-vy, along)),
        flightSeconds: time + theta * h,
        sideM: z,
        downRangeM: x,
        landSpeedMps: Math.sqrt(vy * vy + along * along),
        landSpinRpm: revPerMinute(denseAt(6, theta)),
      }
    }
    onStep?.(time, h, 1)
    time += h
    h = Math.min(longestStepSeconds, h * factor)
    state.set(next)
    // First same as last: the seventh slope is the first of the next step.
    for (let i = 0; i < 7; i++) slopes[i] = slopes[42 + i]!
  }
  throw new Problem('flight-endless')
}

/**
 * Flight of a ball from launch to landing on level ground: three dimensions, drag, lift, spin decay and a
 * steady wind (Penner 2001, Am. J. Phys. 69:563, eqs 12–16; Lyu et al. 2018 eqs 1–3), solved by Dormand–Prince
 * 5(4) with step control. Carry, side and apex are within `statedErrorM` of the exact solution of the model;
 * how far the model is from a real ball is another matter, see `flightWithUncertainty`.
 * @throws Problem `flight-input` if a value is not finite or not physical
 */
export const flight = (
  input: FlightInput,
  model: FlightModel = cappedLinear,
  toleranceM = defaultToleranceM,
): Flight => {
  const found = solve(input, model, toleranceM, null)
  // What comes down almost level is off by its height's error over the tangent: such a skim is solved anew, more finely.
  return found.landAngleDeg < levelDeg && found.carryM > 0
    ? solve(input, model, toleranceM * levelShare, null)
    : found
}

/** Share of carry below which the model's own uncertainty is never stated (references: balls and models differ so much). */
export const minModelShare = 0.04

/** A flight with the uncertainty of the model itself. */
export interface UncertainFlight extends Flight {
  /**
   * The model's own uncertainty of carry (one standard uncertainty): how far the second published model is
   * from the first, never less than 4 % of carry.
   */
  carrySdM: number
  models: { name: string; carryM: number; apexM: number; landAngleDeg: number; source: string }[]
}

/** The flight by the recommended model, with the second published model beside it. */
export function flightWithUncertainty(input: FlightInput): UncertainFlight {
  const models = [cappedLinear, tunnelFit].map((model) => ({ model, result: flight(input, model) }))
  const main = models[0]!.result
  const other = models[1]!.result
  return {
    ...main,
    carrySdM: Math.max(minModelShare * main.carryM, Math.abs(main.carryM - other.carryM)),
    models: models.map(({ model, result }) => ({
      name: model.name,
      carryM: result.carryM,
      apexM: result.apexM,
      landAngleDeg: result.landAngleDeg,
      source: model.source,
    })),
  }
}

/** A point of the path through the air, metres from the tee. */
export interface TrajectoryPoint {
  atSeconds: number
  /** Along the target line. */
  xM: number
  heightM: number
  /** + right of the target line. */
  sideM: number
}

/** Points of a flight for a chart, equally spaced in time, tee and landing included. */
export function trajectory(
  input: FlightInput,
  points = 60,
  model: FlightModel = cappedLinear,
): TrajectoryPoint[] {
  const count = Math.max(2, Math.floor(points))
  const seconds = flight(input, model).flightSeconds
  const path: TrajectoryPoint[] = [{ atSeconds: 0, xM: 0, heightM: 0, sideM: 0 }]
  if (seconds === 0) return path
  const landing = solve(input, model, defaultToleranceM, (begin, h, share) => {
    for (let i = path.length; i < count - 1; i++) {
      const atSeconds = (seconds * i) / (count - 1)
      if (atSeconds > begin + h * share) break
      const theta = (atSeconds - begin) / h
      path.push({ atSeconds, xM: denseAt(0, theta), heightM: denseAt(1, theta), sideM: denseAt(2, theta) })
    }
  })
  path.push({ atSeconds: seconds, xM: landing.downRangeM, heightM: 0, sideM: landing.sideM })
  return path
}
