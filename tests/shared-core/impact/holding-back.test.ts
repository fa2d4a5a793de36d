import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { HoldingBackOptions } from '../../../shared-core/impact/holding-back.ts'
import { holdingBack } from '../../../shared-core/impact/holding-back.ts'
import { ceilingOf, shownLevel } from '../../../shared-core/impact/ceiling.ts'
import { strikeReport } from '../../../shared-core/impact/strike-report.ts'
import { mersenneGenerator } from '../../../shared-core/statistics/generator.ts'

const block = (efficiencies: readonly number[], { club = 'driver' as string | null, speed = 42 } = {}) =>
  efficiencies.map((efficiency, i) => {
    const clubSpeedMps = speed + 0.4 * Math.sin(i)
    return { club, clubSpeedMps, ballSpeedMps: efficiency * clubSpeedMps, launchDeg: 12.5, spinRpm: 2700 }
  })
const compare = (shots: Parameters<typeof holdingBack>[0], options: Partial<HoldingBackOptions> = {}) =>
  holdingBack(shots, { generator: mersenneGenerator(7), ...options })
/** `n` efficiencies spread evenly about a centre. */
const ladder = (n: number, centre: number, half: number) =>
  Array.from({ length: n }, (_, i) => centre + half * ((2 * i) / (n - 1) - 1))

describe('holding back', () => {
  test('a weak strike at good speed is a strike leak, said in one sentence without advice to swing faster', () => {
    const result = compare(block(ladder(8, 1.33, 0.03)))
    expect(result.verdict).toBe('strike')
    expect(result.difference!.ci95[0]).toBeGreaterThan(0)
    expect(result.sentence).toMatch(/^Strike holds the carry back/)
    expect(result.caution).toBeNull()
    expect(result.strike!.basis).toBe('published')
    expect(result.howSure).toContain('from memory')
  })

  test('a player who strikes at the ceiling and hits alike is short of speed, with the caution beside it', () => {
    const result = compare(block(ladder(12, 1.485, 0.01)), {
      ownEfficiencies: ladder(40, 1.485, 0.01),
      speedGainShare: 0.06,
    })
    expect(result.verdict).toBe('speed')
    expect(result.sentence).toMatch(/^Speed holds the carry back/)
    expect(result.caution).toContain('stop with pain')
    expect(result.sentence).toContain('good enough')
  })

  test('strikes that are all alike but far below the club are a strike leak, though the own best is no better', () => {
    const result = compare(block(ladder(10, 1.32, 0.01)), { ownEfficiencies: ladder(40, 1.32, 0.01) })
    expect(result.verdict).toBe('strike')
    expect(result.strike!.basis).toBe('published')
  })

  test('speed is never advised while the strike leaves more within reach than speed would give and than is worth having', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 1.1, max: 1.46, noNaN: true }), { minLength: 5, maxLength: 20 }),
        fc.array(fc.double({ min: 1.1, max: 1.5, noNaN: true }), { maxLength: 30 }),
        fc.double({ min: 0.01, max: 0.06, noNaN: true }),
        (efficiencies, ownEfficiencies, speedGainShare) => {
          const result = compare(block(efficiencies), { ownEfficiencies, speedGainShare })
          const { today, strike, verdict } = result
          if (today === null || strike === null) return
          const gap = strike.efficiency - today.efficiency
          if (gap > 0.03 || gap > speedGainShare * today.efficiency) expect(verdict).not.toBe('speed')
        },
      ),
      { numRuns: 150 },
    )
  })

  test('with three shots it says how many more would do', () => {
    const result = compare(block([1.3, 1.4, 1.35]))
    expect(result).toMatchObject({ verdict: 'cannot-tell', shotsNeeded: 2, strike: null, speed: null })
    expect(result.sentence).toContain('2 more')
  })

  test('where the answer is open, the shots it asks for are few or none', () => {
    const result = compare(block([1.46, 1.2, 1.45, 1.47, 1.46, 1.3]))
    expect(result.verdict).toBe('cannot-tell')
    expect(result.sentence).toContain("Can't tell yet")
    if (result.shotsNeeded !== null) expect(result.shotsNeeded).toBeLessThanOrEqual(60)
  })

  test.each([
    ['no shots', [], /No shots yet/],
    ['a mixed bag', [...block([1.4]), ...block([1.3], { club: '7-iron' })], /one club at a time/],
    [
      'no club speed',
      block([1.4, 1.4]).map((shot) => ({ ...shot, clubSpeedMps: null })),
      /both club speed and ball speed/,
    ],
    ['an unknown club', block(ladder(9, 1.4, 0.02), { club: null }), /unknown club/],
  ])('%s: sensible words, no claim', (_what, shots, words) => {
    const result = compare(shots)
    expect(result.verdict).toBe('cannot-tell')
    expect(result.sentence).toMatch(words)
  })

  test('a club of the coach’s own is never told to find speed, since its ceiling is not known', () => {
    const shots = block(ladder(10, 1.4, 0.005), { club: 'old brassie' })
    const result = compare(shots, { ownEfficiencies: ladder(40, 1.4, 0.005), speedGainShare: 0.05 })
    expect(result.verdict).toBe('cannot-tell')
  })

  test('identical shots give an answer without a crash', () => {
    const shots = Array.from({ length: 6 }, () => block([1.3])[0]!)
    const result = compare(shots)
    expect(result.verdict).toBe('strike')
    expect(Number.isFinite(result.difference!.ci95[0])).toBe(true)
  })

  test('an impossible reading is left out and counted', () => {
    const result = compare(block([...ladder(8, 1.33, 0.03), 1.7]))
    expect(result).toMatchObject({ shots: 8, leftOut: 1 })
    expect(result.howWeKnow.data).toContain('1 left out')
  })

  test('missing launch and spin are assumed and named under "how do we know"', () => {
    const shots = block(ladder(8, 1.33, 0.03)).map((shot) => ({ ...shot, launchDeg: null, spinRpm: null }))
    const result = compare(shots)
    expect(result.verdict).toBe('strike')
    expect(result.howWeKnow.data).toContain('assumed')
  })

  test('the same chance gives the same answer, and the order of shots does not change the point values', () => {
    const shots = block(ladder(9, 1.4, 0.05))
    expect(compare(shots)).toEqual(compare(shots))
    const turned = compare([...shots].reverse())
    expect(turned.strike!.gainM).toBeCloseTo(compare(shots).strike!.gainM, 9)
  })

  test('the sentence is in the units of the coach', () => {
    const shots = block(ladder(8, 1.33, 0.03))
    expect(compare(shots, { system: 'mph-yd' }).sentence).toMatch(/yd .* mph/)
    expect(compare(shots, { system: 'kmh-m' }).sentence).toMatch(/ m .* km\/h/)
  })

  test('no finite block gives NaN', () => {
    const shot = fc.record({
      club: fc.constant('7-iron'),
      clubSpeedMps: fc.option(fc.double({ min: 5, max: 80, noNaN: true }), { freq: 8 }),
      ballSpeedMps: fc.option(fc.double({ min: 5, max: 120, noNaN: true }), { freq: 8 }),
      launchDeg: fc.option(fc.double({ min: -60, max: 80, noNaN: true })),
      spinRpm: fc.option(fc.double({ min: 0, max: 12_000, noNaN: true })),
    })
    const numbersIn = (value: unknown): number[] =>
      typeof value === 'number'
        ? [value]
        : value !== null && typeof value === 'object'
          ? Object.values(value).flatMap(numbersIn)
          : []
    fc.assert(
      fc.property(fc.array(shot, { maxLength: 15 }), (shots) => {
        for (const value of numbersIn(compare(shots))) {
          expect(Number.isFinite(value)).toBe(true)
        }
      }),
      { numRuns: 150 },
    )
  })
})

