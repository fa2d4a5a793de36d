import { describe, expect, it } from 'vitest'
import { cuesByBlock } from '../../../shared-core/report/cues-by-block.ts'
import type { OpenLesson } from '../../../shared-core/model/entities.ts'

const block = (id: string, order: number) => ({ id, order, name: id }) as OpenLesson['blocks'][number]
const shot = (
  id: string,
  club: string,
  clubSpeedMps: number,
  ballSpeedMps: number | null,
  isLeftOut = false,
) => ({ id, club, clubSpeedMps, ballSpeedMps, isLeftOut }) as OpenLesson['shots'][number]
const swing = (blockId: string, shotId: string | null, ...views: [string, number][][]) =>
  ({
    id: `${blockId} ${shotId}`,
    blockId,
    shotId,
    views: views.map((cues) => ({ cues: cues.map(([kind, strength]) => ({ kind, strength })) })),
  }) as unknown as OpenLesson['swings'][number]

describe('cues by block', () => {
  const [first, second, empty] = cuesByBlock({
    blocks: [block('soft', 2), block('as-came', 1), block('none', 3)],
    shots: [
      shot('1', 'driver', 40, 56),
      shot('2', 'driver', 42, 63),
      shot('3', 'driver', 50, null),
      shot('4', '7-iron', 34, 45),
      shot('5', 'driver', 10, 11, true),
      shot('6', 'driver', 41, 61.5),
    ],
    swings: [
      swing(
        'as-came',
        '1',
        [
          ['grip', 1],
          ['grip', 3],
        ],
        [['grip', 2]],
      ),
      swing('as-came', '2', [
        ['grip', 2],
        ['stance', 1],
      ]),
      swing('as-came', '3'),
      swing('as-came', '4'),
      swing('as-came', '5'),
      swing('as-came', null, [['stance', 0]]),
      swing('soft', '6'),
    ],
  })

  it('counts each swing once, at its strongest, whatever was seen how often', () => {
    expect(first!.cues).toEqual([
      { kind: 'grip', swings: 2, meanStrength: 2.5 },
      { kind: 'stance', swings: 2, meanStrength: 0.5 },
    ])
    expect(second!.cues).toEqual([])
  })

  it('sets them beside the medians of the club hit most, without the shots left out', () => {
    expect([first!.block.name, first!.number, first!.swings, first!.club, first!.shots]).toEqual([
      'as-came',
      1,
      6,
      'driver',
      3,
    ])
    expect(first!.medians).toEqual([
      { metric: 'clubSpeedMps', value: 42 },
      { metric: 'ballSpeedMps', value: 59.5 },
      // 56/40 = 1.4 and 63/42 = 1.5
      { metric: 'efficiency', value: expect.closeTo(1.45, 10) },
    ])
    expect(empty!.swings).toBe(0)
    expect(empty!.medians.every((m) => m.value === null)).toBe(true)
  })
})
