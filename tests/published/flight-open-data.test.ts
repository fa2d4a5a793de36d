import { existsSync, readFileSync } from 'node:fs'
import path from 'node:path'
import Papa from 'papaparse'
import { describe, expect, test } from 'vitest'
import { flight } from '../../shared-core/flight/flight.ts'

// 1,757 real shots by 8 numbered golfers: CaddieSet (Jung et al., CVPR 2025 Workshops; MIT). Never copied here.
const file = path.resolve(import.meta.dirname, '../../../shared/data/open-shots/shots.csv')
const present = existsSync(file)
if (!present) {
  console.log(
    'Skipped: open shot records against the best launch, because ../shared/data/open-shots is absent',
  )
}

interface Row {
  ClubType: string
  BallSpeed: string
  Carry: string
  SpinBack: string
  SpinSide: string
}

const air = { densityKgM3: 1.2, viscosityPaS: 1.8e-5, temperatureC: 20 }

/** Longest carry over launch angles of 4 to 24° for a ball speed and spin, m. */
const best = (ballSpeedMps: number, spinRpm: number): number =>
  Math.max(
    ...Array.from({ length: 21 }, (_, i) => flight({ ballSpeedMps, launchDeg: 4 + i, spinRpm, air }).carryM),
  )

describe.skipIf(!present)('open shot records', () => {
  const shares = (wanted: (club: string) => boolean) =>
    Papa.parse<Row>(readFileSync(file, 'utf8'), { header: true, skipEmptyLines: true })
      .data.filter((row) => wanted(row.ClubType))
      .map((row) => ({
        ball: Number(row.BallSpeed),
        carry: Number(row.Carry),
        spin: Math.hypot(Number(row.SpinBack), Number(row.SpinSide)),
      }))
      .filter(({ ball, carry, spin }) => ball > 20 && carry > 0 && spin >= 500 && spin <= 12_000)
      .map(({ ball, carry, spin }) => carry / best(ball, spin))
      .sort((a, b) => a - b)

  test('no drive carries more than the best launch would give, but for one in a hundred', () => {
    const drives = shares((club) => club === 'W1')
    const below = drives.filter((share) => share <= 1.03).length / drives.length
    const median = drives[drives.length >> 1]!
    console.log(
      `Open shot records: ${drives.length} drives, ${(below * 100).toFixed(1)} % within 1.03 of the best launch, median ${median.toFixed(2)}`,
    )
    expect(drives.length).toBeGreaterThan(1000)
    expect(below).toBeGreaterThan(0.98)
    expect(median).toBeGreaterThan(0.85)
    expect(median).toBeLessThan(1)
  })

  test('nor does an iron', () => {
    const irons = shares((club) => club.startsWith('I'))
    const below = irons.filter((share) => share <= 1.03).length / irons.length
    console.log(
      `Open shot records: ${irons.length} irons, ${(below * 100).toFixed(1)} % within 1.03 of the best launch`,
    )
    expect(irons.length).toBeGreaterThan(300)
    expect(below).toBeGreaterThan(0.98)
  })
})