describe('what is within reach', () => {
  test('own shots below the club never lower it, however many and however alike', () => {
    const alone = ceilingOf('driver')
    for (const half of [0.01, 0.05, 0.15]) {
      const with72 = ceilingOf('driver', { ownEfficiencies: ladder(72, 1.3, half) })
      expect('efficiency' in with72 && 'efficiency' in alone && with72.efficiency).toBeGreaterThanOrEqual(
        'efficiency' in alone ? alone.efficiency : Number.NaN,
      )
    }
  })

  test('more scatter never makes less of the strike', () => {
    const gains = [0.02, 0.06, 0.1, 0.14].map(
      (half) =>
        compare(block(ladder(12, 1.34, 0.02)), { ownEfficiencies: ladder(40, 1.34, half) }).strike!.gainM,
    )
    for (let i = 1; i < gains.length; i++) expect(gains[i]!).toBeGreaterThanOrEqual(gains[i - 1]! - 1e-9)
  })

  test('a spread no larger than the device errs shows nothing above the usual strike', () => {
    expect(shownLevel(ladder(30, 1.4, 0.03)).level).toBeCloseTo(1.4, 9)
    expect(shownLevel(ladder(30, 1.35, 0.15)).level).toBeGreaterThan(1.4)
  })

  test('an iron that launches like a stronger one is held against the stronger one', () => {
    const at = (launchDeg: number) =>
      compare(
        block(ladder(10, 1.34, 0.01), { club: '7-iron', speed: 34 }).map((s) => ({
          ...s,
          launchDeg,
          spinRpm: 5500,
        })),
      )
    expect(at(12).verdict).not.toBe('speed')
    expect(at(12).strike!.efficiency).toBeGreaterThan(at(16.3).strike!.efficiency + 0.04)
    expect(at(20).strike!.efficiency).toBeCloseTo(at(16.3).strike!.efficiency, 2)
  })

  test('the table of shots and the verdict are held against the same', () => {
    const shots = block(ladder(10, 1.38, 0.04))
    const own = ladder(40, 1.46, 0.12)
    const held = compare(shots, { ownEfficiencies: own })
    for (const shot of shots) {
      expect(strikeReport(shot, { ownEfficiencies: own }).ceiling!.efficiency).toBeCloseTo(
        held.strike!.efficiency,
        9,
      )
    }
  })
})

describe('readings that cannot be', () => {
  test('six of ten shots above 1.52: no verdict, and the device is named', () => {
    const result = compare(block([1.53, 1.54, 1.525, 1.53, 1.56, 1.54, 1.47, 1.46, 1.48, 1.45]))
    expect(result).toMatchObject({ verdict: 'cannot-tell', suspicion: 'above-physics', caution: null })
    expect(result.sentence).toMatch(
      /^No verdict: .* of 10 shots .* misread club speed, or the units look wrong/,
    )
  })

  test('a column in other units than the next one is named', () => {
    const mixed = block(ladder(10, 1.46 / 1.609344, 0.02))
    expect(compare(mixed)).toMatchObject({ verdict: 'cannot-tell', suspicion: 'units' })
    expect(compare(block(ladder(10, 1.46 * 1.609344, 0.02)))).toMatchObject({ suspicion: 'above-physics' })
  })
})
