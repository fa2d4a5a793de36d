import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { ceilingOf, ownShotsNeeded } from '../../../shared-core/impact/ceiling.ts'
import { defaultDeviceError } from '../../../shared-core/impact/device-error.ts'
import { efficiencyOf } from '../../../shared-core/impact/efficiency.ts'
import { missForLoss, offCentreLoss } from '../../../shared-core/impact/off-centre.ts'
import { strikeReport } from '../../../shared-core/impact/strike-report.ts'
import { standardClubs } from '../../../shared-core/model/club.ts'

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true })
const drive = { club: 'driver', clubSpeedMps: 45, ballSpeedMps: 62, launchDeg: 12, spinRpm: 2700 }

/** Every number inside a value. */
const numbersIn = (value: unknown): number[] =>
  typeof value === 'number'
    ? [value]
    : value !== null && typeof value === 'object'
      ? Object.values(value).flatMap(numbersIn)
      : []

describe('efficiency', () => {
  test('is ball speed over club speed with the error of both', () => {
    const efficiency = efficiencyOf({ ballSpeedMps: 66.6, clubSpeedMps: 45 })!
    expect(efficiency.value).toBeCloseTo(1.48, 9)
    expect(efficiency.sd).toBeCloseTo(0.0331, 4)
  })

  test.each([
    [null, 45],
    [66, null],
    [66, 0],
    [Number.NaN, 45],
    [66, Infinity],
  ])('is null without two usable speeds: %s, %s', (ballSpeedMps, clubSpeedMps) => {
    expect(efficiencyOf({ ballSpeedMps, clubSpeedMps })).toBeNull()
  })
})

describe('ceiling', () => {
  test('is raised by what the player has shown from 20 own shots on, not before, and never replaced', () => {
    const own = Array.from({ length: ownShotsNeeded }, (_, i) => 1.3 + i * 0.008)
    const club = ceilingOf('7-iron')
    const combined = ceilingOf('7-iron', { ownEfficiencies: own })
    expect(combined).toMatchObject({ kind: 'combined' })
    expect('efficiency' in combined && 'efficiency' in club && combined.efficiency > club.efficiency).toBe(
      true,
    )
    expect(ceilingOf('7-iron', { ownEfficiencies: own.slice(1) })).toMatchObject({ kind: 'published' })
    const low = Array.from({ length: 40 }, (_, i) => 1.2 + i * 0.002)
    expect(ceilingOf('7-iron', { ownEfficiencies: low })).toMatchObject({
      kind: 'published',
      efficiency: 'efficiency' in club ? club.efficiency : Number.NaN,
    })
  })

  test('a 7-iron is not judged by the driver', () => {
    const iron = ceilingOf('7-iron')
    const driver = ceilingOf('driver')
    expect(
      'efficiency' in iron && 'efficiency' in driver && driver.efficiency - iron.efficiency,
    ).toBeGreaterThan(0.1)
  })

  test('falls as the recorded loft at impact rises, and stays for a loft that cannot be', () => {
    const at = (spinLoftDeg: number) => {
      const ceiling = ceilingOf('7-iron', { spinLoftDeg })
      return 'efficiency' in ceiling ? ceiling.efficiency : Number.NaN
    }
    expect(at(30)).toBeLessThan(at(25.4))
    expect(at(20)).toBeGreaterThan(at(25.4))
    expect(at(80)).toBe(at(25.4))
  })

  test('a club without a published average has the formula, a putter or unknown club the reason why not', () => {
    expect(ceilingOf('sand-wedge')).toMatchObject({ kind: 'formula', published: null })
    expect(ceilingOf('putter')).toHaveProperty('reason')
    expect(ceilingOf(null)).toHaveProperty('reason')
    expect(ceilingOf('my old cleek')).toHaveProperty('reason')
  })

  test('no ceiling is above its limit', () => {
    for (const club of standardClubs.filter((name) => name !== 'putter')) {
      const ceiling = ceilingOf(club)
      if ('reason' in ceiling) throw new Error(`${club}: ${ceiling.reason}`)
      expect(ceiling.efficiency, club).toBeLessThanOrEqual(ceiling.limit!)
    }
  })
})

describe('off-centre strikes', () => {
  test('a loss and the miss that explains it are each other’s inverse, loss of restitution included', () => {
    fc.assert(
      fc.property(
        number(0.1, 40),
        number(0.6, 0.86),
        number(0.18, 0.3),
        number(2e-4, 6e-4),
        (miss, e, mass, inertia) => {
          const head = { restitution: e, headMassKg: mass, inertiaKgM2: inertia }
          expect(missForLoss(offCentreLoss(miss, head), head)).toBeCloseTo(miss, 5)
        },
      ),
    )
  })

  test('a bigger miss never loses less', () => {
    fc.assert(
      fc.property(number(0, 40), number(0, 10), (miss, more) => {
        const head = { restitution: 0.83, headMassKg: 0.2, inertiaKgM2: 5e-4 }
        expect(offCentreLoss(miss + more, head)).toBeGreaterThanOrEqual(offCentreLoss(miss, head))
      }),
    )
  })
})

