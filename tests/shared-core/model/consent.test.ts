import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { missingConsent, shortConsentGap } from '../../../shared-core/model/consent.ts'
import { noConsent } from '../../../shared-core/model/entities.ts'
import { localDay } from '../../../shared-core/model/local-day.ts'

const today = '2026-05-16'
const consents = fc.record({
  filming: fc.boolean(),
  sharing: fc.boolean(),
  until: fc.constantFrom(null, '2026-05-15', '2026-05-16', '2027-01-01'),
  isGuardian: fc.boolean(),
})

describe('the rule of consent', () => {
  it('is the same on the Roster as at the hand-over, for every card', () => {
    fc.assert(
      fc.property(consents, fc.boolean(), (said, isMinor) => {
        const student = { name: 'Robin Testing', isMinor, consent: { ...noConsent, ...said } }
        const isWhole =
          said.filming &&
          said.sharing &&
          (said.until === null || said.until >= today) &&
          (!isMinor || said.isGuardian)
        expect(missingConsent(student, today) === null).toBe(isWhole)
        expect(shortConsentGap(student, today) === null).toBe(isWhole)
      }),
    )
  })
})

describe('the day where the coach is', () => {
  it('is the one on the wall, late in the evening and early in the morning', () => {
    fc.assert(
      fc.property(
        fc.date({ min: new Date(2000, 0, 1), max: new Date(2090, 0, 1), noInvalidDate: true }),
        (at) => {
          const [year, month, day] = localDay(at).split('-').map(Number)
          expect([year, month, day]).toEqual([at.getFullYear(), at.getMonth() + 1, at.getDate()])
        },
      ),
    )
  })

  it('has four digits of year and two of month and day', () => {
    expect(localDay(new Date(2026, 2, 7, 23, 59))).toBe('2026-03-07')
  })
})
