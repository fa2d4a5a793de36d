import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { alignInOrder } from '../../../shared-core/pairing/align-in-order.ts'
import { pairSwings, type Pairing, type PairingItem } from '../../../shared-core/pairing/pair-swings.ts'
import { isRight, simulatedLesson } from './simulated-lesson.ts'

const sure = (pairing: Pairing) => pairing.pairs.filter((p) => p.confidence >= 0.8)

/** Over many lessons: how many of the sure pairs are right, how many of the possible ones are found. */
const tally = (lessons: number, how: Parameters<typeof simulatedLesson>[1]) => {
  const sum = { possible: 0, sure: 0, sureRight: 0, all: 0, right: 0 }
  for (let seed = 1; seed <= lessons; seed++) {
    const lesson = simulatedLesson(seed, how)
    const pairing = pairSwings(lesson)
    sum.possible += lesson.possible
    sum.sure += sure(pairing).length
    sum.sureRight += sure(pairing).filter(isRight).length
    sum.all += pairing.pairs.length
    sum.right += pairing.pairs.filter(isRight).length
  }
  return {
    precision: sum.sureRight / sum.sure,
    recall: sum.sureRight / sum.possible,
    right: sum.right / sum.all,
    found: sum.right / sum.possible,
    sure: sum.sure,
    all: sum.all,
  }
}

