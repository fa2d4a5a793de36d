import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { airOf, standardAir } from '../../../shared-core/flight/air.ts'
import { carryInStandardAir, carryOf, launchOf } from '../../../shared-core/flight/carry.ts'
import { flight } from '../../../shared-core/flight/flight.ts'
import { typicalLaunch } from '../../../shared-core/flight/typical-launch.ts'
import { standardClubs } from '../../../shared-core/model/club.ts'
import { sayWord } from '../../../shared-core/wording/phrase.ts'

const drive = { club: 'driver', ballSpeedMps: 65, launchDeg: 12, spinRpm: 2700 }
const hot = airOf({ temperatureC: 35, altitudeM: 1200, humidityPercent: 40 })

describe('carry of a shot', () => {
  test("is the device's where it gave one", () => {
    expect(carryOf({ ...drive, carryM: 200 })).toMatchObject({
      carryM: 200,
      sdM: 8,
      how: 'measured',
      assumed: [],
    })
  })

  test('is the flight of the ball where it did not, with an uncertainty no less than 4 %', () => {
    const answer = carryOf(drive)
    expect(answer.how).toBe('computed')
    expect(answer.carryM).toBe(flight(drive).carryM)
    expect(answer.sdM).toBeGreaterThan(0.04 * answer.carryM!)
  })

  test('a missing launch or spin is taken as typical for the club, said, and widens the uncertainty', () => {
    const answer = carryOf({ ...drive, launchDeg: null, spinRpm: undefined })
    expect(answer.assumed).toEqual(['launchDeg', 'spinRpm'])
    expect(answer.note).toContain('launch 10.9° ± 3° and spin 2700 ± 500 rpm assumed')
    expect(answer.sdM).toBeGreaterThan(carryOf(drive).sdM!)
    expect(carryOf({ ...drive, spinRpm: null }).assumed).toEqual(['spinRpm'])
  })

  test.each([
    [{ club: 'driver' }, /no usable ball speed/],
    [{ club: null, ballSpeedMps: 65, spinRpm: 2700 }, /no launch angle was recorded.*unknown club/],
    [{ club: 'putter', ballSpeedMps: 5 }, /launch angle and spin/],
    [{ ...drive, ballSpeedMps: 900 }, /no usable ball speed/],
  ])('there is none, with the reason, where it cannot be had', (shot, reason) => {
    const answer = carryOf(shot)
    expect(answer.carryM).toBeNull()
    expect(answer.note).toMatch(reason)
  })
})

describe('carry in standard air', () => {
  test('of a hot day up a mountain is shorter, of standard air the same', () => {
    const shot = { ...drive, carryM: 210 }
    const normal = carryInStandardAir(shot, hot)
    expect(normal.carryM).toBeLessThan(204)
    expect(normal.carryM).toBeCloseTo(210 * normal.ratio!, 9)
    expect(carryInStandardAir(shot, standardAir).carryM).toBeCloseTo(210, 9)
  })

  test('takes the wind out', () => {
    const wind = { speedMps: 5, fromDeg: 180 }
    const blown = { ...drive, carryM: flight({ ...drive, wind }).carryM }
    expect(carryInStandardAir(blown, standardAir, { wind }).carryM).toBeCloseTo(flight(drive).carryM, 6)
  })

  test('a computed carry of a day is the flight in standard air', () => {
    expect(carryInStandardAir(drive, hot).carryM).toBeCloseTo(flight(drive).carryM, 6)
  })

  test('without a ball speed it is null with the reason; a topped ball stays as it is', () => {
    expect(carryInStandardAir({ club: 'driver', carryM: 180 }, hot)).toMatchObject({
      carryM: null,
      ratio: null,
    })
    expect(carryInStandardAir({ ...drive, launchDeg: -2, carryM: 30 }, hot)).toMatchObject({
      carryM: 30,
      ratio: 1,
    })
  })

  test('no finite shot gives NaN or throws', () => {
    const some = (min: number, max: number) => fc.option(fc.double({ min, max, noNaN: true }))
    fc.assert(
      fc.property(
        fc.record({
          club: fc.option(fc.constantFrom(...standardClubs, 'old cleek')),
          ballSpeedMps: some(-10, 1000),
          launchDeg: some(-200, 200),
          spinRpm: some(-100, 30_000),
          spinAxisDeg: some(-300, 300),
          launchDirectionDeg: some(-300, 300),
          carryM: some(-10, 2000),
        }),
        (shot) => {
          for (const value of Object.values(carryInStandardAir(shot, hot))) {
            if (typeof value === 'number') expect(Number.isFinite(value)).toBe(true)
          }
        },
      ),
      { numRuns: 300 },
    )
  })
})

describe('typical launch', () => {
  test('every club but the putter has one with a spread and its basis', () => {
    for (const club of standardClubs) {
      const typical = typicalLaunch(club)
      if (club === 'putter') expect(typical).toBeNull()
      else {
        expect(typical!.launchSdDeg).toBeGreaterThan(0)
        expect(typical!.spinSdRpm).toBeGreaterThan(0)
        expect(sayWord(typical!.basis)).toMatch(/memory|assumption/)
      }
    }
    expect(typicalLaunch('old cleek')).toBeNull()
    expect(typicalLaunch(null)).toBeNull()
  })

  test("its spread covers the women's tour driver, 13.2° and 2611 rpm (widely reprinted, from memory)", () => {
    const typical = typicalLaunch('driver')!
    expect(Math.abs(13.2 - typical.launchDeg)).toBeLessThan(typical.launchSdDeg)
    expect(Math.abs(2611 - typical.spinRpm)).toBeLessThan(typical.spinSdRpm)
  })

  test('is not used where the shot has its own', () => {
    expect(launchOf(drive)).toMatchObject({ launchDeg: 12, spinRpm: 2700, assumed: [] })
  })
})
