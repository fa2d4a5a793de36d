import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { frameFor, sharedMoments } from '../../renderer/desk/stage/anchors.ts'
import { niceTicks } from '../../renderer/desk/strip/ticks.ts'

describe('two swings together', () => {
  const first = [
    { name: 'top', frame: 100 },
    { name: 'impact', frame: 160 },
    { name: 'finish', frame: 220 },
  ]
  const second = [
    { name: 'impact', frame: 90 },
    { name: 'top', frame: 50 },
  ]
  const anchors = sharedMoments(first, second)
  const starts = { first: 0, second: 0 }

  test('locked on a moment, both show it together and run at real speed from there', () => {
    const locked = { anchors, lockedOn: 'impact', isStretched: false, framesPerFrame: 0.5, starts }
    expect(frameFor(160, locked)).toBe(90)
    expect(frameFor(140, locked)).toBe(80)
  })

  test('stretched, every shared moment coincides', () => {
    const stretched = { anchors, lockedOn: 'impact', isStretched: true, framesPerFrame: 0.5, starts }
    for (const anchor of anchors) expect(frameFor(anchor.first, stretched)).toBe(anchor.second)
    expect(frameFor(130, stretched)).toBe(70)
  })

  test('a step on never makes the second picture go back', () => {
    fc.assert(
      fc.property(
        fc.uniqueArray(fc.integer({ min: 0, max: 300 }), { minLength: 2, maxLength: 7 }),
        fc.uniqueArray(fc.integer({ min: 0, max: 300 }), { minLength: 2, maxLength: 7 }),
        fc.integer({ min: 0, max: 299 }),
        fc.boolean(),
        (a, b, frame, isStretched) => {
          const named = (frames: number[]) => frames.map((f, i) => ({ name: `m${i}`, frame: f }))
          const options = {
            anchors: sharedMoments(named(a), named(b)),
            lockedOn: 'm0',
            isStretched,
            framesPerFrame: 1,
            starts,
          }
          expect(frameFor(frame + 1, options)).toBeGreaterThanOrEqual(frameFor(frame, options))
        },
      ),
    )
  })

  test('without a moment in common both run from their first frames', () => {
    expect(
      frameFor(15, {
        anchors: [],
        lockedOn: 'impact',
        isStretched: true,
        framesPerFrame: 1,
        starts: { first: 10, second: 40 },
      }),
    ).toBe(45)
  })
})

describe('marks of the time line', () => {
  test('are round numbers within the range and about as many as asked for', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -3000, max: 0, noNaN: true }),
        fc.double({ min: 10, max: 4000, noNaN: true }),
        (from, span) => {
          const ticks = niceTicks(from, from + span, 8)
          expect(ticks.length).toBeGreaterThanOrEqual(3)
          expect(ticks.length).toBeLessThanOrEqual(9)
          for (const tick of ticks) {
            expect(tick).toBeGreaterThanOrEqual(from - span * 1e-6)
            expect(tick).toBeLessThanOrEqual(from + span * (1 + 1e-6))
          }
        },
      ),
    )
  })
})