describe('two clocks', () => {
  test.each([
    { name: 'a usual lesson', lessons: 150, how: { swings: 40 }, recall: 0.95 },
    { name: 'a short lesson', lessons: 200, how: { swings: 15, missing: 0.15, jitter: 0.7 }, recall: 0.9 },
    {
      name: 'a quarter of all records missing, jitter of a second',
      lessons: 80,
      how: { swings: 60, missing: 0.25, jitter: 1 },
      recall: 0.95,
    },
    { name: 'eight swings', lessons: 300, how: { swings: 8 }, recall: 0.8 },
  ])('$name: at least 99 % of the sure pairs are right, and most are sure', ({ lessons, how, recall }) => {
    const result = tally(lessons, how)
    expect(result.precision).toBeGreaterThanOrEqual(0.99)
    expect(result.recall).toBeGreaterThanOrEqual(recall)
    expect(result.found).toBeGreaterThanOrEqual(0.98)
  })

  test('three or five swings are seldom sure, and then right', () => {
    for (const swings of [3, 5]) {
      const result = tally(400, { swings, missing: 0.2, jitter: 0.7 })
      expect(result.sure).toBeGreaterThan(0)
      expect(result.precision).toBeGreaterThanOrEqual(0.99)
      expect(result.recall).toBeLessThan(0.6)
    }
  })

  test('evenly spaced swings could be off by one, so next to none is sure', () => {
    for (const swings of [15, 30]) {
      const result = tally(200, { swings, even: true })
      expect(result.sure).toBeLessThan(0.02 * result.all)
      // And rightly so: a good part of the pairs offered is off by one.
      expect(result.right).toBeLessThan(0.95)
    }
  })

  test('two swings alone prove no clock, and more swings make it surer', () => {
    const lesson = simulatedLesson(5, { swings: 9, missing: 0, jitter: 0.2 })
    const least = [2, 4, 9].map((n) => {
      const { pairs } = pairSwings({ swings: lesson.swings.slice(0, n), shots: lesson.shots.slice(0, n) })
      return Math.min(...pairs.map((p) => p.confidence))
    })
    expect(least[0]).toBeLessThan(0.8)
    expect(least[1]).toBeGreaterThan(least[0]!)
    expect(least[2]).toBeGreaterThan(least[1]!)
  })

  test('a pair whose times disagree by seconds is offered as the only one that fits, not as sure', () => {
    const lesson = simulatedLesson(3, { swings: 20, missing: 0 })
    const swings = lesson.swings.map((s, k) => (k === 9 ? { ...s, atSeconds: s.atSeconds! - 4.5 } : s))
    const pair = pairSwings({ ...lesson, swings }).pairs.find((p) => p.swingId === 'w9')!
    expect(pair).toMatchObject({ shotId: 's9', how: 'spacing' })
    expect(pair.confidence).toBeLessThan(0.4)
    expect(pair.residualSeconds).toBeGreaterThan(2)
  })

  test('clips stamped partly at the start of the recording lower the confidence, not the pairs', () => {
    const mixed = tally(100, { swings: 30, stampedEarly: 0.4 })
    const plain = tally(100, { swings: 30 })
    expect(mixed.right).toBeGreaterThanOrEqual(0.98)
    expect(mixed.found).toBeGreaterThanOrEqual(0.97)
    expect(mixed.precision).toBeGreaterThanOrEqual(0.99)
    expect(mixed.recall).toBeLessThan(plain.recall - 0.2)
  })

  test('offset and drift come out as they were put in', () => {
    for (let seed = 1; seed <= 40; seed++) {
      const lesson = simulatedLesson(seed, { swings: 120, missing: 0.1 })
      const { clock } = pairSwings(lesson)
      expect(clock!.how).toBe('spacing')
      expect(Math.abs(clock!.offsetSeconds - lesson.offsetSeconds)).toBeLessThan(1)
      // 120 swings over 90 minutes, each to about 0.7 s: the drift's standard error is some 40 ppm.
      expect(Math.abs(clock!.driftPpm - lesson.driftPpm)).toBeLessThan(160)
      expect(clock!.residualSdSeconds).toBeLessThan(1.2)
    }
  })

  test('any two sequences at all: pairs never cross, nothing is used twice, nothing gets lost', () => {
    const times = fc.array(fc.option(fc.double({ min: 0, max: 900, noNaN: true }), { freq: 5 }), {
      maxLength: 14,
    })
    const club = fc.constantFrom(null, 'driver', '7-iron')
    fc.assert(
      fc.property(
        times,
        times,
        fc.array(club, { minLength: 28, maxLength: 28 }),
        (swingTimes, shotTimes, clubs) => {
          const swings = swingTimes.map((atSeconds, k): PairingItem => ({
            id: `w${k}`,
            atSeconds,
            club: clubs[k]!,
          }))
          const shots = shotTimes.map((atSeconds, k): PairingItem => ({
            id: `s${k}`,
            atSeconds,
            club: clubs[14 + k]!,
          }))
          const { pairs, unpairedSwings, unpairedShots } = pairSwings({ swings, shots })
          expect([...pairs.map((p) => p.swingId), ...unpairedSwings].sort()).toEqual(
            swings.map((s) => s.id).sort(),
          )
          expect([...pairs.map((p) => p.shotId), ...unpairedShots].sort()).toEqual(
            shots.map((s) => s.id).sort(),
          )
          const at = (list: PairingItem[], id: string) => list.find((x) => x.id === id)!.atSeconds
          const timed = pairs.filter((p) => at(swings, p.swingId) !== null && at(shots, p.shotId) !== null)
          for (let k = 1; k < timed.length; k++) {
            expect(at(swings, timed[k]!.swingId)!).toBeGreaterThanOrEqual(at(swings, timed[k - 1]!.swingId)!)
            expect(at(shots, timed[k]!.shotId)!).toBeGreaterThanOrEqual(at(shots, timed[k - 1]!.shotId)!)
          }
          for (const p of pairs) expect(p.confidence > 0 && p.confidence <= 1).toBe(true)
        },
      ),
      { numRuns: 500 },
    )
  })

  test('an hour more on every shot changes the offset and nothing else', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), fc.integer({ min: -14, max: 14 }), (seed, hours) => {
        const lesson = simulatedLesson(seed, { swings: 20 })
        const moved = lesson.shots.map((s) => ({ ...s, atSeconds: s.atSeconds! + 3600 * hours }))
        const before = pairSwings(lesson)
        const after = pairSwings({ ...lesson, shots: moved })
        expect(after.pairs.map((p) => [p.swingId, p.shotId])).toEqual(
          before.pairs.map((p) => [p.swingId, p.shotId]),
        )
        expect(after.clock!.offsetSeconds - before.clock!.offsetSeconds).toBeCloseTo(3600 * hours, 3)
      }),
      { numRuns: 40 },
    )
  })

  test('three hundred swings are paired, surely and rightly', () => {
    const lesson = simulatedLesson(7, { swings: 300, missing: 0.15 })
    const pairing = pairSwings(lesson)
    expect(sure(pairing).every(isRight)).toBe(true)
    expect(sure(pairing).length).toBeGreaterThan(0.95 * lesson.possible)
  })

  test('a pair of different clubs is lowered, or never made if so asked', () => {
    const lesson = simulatedLesson(3, { swings: 20, missing: 0 })
    const swings = lesson.swings.map((s) => ({ ...s, club: 'driver' }))
    const shots = lesson.shots.map((s, k) => ({ ...s, club: k === 9 ? '7-iron' : 'driver' }))
    const lowered = pairSwings({ swings, shots }).pairs.find((p) => p.shotId === 's9')!
    expect(isRight(lowered)).toBe(true)
    expect(lowered.confidence).toBeLessThan(0.5)
    const forbidden = pairSwings({ swings, shots, options: { clubMismatch: 'forbid' } })
    expect(forbidden.unpairedShots).toEqual(['s9'])
    expect(forbidden.unpairedSwings).toEqual(['w9'])
  })
})