describe('report of one strike', () => {
  test('says what was left on the table, and ball speed plus what was left is the ceiling', () => {
    const report = strikeReport(drive)
    expect(report.reason).toBeNull()
    expect(report.efficiency!.value).toBeCloseTo(62 / 45, 9)
    expect(62 + report.ballSpeedLeftMps!.value).toBeCloseTo(report.ceiling!.efficiency * 45, 9)
    expect(report.carryLeftM!.value).toBeGreaterThan(10)
    expect(report.carryLeftM!.assumed).toEqual([])
    expect(report.withinError).toBe(false)
    expect(report.offCentre!.onTheFace).toBe(true)
  })

  test('a better strike leaves less and explains a smaller miss', () => {
    fc.assert(
      fc.property(number(50, 64), number(0.2, 2), (ballSpeedMps, more) => {
        const one = strikeReport({ ...drive, ballSpeedMps })
        const better = strikeReport({ ...drive, ballSpeedMps: ballSpeedMps + more })
        expect(better.ballSpeedLeftMps!.value).toBeLessThan(one.ballSpeedLeftMps!.value)
        expect(better.carryLeftM!.value).toBeLessThan(one.carryLeftM!.value)
        expect(better.offCentre!.heelToToeMm).toBeLessThan(one.offCentre!.heelToToeMm)
      }),
    )
  })

  test('a strike at the ceiling leaves nothing, and a small loss is called reading error', () => {
    const top = strikeReport({ ...drive, ballSpeedMps: 1.48 * 45 })
    expect(top.ballSpeedLeftMps!.value).toBeCloseTo(0, 6)
    expect(top.carryLeftM!.value).toBeCloseTo(0, 6)
    expect(strikeReport({ ...drive, ballSpeedMps: 1.45 * 45 }).withinError).toBe(true)
  })

  test('the error of the device can be edited and is carried through', () => {
    const usual = strikeReport(drive)
    const better = strikeReport(drive, {
      error: { ...defaultDeviceError, clubSpeedShare: 0.002, ballSpeedShare: 0.002 },
    })
    expect(better.efficiency!.sd).toBeLessThan(usual.efficiency!.sd / 3)
    expect(better.ballSpeedLeftMps!.sd).toBeLessThan(usual.ballSpeedLeftMps!.sd)
    expect(better.carryLeftM!.sd).toBeLessThan(usual.carryLeftM!.sd)
  })

  test('missing launch and spin are taken as typical, and it says so', () => {
    const report = strikeReport({ ...drive, launchDeg: null, spinRpm: null })
    expect(report.carryLeftM!.assumed).toEqual(['launchDeg', 'spinRpm'])
    expect(report.carryLeftM!.note).toContain('assumed')
  })

  test('efficiency above what the club can give is impossible beyond error, unlikely within it', () => {
    const codes = (club: string, efficiency: number) =>
      strikeReport({ ...drive, club, ballSpeedMps: 45 * efficiency }).flags.map((flag) => flag.code)
    expect(codes('driver', 1.48)).toEqual([])
    expect(codes('driver', 1.53)).toEqual(['unlikely'])
    expect(codes('driver', 1.6)).toEqual(['impossible'])
    expect(codes('7-iron', 1.55)).toEqual(['impossible'])
    expect(codes('pitching-wedge', 1.45)).toEqual(['impossible'])
  })

  test.each([
    [{ ...drive, clubSpeedMps: null }, /no usable club speed/],
    [{ ...drive, ballSpeedMps: null }, /no usable ball speed/],
    [{ club: 'driver' }, /club speed and ball speed/],
    [{ ...drive, club: null }, /unknown club/],
    [{ ...drive, club: 'putter' }, /putter/],
    [{ ...drive, launchDeg: -4 }, /never rose/],
  ])('what cannot be had is null with the reason', (shot, reason) => {
    expect(strikeReport(shot).reason).toMatch(reason)
  })

  test('no finite shot gives NaN or throws', () => {
    const metric = fc.option(number(-500, 12_000))
    fc.assert(
      fc.property(
        fc.record({
          club: fc.option(fc.oneof(fc.constantFrom(...standardClubs), fc.string())),
          clubSpeedMps: fc.option(number(-5, 90)),
          ballSpeedMps: fc.option(number(-5, 130)),
          launchDeg: fc.option(number(-120, 120)),
          spinRpm: metric,
          dynamicLoftDeg: fc.option(number(-90, 90)),
          attackDeg: fc.option(number(-90, 90)),
        }),
        fc.array(number(0.5, 1.7), { maxLength: 30 }),
        (shot, ownEfficiencies) => {
          for (const value of numbersIn(strikeReport(shot, { ownEfficiencies }))) {
            expect(Number.isFinite(value), JSON.stringify(strikeReport(shot, { ownEfficiencies }))).toBe(true)
          }
        },
      ),
      { numRuns: 500 },
    )
  })
})
