import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { bestSpot } from '../../shared-core/change/best-spot.ts'
import type { ChangeBlock } from '../../shared-core/change/change-shot.ts'
import { strikeFindings } from '../../shared-core/change/strike-findings.ts'
import { strikeMapReport } from '../../shared-core/change/strike-map-report.ts'

/** Strikes whose efficiency falls with the squared distance from a spot: the rigid body's law, so the answer is known. */
const perMm2 = 0.0002
const strikesAround = (spot: { x: number; y: number }, places: readonly [number, number][]): ChangeBlock => ({
  label: 'Block',
  shots: places.map(([impactXMm, impactYMm]) => ({
    club: 'driver',
    impactXMm,
    impactYMm,
    clubSpeedMps: 40,
    ballSpeedMps: 40 * (1.48 - perMm2 * ((impactXMm - spot.x) ** 2 + (impactYMm - spot.y) ** 2)),
  })),
})
const grid = (half: number, step: number): [number, number][] => {
  const line = Array.from({ length: (2 * half) / step + 1 }, (_, i) => i * step - half)
  return line.flatMap((x) => line.map((y): [number, number] => [x, y]))
}
const coordinate = fc.integer({ min: -6, max: 6 })

describe('the best spot on the face', () => {
  it('is where efficiency is highest, wherever that is and in whatever order the shots come', () => {
    fc.assert(
      fc.property(coordinate, coordinate, fc.infiniteStream(fc.nat()), (x, y, order) => {
        const places = grid(16, 4)
        const mixed = places
          .map((place) => ({ place, key: order.next().value as number }))
          .toSorted((a, b) => a.key - b.key)
          .map(({ place }) => place)
        const spot = bestSpot([strikesAround({ x, y }, mixed)], 'driver')!
        // The grid is 4 mm wide; ties at the edge of the best quarter may pull by half a step.
        expect(Math.hypot(spot.xMm - x, spot.yMm - y)).toBeLessThanOrEqual(4)
        expect(spot.strikes).toBe(places.length)
      }),
    )
  })

  it('is not named from fewer than 20 strikes, nor from those of another club', () => {
    const places = grid(16, 4).slice(0, 19)
    expect(bestSpot([strikesAround({ x: 4, y: 0 }, places)], 'driver')).toBeNull()
    expect(bestSpot([strikesAround({ x: 4, y: 0 }, grid(16, 4))], '7-iron')).toBeNull()
  })

  it('of earlier lessons is what bias and loss are counted from; without them it is the face centre', () => {
    const spot = { x: 6, y: -3 }
    const earlier = strikesAround(spot, [
      ...Array.from({ length: 8 }, (): [number, number] => [spot.x, spot.y]),
      ...grid(20, 10).filter(([x, y]) => Math.hypot(x - spot.x, y - spot.y) > 12),
    ])
    const today = strikesAround(
      spot,
      grid(10, 5).map(([x, y]): [number, number] => [x + spot.x, y + spot.y]),
    )
    const report = strikeMapReport({ blocks: [today], options: { earlier: [earlier] } })
    expect(report.spot).toMatchObject({ xMm: spot.x, yMm: spot.y })
    expect(report.bias.distanceMm).toBeCloseTo(0, 9)
    // 10 mm from the spot by the law above.
    expect(report.loss.at10Mm).toBeCloseTo(-100 * perMm2, 9)
    expect(strikeFindings(report)[1]!.sentence).toContain('the player’s best spot so far')

    const alone = strikeMapReport({ blocks: [today] })
    expect(alone.spot).toBeNull()
    expect(alone.bias.distanceMm).toBeCloseTo(Math.hypot(spot.x, spot.y), 9)
    expect(strikeFindings(alone)[0]!.sentence).toContain('the face centre')
  })
})
