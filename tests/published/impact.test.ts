import { describe, expect, test } from 'vitest'
import { ceilingOf } from '../../shared-core/impact/ceiling.ts'
import { efficiencyErrorShare } from '../../shared-core/impact/device-error.ts'
import { headOf } from '../../shared-core/impact/heads.ts'
import {
  normalEfficiency,
  rollingStrike,
  woodenHeadRestitution,
} from '../../shared-core/impact/impact-model.ts'
import { linearLossPerMm, missForLoss, offCentreLoss } from '../../shared-core/impact/off-centre.ts'
import { strikeFlags } from '../../shared-core/impact/strike-report.ts'
import { sayWord } from '../../shared-core/wording/phrase.ts'

describe('two-body impact (textbook; Cochran & Stobbs 1968 appendix, second-hand)', () => {
  // Computed for the reference sheet: e 0.830, m 45.93 g.
  test.each([
    [0.195, 0, 1.4811],
    [0.2, 0, 1.4882],
    [0.204, 0, 1.4937],
    [0.21, 0, 1.5016],
    [0.2, 8, 1.4737],
    [0.2, 10, 1.4656],
    [0.2, 12, 1.4557],
    [0.2, 15, 1.4375],
    [0.2, 20, 1.3985],
    [0.2, 30, 1.2888],
    [0.2, 45, 1.0523],
  ])('head of %d kg at %d° of spin loft: %d', (headMassKg, spinLoft, efficiency) => {
    expect(Math.abs(normalEfficiency({ restitution: 0.83, headMassKg }, spinLoft) - efficiency)).toBeLessThan(
      1e-4,
    )
  })

  test('Cochran & Stobbs 1968: 14 oz at 100 mph gives 149 mph, and the e of it gives 135 mph for 7 oz (second-hand, from memory)', () => {
    const ounce = 0.028349523125
    const ball = 1.62 * ounce
    const restitution = 1.49 * (1 + ball / (14 * ounce)) - 1
    expect(restitution).toBeCloseTo(0.662, 3)
    expect(100 * normalEfficiency({ restitution, headMassKg: 7 * ounce, ballMassKg: ball })).toBeCloseTo(
      135.0,
      1,
    )
  })
})

describe('rolling strike (Penner 2001, Am. J. Phys. 69:563; formula second-hand, rows computed for the reference sheet)', () => {
  test.each([
    [45, 13, 0.7328, 61.86, 1.375, 10.49, 3035],
    [55, 9, 0.7025, 75.26, 1.368, 7.24, 2580],
    [35, 15, 0.762, 48.51, 1.386, 12.13, 2716],
  ])('%d m/s at %d°', (speed, spinLoft, e, ball, efficiency, launch, spin) => {
    const restitution = woodenHeadRestitution(speed, spinLoft)
    expect(restitution).toBeCloseTo(e, 4)
    const strike = rollingStrike(
      { restitution, headMassKg: 0.2, ballMassKg: 0.0459 },
      spinLoft,
      speed,
      0.02135,
    )
    expect(strike.ballSpeedMps).toBeCloseTo(ball, 2)
    expect(strike.efficiency).toBeCloseTo(efficiency, 3)
    expect(strike.launchAbovePathDeg).toBeCloseTo(launch, 2)
    expect(Math.abs(strike.modelSpinRpm - spin)).toBeLessThan(1)
  })

  test("the governing bodies' own pairs, 120 → 176 mph and 125 → 183 mph (second-hand), within 2 %", () => {
    const formula = normalEfficiency({ restitution: 0.822, headMassKg: 0.2 }, 12)
    expect(Math.abs(formula / (176 / 120) - 1)).toBeLessThan(0.02)
    expect(Math.abs(formula / (183 / 125) - 1)).toBeLessThan(0.02)
  })
})

