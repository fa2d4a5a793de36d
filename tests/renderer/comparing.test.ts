import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { frameFor, sharedMoments } from '../../shared-core/timing/shared-moments.ts'
import type { ClipTimes } from '../../shared-core/timing/clip-clock.ts'
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
  /** Filmed at a rate, played at 30. */
  const even = (captureRate: number, frames = 400): ClipTimes => ({
    atSeconds: Array.from({ length: frames }, (_, i) => i / 30),
    playbackRate: 30,
    captureRate,
  })

  test('locked on a moment, both show it together and run at real speed from there', () => {
    const locked = {
      anchors,
      lockedOn: 'impact',
      isStretched: false,
      first: even(240),
      second: even(120),
      starts,
    }
    expect(frameFor(160, locked)).toBe(90)
    expect(frameFor(140, locked)).toBe(80)
    expect(frameFor(200, locked)).toBe(110)
  })

  test('a clip of uneven frames runs by their true times, not by their count', () => {
    // 60 frames a second up to frame 90, then 20: a camera that fell behind.
    const second = {
      atSeconds: Array.from({ length: 200 }, (_, i) => (i <= 90 ? i / 60 : 1.5 + (i - 90) / 20)),
      playbackRate: 30,
      captureRate: 30,
    }
    const locked = { anchors, lockedOn: 'impact', isStretched: false, first: even(30), second, starts }
    expect(frameFor(157, locked)).toBe(84)
    expect(frameFor(163, locked)).toBe(92)
  })

  test('stretched, every shared moment coincides', () => {
    const stretched = {
      anchors,
      lockedOn: 'impact',
      isStretched: true,
      first: even(240),
      second: even(120),
      starts,
    }
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
        fc.array(fc.double({ min: 0.001, max: 0.2, noNaN: true }), { minLength: 301, maxLength: 301 }),
        (a, b, frame, isStretched, steps) => {
          const named = (frames: number[]) => frames.map((f, i) => ({ name: `m${i}`, frame: f }))
          let at = 0
          const second = { ...even(60), atSeconds: steps.map((step) => (at += step)) }
          const options = {
            anchors: sharedMoments(named(a), named(b)),
            lockedOn: 'm0',
            isStretched,
            first: even(240),
            second,
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
        first: even(240),
        second: even(240),
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
