import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { airOf, standardAir } from '../../../shared-core/flight/air.ts'
import type { FlightInput } from '../../../shared-core/flight/flight.ts'
import {
  flight,
  flightWithUncertainty,
  statedErrorM,
  trajectory,
} from '../../../shared-core/flight/flight.ts'
import { cappedLinear, tunnelFit, vacuum } from '../../../shared-core/flight/models.ts'
import { Problem } from '../../../shared-core/problem.ts'

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true })
const air = fc
  .record({
    temperatureC: number(-10, 45),
    pressureHpa: number(950, 1050),
    altitudeM: number(0, 3000),
    humidityPercent: number(0, 100),
  })
  .map(airOf)
const wind = fc.record({ speedMps: number(0, 15), fromDeg: number(0, 360) })

/** Any ball a club can send off. */
const anyShot = fc.record({
  ballSpeedMps: number(5, 95),
  launchDeg: number(0.5, 60),
  spinRpm: number(0, 12_000),
  spinAxisDeg: number(-60, 60),
  launchDirectionDeg: number(-20, 20),
  air,
  wind,
})

/** Full shots as they are hit, without wind. */
const playedShot = fc.record({
  ballSpeedMps: number(30, 85),
  launchDeg: number(5, 30),
  spinRpm: number(1500, 9000),
  spinAxisDeg: number(-30, 30),
  air,
})

/** The same equations by fixed-step RK4, written apart from the solver: a second opinion. */
function plainRungeKutta(input: FlightInput, model: typeof cappedLinear, dt: number) {
  const rad = Math.PI / 180
  const { densityKgM3, viscosityPaS } = input.air ?? standardAir
  const k = (densityKgM3 * Math.PI * 0.021335 ** 2) / (2 * 0.04593)
  const derivative = ([, , vx, vy, spin]: number[]) => {
    const u = Math.hypot(vx!, vy!)
    const s = (0.021335 * spin!) / u
    const re = (u * 0.04267 * densityKgM3) / viscosityPaS
    const cd = model.drag(s, re)
    const cl = model.lift(s, re)
    return [
      vx!,
      vy!,
      -k * u * (cd * vx! + cl * vy!),
      -k * u * (cd * vy! - cl * vx!) - 9.80665,
      (-2e-5 * (densityKgM3 / 1.225) * u * spin!) / 0.021335,
    ]
  }
  const moved = (y: number[], d: number[], h: number) => y.map((value, i) => value + h * d[i]!)
  const launch = input.launchDeg * rad
  let y = [
    0,
    0,
    input.ballSpeedMps * Math.cos(launch),
    input.ballSpeedMps * Math.sin(launch),
    (input.spinRpm * Math.PI) / 30,
  ]
  for (;;) {
    const k1 = derivative(y)
    const k2 = derivative(moved(y, k1, dt / 2))
    const k3 = derivative(moved(y, k2, dt / 2))
    const k4 = derivative(moved(y, k3, dt))
    const next = y.map((value, i) => value + (dt / 6) * (k1[i]! + 2 * k2[i]! + 2 * k3[i]! + k4[i]!))
    if (next[1]! <= 0) return y[0]! + ((next[0]! - y[0]!) * y[1]!) / (y[1]! - next[1]!)
    y = next
  }
}