describe('ceiling by club', () => {
  // theory: computed for the reference sheet; reported: men's tour average (from memory).
  const rows: [string, number, number][] = [
    ['driver', 1.439, 1.48],
    ['3-wood', 1.448, 1.48],
    ['5-wood', 1.449, 1.47],
    ['3-iron', 1.45, 1.45],
    ['4-iron', 1.449, 1.43],
    ['5-iron', 1.441, 1.41],
    ['6-iron', 1.419, 1.38],
    ['7-iron', 1.393, 1.33],
    ['8-iron', 1.368, 1.32],
    ['9-iron', 1.332, 1.28],
    ['pitching-wedge', 1.257, 1.23],
  ]

  test.each(rows)(
    '%s: formula %d, reported %d, no further apart than the sheet says',
    (club, theory, reported) => {
      const ceiling = ceilingOf(club)
      if ('reason' in ceiling) throw new Error(sayWord(ceiling.reason))
      expect(Math.abs(ceiling.formula! - theory)).toBeLessThan(0.0015)
      expect(ceiling.published).toBeCloseTo(reported, 9)
      expect(ceiling.efficiency).toBe(ceiling.published)
      expect(Math.abs(ceiling.published! / ceiling.formula! - 1)).toBeLessThan(0.055)
    },
  )

  test("iron heads follow the club-maker's rule, 254 g and 7 g a number (second-hand)", () => {
    for (let number = 3; number <= 9; number++) {
      expect(headOf(`${number}-iron`)!.headMassKg).toBeCloseTo(0.254 + 0.007 * (number - 5), 9)
    }
  })

  test('1.49 to 1.50 is the dead-centre limit of a legal driver (rigid collision, e 0.830 second-hand, head 200 g)', () => {
    const ceiling = ceilingOf('driver')
    if ('reason' in ceiling) throw new Error(sayWord(ceiling.reason))
    expect(ceiling.limit).toBeLessThanOrEqual(1.4883)
    expect(ceiling.limit).toBeGreaterThanOrEqual(1.47)
  })
})

describe('off-centre loss', () => {
  // Research driver, MDPI Proceedings 2020, 49(1):47, Table 1 (found): M 204 g, m 45.9 g, e 0.83; loss in %
  // computed for the reference sheet without any loss of e.
  const head = (inertiaGCm2: number) => ({
    restitution: 0.83,
    headMassKg: 0.204,
    ballMassKg: 0.0459,
    inertiaKgM2: inertiaGCm2 * 1e-7,
    restitutionLossAtInch: 0,
  })
  const misses = [5, 10, 12.7, 15, 20, 25.4]

  test.each([
    [5679, [0.16, 0.66, 1.05, 1.46, 2.57, 4.08]],
    [4085, [0.23, 0.91, 1.46, 2.02, 3.54, 5.59]],
    [2000, [0.47, 1.84, 2.93, 4.04, 6.97, 10.78]],
  ])('inertia %d g cm²', (inertia, losses) => {
    misses.forEach((miss, i) => {
      expect(Math.abs(offCentreLoss(miss, head(inertia)) * 100 - losses[i]!)).toBeLessThan(0.006)
      expect(missForLoss(offCentreLoss(miss, head(inertia)), head(inertia))).toBeCloseTo(miss, 6)
    })
  })

  test('0.14 an inch is 0.00551 a millimetre, 0.12 an inch 0.00472: a quarter inch costs 3 % (second-hand)', () => {
    expect(linearLossPerMm.cochran).toBeCloseTo(0.00551, 5)
    expect(linearLossPerMm.historic).toBeCloseTo(0.00472, 5)
    expect(linearLossPerMm.historic * 6.35).toBeCloseTo(0.03, 3)
  })
})

describe('reading error', () => {
  test('1 % of ball speed and 2 % of club speed make 2.2 % of efficiency, ±0.033 at 1.48 (computed; sizes assumed)', () => {
    expect(efficiencyErrorShare()).toBeCloseTo(0.0224, 4)
    expect(1.48 * efficiencyErrorShare()).toBeCloseTo(0.033, 3)
  })

  test('import sanity (assumption): above 1.56 on any full shot, driver below 0.9, driver spin below 500 rpm', () => {
    const codes = (
      club: string | null,
      clubSpeedMps: number,
      ballSpeedMps: number,
      spinRpm: number | null = null,
    ) => strikeFlags({ club, clubSpeedMps, ballSpeedMps, spinRpm }, null).map((flag) => flag.metric)
    expect(codes(null, 40, 63)).toEqual(['efficiency'])
    expect(codes(null, 40, 62)).toEqual([])
    expect(codes('driver', 45, 40)).toEqual(['efficiency'])
    expect(codes('driver', 45, 65, 450)).toEqual(['spinRpm'])
    expect(codes('driver', 45, 65, 2600)).toEqual([])
  })
})