describe('pairs fixed by the coach', () => {
  test('are kept whatever the times say, and nothing crosses them', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 1e6 }),
        fc.nat(),
        fc.nat(),
        fc.boolean(),
        (seed, a, b, isAlone) => {
          const lesson = simulatedLesson(seed, { swings: 12 })
          fc.pre(lesson.swings.length > 0 && lesson.shots.length > 0)
          const swing = lesson.swings[a % lesson.swings.length]!
          const shot = lesson.shots[b % lesson.shots.length]!
          const { pairs, unpairedSwings } = pairSwings({
            ...lesson,
            fixed: [{ swingId: swing.id, shotId: isAlone ? null : shot.id }],
          })
          if (isAlone) expect(unpairedSwings).toContain(swing.id)
          else {
            expect(pairs.find((p) => p.swingId === swing.id)).toMatchObject({
              shotId: shot.id,
              how: 'coach',
              confidence: 1,
            })
          }
          const order = pairs.map((p) => Number(p.shotId.slice(1)))
          expect(order).toEqual([...order].sort((x, y) => x - y))
        },
      ),
      { numRuns: 200 },
    )
  })

  test('one right pair settles evenly spaced swings that could have been off by one', () => {
    let before = 0
    let after = 0
    let possible = 0
    for (let seed = 1; seed <= 60; seed++) {
      const lesson = simulatedLesson(seed, { swings: 20, even: true })
      const known = lesson.swings.find((w) => lesson.shots.some((s) => s.id.slice(1) === w.id.slice(1)))!
      before += pairSwings(lesson).pairs.filter(isRight).length
      const refit = pairSwings({ ...lesson, fixed: [{ swingId: known.id, shotId: `s${known.id.slice(1)}` }] })
      expect(refit.clock!.how).toBe('coach')
      after += refit.pairs.filter(isRight).length
      expect(sure(refit).every(isRight)).toBe(true)
      possible += lesson.possible
    }
    expect(before / possible).toBeLessThan(0.9)
    expect(after / possible).toBeGreaterThan(0.99)
  })

  test('names that are not there, and one shot for two swings, are refused', () => {
    const swings = [
      { id: 'w1', atSeconds: 1 },
      { id: 'w2', atSeconds: 30 },
    ]
    const shots = [{ id: 's1', atSeconds: 1 }]
    for (const fixed of [
      [{ swingId: 'w9', shotId: 's1' }],
      [{ swingId: 'w1', shotId: 's9' }],
      [
        { swingId: 'w1', shotId: 's1' },
        { swingId: 'w2', shotId: 's1' },
      ],
      [
        { swingId: 'w1', shotId: 's1' },
        { swingId: 'w1', shotId: null },
      ],
    ]) {
      expect(() => pairSwings({ swings, shots, fixed })).toThrow(
        expect.objectContaining({ name: 'Problem', code: 'pairing-fixed' }),
      )
    }
  })
})

