import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { findDateOrder, isoOf, readWallTime, wallSeconds } from '../../../shared-core/shots/read-wall-time.ts'

const iso = (text: string, order: 'day-month' | 'month-day' = 'day-month') => {
  const reading = readWallTime(text)
  return reading && isoOf(reading, order)
}

describe('readWallTime', () => {
  test('reads the common ways to write one instant', () => {
    for (const text of [
      '2026-05-14 14:03:20',
      '2026-05-14T14:03:20',
      '2026/05/14 14:03:20',
      '14.05.2026 14:03:20',
      '14.5.26, 14:03:20',
      '14/05/2026 14:03:20',
      '14-05-2026 2:03:20 PM',
      '14 May 2026 14:03:20',
      'May 14, 2026 2:03:20 p.m.',
      '14. Mai 2026 14:03:20',
      '14 mayo 2026 14:03:20',
      '14 de mayo de 2026 14:03:20',
      '14 mai 2026 14:03:20',
      'Thursday, 14 May 2026, 2:03:20pm',
    ]) {
      expect([text, iso(text)]).toEqual([text, '2026-05-14T14:03:20'])
    }
    expect(iso('5/14/2026 2:03 PM', 'month-day')).toBe('2026-05-14T14:03')
  })

  test('noon and midnight of the 12-hour clock', () => {
    expect(iso('12:05 AM')).toBe('T00:05')
    expect(iso('12:05 PM')).toBe('T12:05')
    expect(iso('11:59:59 pm')).toBe('T23:59:59')
    expect(iso('13:05 PM')).toBeNull()
  })

  test('is only as precise as the text, and never claims a zone the text does not give', () => {
    expect(iso('14:03')).toBe('T14:03')
    expect(iso('2026-05-14')).toBe('2026-05-14')
    expect(iso('2026-05-14 14:03:20.250')).toBe('2026-05-14T14:03:20.250')
    expect(iso('2026-05-14T14:03:20Z')).toBe('2026-05-14T14:03:20Z')
    expect(iso('2026-05-14T14:03:20+0200')).toBe('2026-05-14T14:03:20+02:00')
  })

  test('seconds and milliseconds since 1970 are UTC', () => {
    expect(iso('1000000000')).toBe('2001-09-09T01:46:40Z') // POSIX time 10^9, widely printed
    expect(iso('1000000000500')).toBe('2001-09-09T01:46:40.500Z')
  })

  test('days and times that do not exist are no times', () => {
    for (const text of ['30.02.2026', '2026-13-01', '24:30', '12:61', 'hello', '14', '31/31/2026', '']) {
      expect([text, iso(text)]).toEqual([text, null])
    }
  })

  test('any instant written as ISO 8601 comes back as the same instant', () => {
    fc.assert(
      fc.property(
        fc.date({ min: new Date('1990-01-01'), max: new Date('2090-01-01'), noInvalidDate: true }),
        (date) => {
          const text = date.toISOString()
          expect(wallSeconds([iso(text)])[0]).toBeCloseTo(date.getTime() / 1000, 3)
        },
      ),
    )
  })

  test('one number over twelve decides the order for the whole file; contradictions are seen', () => {
    const dates = (...texts: string[]) => texts.map((t) => readWallTime(t)!.date!)
    expect(findDateOrder(dates('03/04/2026', '13/04/2026')).order).toBe('day-month')
    expect(findDateOrder(dates('03/04/2026', '04/13/2026')).order).toBe('month-day')
    expect(findDateOrder(dates('03/04/2026'))).toEqual({ order: null, mixed: false, isOpen: true })
    expect(findDateOrder(dates('04/04/2026')).isOpen).toBe(false)
    expect(findDateOrder(dates('13/04/2026', '04/13/2026')).mixed).toBe(true)
  })

  test('clock times without a date go on over midnight', () => {
    expect(wallSeconds(['T23:59:50', 'T00:00:10', null, '2026-05-14', 'T00:01'])).toEqual([
      86390,
      86410,
      null,
      null,
      86460,
    ])
  })
})
