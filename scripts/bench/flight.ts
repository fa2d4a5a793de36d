import { ballAreaM2, ballMassKg, ballRadiusM, gravityMps2 } from '../../shared-core/flight/ball.ts'
import { standardAir } from '../../shared-core/flight/air.ts'
import type { FlightInput } from '../../shared-core/flight/flight.ts'
import { flight, statedErrorM } from '../../shared-core/flight/flight.ts'
import { cappedLinear, tunnelFit } from '../../shared-core/flight/models.ts'
import { minimalStandardGenerator } from '../../shared-core/statistics/generator.ts'

export interface Measurement {
  name: string
  value: number
  unit: string
  aim: string
}

/** Shots as they are hit, no wind and no tilt, so that the plain solver below can fly them too. */
function shots(count: number): FlightInput[] {
  const next = minimalStandardGenerator(1)
  return Array.from({ length: count }, () => ({
    ballSpeedMps: 35 + 45 * next(),
    launchDeg: 6 + 20 * next(),
    spinRpm: 2000 + 6000 * next(),
  }))
}

/**
 * The same flight by classical RK4 with a fixed step, in the plane, also without allocation: what one writes
 * first. Carry by a straight line in the last step.
 */
function plainCarryM(input: FlightInput, dt: number): number {
  const k = (standardAir.densityKgM3 * ballAreaM2) / (2 * ballMassKg)
  const decay = (2e-5 * standardAir.densityKgM3) / (1.225 * ballRadiusM)
  const launch = (input.launchDeg * Math.PI) / 180
  const y = plainState
  y[0] = 0
  y[1] = 0
  y[2] = input.ballSpeedMps * Math.cos(launch)
  y[3] = input.ballSpeedMps * Math.sin(launch)
  y[4] = (input.spinRpm * Math.PI) / 30
  for (;;) {
    plainSlope(k, decay, y, plainSlopes[0]!)
    for (let stage = 1; stage < 4; stage++) {
      const share = stage === 3 ? dt : dt / 2
      for (let i = 0; i < 5; i++) plainMoved[i] = y[i]! + share * plainSlopes[stage - 1]![i]!
      plainSlope(k, decay, plainMoved, plainSlopes[stage]!)
    }
    const [a, b, c, d] = plainSlopes as [Float64Array, Float64Array, Float64Array, Float64Array]
    const x = y[0]!
    const height = y[1]!
    for (let i = 0; i < 5; i++) y[i] = y[i]! + (dt / 6) * (a[i]! + 2 * b[i]! + 2 * c[i]! + d[i]!)
    if (y[1]! <= 0) return x + ((y[0]! - x) * height) / (height - y[1]!)
  }
}
const plainState = new Float64Array(5)
const plainMoved = new Float64Array(5)
const plainSlopes = Array.from({ length: 4 }, () => new Float64Array(5))

function plainSlope(k: number, decay: number, y: Float64Array, out: Float64Array): void {
  const vx = y[2]!
  const vy = y[3]!
  const speed = Math.sqrt(vx * vx + vy * vy)
  const s = (ballRadiusM * y[4]!) / speed
  const drag = k * speed * cappedLinear.drag(s, 0)
  const lift = k * speed * cappedLinear.lift(s, 0)
  out[0] = vx
  out[1] = vy
  out[2] = -drag * vx - lift * vy
  out[3] = -drag * vy + lift * vx - gravityMps2
  out[4] = -decay * speed * y[4]!
}

/** Best of a few runs, flights a second: the machine's other work only ever slows a run down. */
function perSecond(inputs: readonly FlightInput[], fly: (input: FlightInput) => number, runs = 5): number {
  let best = 0
  for (let run = 0; run < runs; run++) {
    const begin = performance.now()
    let sum = 0
    for (const input of inputs) sum += fly(input)
    const seconds = (performance.now() - begin) / 1000
    if (!Number.isFinite(sum)) throw new Error('a flight is not finite')
    best = Math.max(best, inputs.length / seconds)
  }
  return best
}

/** Speed of the flight solver, alone and as a ratio to a plain fixed-step RK4 of like error in the same run. */
export async function bench(): Promise<Measurement[]> {
  const inputs = shots(20_000)
  const few = inputs.slice(0, 500)
  const exact = few.map((input) => flight(input, cappedLinear, 1e-10).carryM)
  const worst = (fly: (input: FlightInput) => number) =>
    Math.max(...few.map((input, i) => Math.abs(fly(input) - exact[i]!)))

  const main = (input: FlightInput) => flight(input).carryM
  const second = (input: FlightInput) => flight(input, tunnelFit).carryM
  // The longest plain step whose landing is as good as the stated error.
  const step = [0.05, 0.02, 0.01, 0.005, 0.002].find(
    (dt) => worst((input) => plainCarryM(input, dt)) <= statedErrorM,
  )!
  const plain = (input: FlightInput) => plainCarryM(input, step)

  const mainRate = perSecond(inputs, main)
  const plainRate = perSecond(inputs, plain)
  return [
    { name: 'flights a second, capped linear', value: mainRate, unit: '1/s', aim: '≥ 20000' },
    { name: 'flights a second, tunnel fit', value: perSecond(inputs, second), unit: '1/s', aim: '≥ 20000' },
    {
      name: `against plain RK4 (${step * 1000} ms steps)`,
      value: mainRate / plainRate,
      unit: '×',
      aim: '≥ 1',
    },
    { name: 'worst error of carry', value: worst(main), unit: 'm', aim: `≤ ${statedErrorM}` },
    { name: 'worst error of carry, plain RK4', value: worst(plain), unit: 'm', aim: `≤ ${statedErrorM}` },
  ]
}

if (import.meta.main) console.table(await bench())