describe('the solver', () => {
  test.each([cappedLinear, tunnelFit])(
    'keeps its stated error against a far tighter tolerance: $name',
    (model) => {
      fc.assert(
        fc.property(anyShot, (input) => {
          const usual = flight(input, model)
          const tight = flight(input, model, 1e-10)
          expect(Math.abs(usual.carryM - tight.carryM)).toBeLessThan(statedErrorM)
          expect(Math.abs(usual.sideM - tight.sideM)).toBeLessThan(statedErrorM)
          expect(Math.abs(usual.apexM - tight.apexM)).toBeLessThan(statedErrorM)
        }),
        { numRuns: 1500 },
      )
    },
  )

  test('keeps it too for a ball that skims off almost level, where lift and weight are nearly even', () => {
    for (const skims of [
      { ballSpeedMps: 69.77155, launchDeg: 0.001065, spinRpm: 807.7 },
      { ballSpeedMps: 39.28190426411142, launchDeg: 0.0059710218966674816, spinRpm: 5149.349003189525 },
      { ballSpeedMps: 38.770671288465124, launchDeg: 0.003149019265260446, spinRpm: 5139.0871865230165 },
    ]) {
      expect(Math.abs(flight(skims).carryM - flight(skims, cappedLinear, 1e-10).carryM)).toBeLessThan(
        statedErrorM,
      )
    }
    const skimming = fc.record({
      ballSpeedMps: number(30, 70),
      launchDeg: number(0.001, 0.3),
      spinRpm: number(800, 6800),
    })
    fc.assert(
      fc.property(skimming, (input) => {
        const tight = flight(input, cappedLinear, 1e-10).carryM
        expect(Math.abs(flight(input).carryM - tight)).toBeLessThan(statedErrorM)
      }),
      { numRuns: 1000 },
    )
  })

  test('agrees with a plain fixed-step RK4 of half a millisecond', () => {
    fc.assert(
      fc.property(playedShot, (shot) => {
        const input = { ...shot, spinAxisDeg: 0 }
        expect(Math.abs(flight(input).carryM - plainRungeKutta(input, cappedLinear, 5e-4))).toBeLessThan(
          statedErrorM,
        )
      }),
      { numRuns: 40 },
    )
  })

  test('without air the carry is v² sin 2θ / g and the height v² sin² θ / 2g for any speed and angle', () => {
    fc.assert(
      fc.property(number(1, 100), number(0.5, 89), (v, angle) => {
        const result = flight({ ballSpeedMps: v, launchDeg: angle, spinRpm: 3000 }, vacuum)
        const theta = (angle * Math.PI) / 180
        expect(Math.abs(result.carryM - (v ** 2 * Math.sin(2 * theta)) / 9.80665)).toBeLessThan(1e-6)
        expect(Math.abs(result.apexM - (v * Math.sin(theta)) ** 2 / (2 * 9.80665))).toBeLessThan(1e-6)
        expect(Math.abs(result.landAngleDeg - angle)).toBeLessThan(1e-6)
      }),
    )
  })

  test('no physical input gives anything but finite numbers', () => {
    const physical = fc.record({
      ballSpeedMps: number(0, 150),
      launchDeg: number(-90, 90),
      spinRpm: number(0, 20_000),
      spinAxisDeg: number(-180, 180),
      launchDirectionDeg: number(-180, 180),
      air,
      wind: fc.record({ speedMps: number(0, 60), fromDeg: number(-360, 360) }),
    })
    fc.assert(
      fc.property(physical, fc.constantFrom(cappedLinear, tunnelFit), (input, model) => {
        const result = flight(input, model)
        for (const value of Object.values(result)) expect(Number.isFinite(value)).toBe(true)
        expect(result.carryM).toBeGreaterThanOrEqual(0)
        expect(result.apexM).toBeGreaterThanOrEqual(0)
      }),
      { numRuns: 1000 },
    )
  })

  test.each([
    [{ ballSpeedMps: Number.NaN }],
    [{ ballSpeedMps: -1 }],
    [{ launchDeg: 91 }],
    [{ spinRpm: Infinity }],
    [{ wind: { speedMps: Number.NaN, fromDeg: 0 } }],
  ])('refuses what is not physical: %j', (wrong) => {
    expect(() => flight({ ballSpeedMps: 60, launchDeg: 12, spinRpm: 2600, ...wrong })).toThrow(Problem)
  })

  test('a ball at rest, topped or rolled does not fly', () => {
    for (const input of [
      { ballSpeedMps: 0, launchDeg: 12, spinRpm: 0 },
      { ballSpeedMps: 50, launchDeg: -3, spinRpm: 500 },
      { ballSpeedMps: 5, launchDeg: 0, spinRpm: 0 },
    ]) {
      expect(flight(input)).toMatchObject({ carryM: 0, apexM: 0, flightSeconds: 0, sideM: 0 })
    }
  })
})