describe('without times', () => {
  const item = (id: string, club: string | null, blockId: string | null = null): PairingItem => ({
    id,
    atSeconds: null,
    club,
    blockId,
  })

  test('order within the block decides, never with high confidence', () => {
    const swings = [
      item('w1', 'driver', 'a'),
      item('w2', 'driver', 'a'),
      item('w3', '7-iron', 'b'),
      item('w4', '7-iron', 'b'),
    ]
    const shots = [item('s1', 'driver', 'a'), item('s3', '7-iron', 'b'), item('s4', '7-iron', 'b')]
    const { pairs, clock, unpairedSwings } = pairSwings({ swings, shots })
    expect(clock).toBeNull()
    expect(pairs.map((p) => [p.swingId, p.shotId, p.how])).toEqual([
      ['w1', 's1', 'order'],
      ['w3', 's3', 'order'],
      ['w4', 's4', 'order'],
    ])
    expect(unpairedSwings).toEqual(['w2'])
    // Equal counts in block b, unequal in a.
    expect(pairs[1]!.confidence).toBeGreaterThan(pairs[0]!.confidence)
    expect(Math.max(...pairs.map((p) => p.confidence))).toBeLessThan(0.6)
  })

  test('different clubs are not paired by order alone', () => {
    const { pairs, unpairedSwings } = pairSwings({
      swings: [item('w1', 'driver'), item('w2', '7-iron')],
      shots: [item('s1', '7-iron')],
    })
    expect(pairs.map((p) => [p.swingId, p.shotId])).toEqual([['w2', 's1']])
    expect(unpairedSwings).toEqual(['w1'])
  })

  test('a swing without a time is paired between its timed neighbours', () => {
    const lesson = simulatedLesson(11, { swings: 12, missing: 0 })
    const swings = lesson.swings.map((s, k) => (k === 5 ? { ...s, atSeconds: null } : s))
    const pair = pairSwings({ ...lesson, swings }).pairs.find((p) => p.swingId === 'w5')!
    expect(pair).toMatchObject({ shotId: 's5', how: 'order', residualSeconds: null })
    expect(pair.confidence).toBeLessThan(0.8)
  })

  test('nothing on one side leaves the other alone', () => {
    expect(pairSwings({ swings: [item('w1', null)], shots: [] })).toEqual({
      pairs: [],
      clock: null,
      unpairedSwings: ['w1'],
      unpairedShots: [],
    })
    expect(pairSwings({ swings: [], shots: [] }).pairs).toEqual([])
  })
})

describe('evenly spaced swings', () => {
  const items = (name: string, from: number, count: number, every: number): PairingItem[] =>
    Array.from({ length: count }, (_, k) => ({
      id: `${name}${from + k}`,
      atSeconds: 1e9 + every * (from + k),
    }))
  const names = ({ pairs }: Pairing) => pairs.map((p) => `${p.swingId} ${p.shotId}`)

  test('keep the pairs that stood when a clip or a shot comes without its partner', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 2, max: 12 }),
        fc.integer({ min: 20, max: 300 }),
        fc.integer({ min: -400, max: 400 }),
        fc.boolean(),
        (count, every, ahead, isClip) => {
          const swings = items('clip', 0, count + (isClip ? 1 : 0), every)
          const shots = items('shot', 0, count + (isClip ? 0 : 1), every).map((s) => ({
            ...s,
            atSeconds: s.atSeconds! + ahead,
          }))
          const stood = Array.from({ length: count }, (_, k) => ({ swingId: `clip${k}`, shotId: `shot${k}` }))
          expect(names(pairSwings({ swings, shots, stood }))).toEqual(
            stood.map((p) => `${p.swingId} ${p.shotId}`),
          )
        },
      ),
      { seed: 20261128, numRuns: 60 },
    )
  })

  test('give up pairs that stood where the times speak against them', () => {
    const swings = [0, 31, 78, 104, 167, 199].map((at, k) => ({ id: `clip${k}`, atSeconds: 1e9 + at }))
    const shots = swings.map(({ atSeconds }, k) => ({ id: `shot${k}`, atSeconds: atSeconds + 187 }))
    const stood = swings.slice(1).map(({ id }, k) => ({ swingId: id, shotId: `shot${k}` }))
    expect(names(pairSwings({ swings, shots, stood }))).toEqual(swings.map((_, k) => `clip${k} shot${k}`))
  })
})

describe('alignInOrder', () => {
  test('finds the largest sum that trying every rising pairing finds', () => {
    const gains = fc.array(fc.array(fc.integer({ min: -3, max: 9 }), { minLength: 5, maxLength: 5 }), {
      maxLength: 5,
    })
    fc.assert(
      fc.property(gains, (table) => {
        const every = (i: number, from: number): number => {
          if (i === table.length) return 0
          let best = every(i + 1, from)
          for (let j = from; j < 5; j++) best = Math.max(best, table[i]![j]! + every(i + 1, j + 1))
          return best
        }
        const pairs = alignInOrder(
          table.map((row) => row.map((gain, j) => ({ j, gain }))),
          5,
        )
        expect(pairs.reduce((sum, [i, j]) => sum + table[i]![j]!, 0)).toBe(every(0, 0))
        for (let k = 1; k < pairs.length; k++) {
          expect(pairs[k]![0]).toBeGreaterThan(pairs[k - 1]![0])
          expect(pairs[k]![1]).toBeGreaterThan(pairs[k - 1]![1])
        }
      }),
      { numRuns: 300 },
    )
  })
})