describe('flight', () => {
  test('more ball speed never lowers carry', () => {
    fc.assert(
      fc.property(
        playedShot,
        number(0.01, 10),
        fc.constantFrom(cappedLinear, tunnelFit),
        (shot, more, model) => {
          const faster = { ...shot, ballSpeedMps: shot.ballSpeedMps + more }
          expect(flight(faster, model).carryM).toBeGreaterThan(flight(shot, model).carryM)
        },
      ),
      { numRuns: 500 },
    )
  })

  test('mirroring spin axis, start line and wind mirrors the side and nothing else', () => {
    fc.assert(
      fc.property(anyShot, (shot) => {
        const one = flight(shot)
        const other = flight({
          ...shot,
          spinAxisDeg: -shot.spinAxisDeg,
          launchDirectionDeg: -shot.launchDirectionDeg,
          wind: { ...shot.wind, fromDeg: -shot.wind.fromDeg },
        })
        expect(other.sideM).toBeCloseTo(-one.sideM, 6)
        expect(other.carryM).toBeCloseTo(one.carryM, 6)
        expect(other.apexM).toBeCloseTo(one.apexM, 6)
      }),
      { numRuns: 300 },
    )
  })

  test('a positive spin axis curves right, a positive start line starts right, wind from the right pushes left', () => {
    const straight = { ballSpeedMps: 70, launchDeg: 12, spinRpm: 2700 }
    expect(flight({ ...straight, spinAxisDeg: 10 }).sideM).toBeGreaterThan(5)
    expect(flight({ ...straight, launchDirectionDeg: 2 }).sideM).toBeGreaterThan(5)
    expect(flight({ ...straight, wind: { speedMps: 5, fromDeg: 90 } }).sideM).toBeLessThan(-5)
    expect(flight({ ...straight, wind: { speedMps: 5, fromDeg: 0 } }).carryM).toBeLessThan(
      flight(straight).carryM,
    )
  })

  test('turning the start line turns the whole flight, whatever the spin axis', () => {
    fc.assert(
      fc.property(playedShot, number(-90, 90), (shot, launchDirectionDeg) => {
        const along = flight(shot)
        const turned = flight({ ...shot, launchDirectionDeg })
        const angle = (launchDirectionDeg * Math.PI) / 180
        expect(turned.carryM).toBeCloseTo(along.carryM, 2)
        expect(turned.sideM).toBeCloseTo(
          along.downRangeM * Math.sin(angle) + along.sideM * Math.cos(angle),
          2,
        )
      }),
      { numRuns: 200 },
    )
  })

  test('thinner air carries a drive farther', () => {
    const drive = { ballSpeedMps: 70, launchDeg: 12, spinRpm: 2700 }
    expect(flight({ ...drive, air: airOf({ altitudeM: 1500 }) }).carryM).toBeGreaterThan(
      flight(drive).carryM + 5,
    )
  })

  test('the two models together never state less than 4 % of carry, nor less than their spread', () => {
    fc.assert(
      fc.property(playedShot, (shot) => {
        const result = flightWithUncertainty(shot)
        expect(result.carrySdM).toBeGreaterThanOrEqual(0.04 * result.carryM)
        expect(result.carrySdM).toBeGreaterThanOrEqual(
          Math.abs(result.models[0]!.carryM - result.models[1]!.carryM),
        )
        expect(result.models.map((model) => model.name)).toEqual(['capped linear', 'tunnel fit'])
      }),
      { numRuns: 100 },
    )
  })

  test('the points of a flight start at the tee, end at the landing and pass the top', () => {
    const input = { ballSpeedMps: 70, launchDeg: 12, spinRpm: 2700, spinAxisDeg: 5 }
    const result = flight(input)
    const points = trajectory(input, 200)
    expect(points).toHaveLength(200)
    expect(points[0]).toEqual({ atSeconds: 0, xM: 0, heightM: 0, sideM: 0 })
    expect(points.at(-1)).toMatchObject({ xM: result.downRangeM, heightM: 0, sideM: result.sideM })
    expect(Math.max(...points.map((point) => point.heightM))).toBeCloseTo(result.apexM, 1)
    points.slice(1).forEach((point, i) => expect(point.xM).toBeGreaterThan(points[i]!.xM))
  })
})

describe('air of a day', () => {
  test('nothing known is standard air, an altitude alone the standard atmosphere there', () => {
    expect(airOf()).toEqual(standardAir)
    expect(airOf({ altitudeM: 1000 }).densityKgM3).toBeCloseTo(1.11164, 4)
  })

  test('a pressure with an altitude is the weather report: reduced to sea level', () => {
    const there = airOf({ temperatureC: 15, pressureHpa: 1013.25, altitudeM: 1000, humidityPercent: 0 })
    expect(there.densityKgM3).toBeCloseTo(
      airOf({ temperatureC: 15, pressureHpa: 898.75, humidityPercent: 0 }).densityKgM3,
      4,
    )
  })

  test('refuses air that no one plays in', () => {
    expect(() => airOf({ temperatureC: 72 })).toThrow(Problem)
    expect(() => airOf({ humidityPercent: 120 })).toThrow(Problem)
    expect(() => airOf({ pressureHpa: 29.92 })).toThrow(Problem)
    expect(() => airOf({ altitudeM: Number.NaN })).toThrow(Problem)
  })
})
