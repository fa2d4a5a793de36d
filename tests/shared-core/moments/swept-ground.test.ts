import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { byFrame, companyOf, seenBalls } from '../../../shared-core/moments/ball-spot.ts'
import { strikeFrame } from '../../../shared-core/moments/strike-frame.ts'
import { middleOfFive, sweptSpots } from '../../../shared-core/moments/swept-ground.ts'
import type { SweptSpot } from '../../../shared-core/moments/swept-ground.ts'
import { chanceFrom, normal } from './synthetic-sound.ts'

const [width, height] = [120, 90]
const ball = { x: 60, y: 70, radius: 2 }

/** Frames of a noisy, uneven ground on which a ball lies up to and with frame `lastSeen`, `contrast` levels brighter than it. */
const filmed = (changes: {
  contrast: number
  lastSeen?: number
  noise?: number
  /** Somebody dark, from frame `from` to `to`, over the ball's place. */
  passer?: { from: number; to: number }
  count?: number
}) => {
  const { contrast, lastSeen = 59, noise = 3, passer, count = 110 } = changes
  const chance = chanceFrom(7)
  const ground = Float32Array.from({ length: width * height }, () => 150 + 6 * normal(chance))
  const frames = Array.from({ length: count }, (_, index) =>
    Uint8Array.from(ground, (level, i) => {
      const [x, y] = [i % width, Math.floor(i / width)]
      const isBall = Math.hypot(x - ball.x, y - ball.y) <= ball.radius && index <= lastSeen
      const isPasser = passer && index >= passer.from && index < passer.to && Math.abs(x - ball.x) < 14
      return Math.round((isPasser ? 40 : level + (isBall ? contrast : 0)) + noise * normal(chance))
    }),
  )
  return { first: 0, end: count, of: (index: number) => frames[index]!, width, height }
}

/** The surest spots at the ball's place. */
const atBall = (spots: readonly SweptSpot[]) =>
  spots
    .filter((s) => Math.hypot(s.x - ball.x, s.y - ball.y) < 2.5)
    .sort((a, b) => b.signs.jump * b.signs.there * b.signs.gone - a.signs.jump * a.signs.there * a.signs.gone)

describe('the ground before and after the fastest motion', () => {
  test('the middle of five is the third of them in order', () => {
    fc.assert(
      fc.property(fc.tuple(...([0, 1, 2, 3, 4].map(() => fc.nat(5000)) as never[])), (five) => {
        const [a, b, c, d, e] = five as unknown as [number, number, number, number, number]
        expect(middleOfFive(a, b, c, d, e)).toBe([a, b, c, d, e].sort((x, y) => x - y)[2])
      }),
    )
  })

  test.each([
    [6, 'brighter than the mat by no more than twice the noise'],
    [-8, 'darker than the mat'],
    [60, 'bright'],
  ])('finds a ball %s grey levels from its ground (%s), and the frame it went in', (contrast) => {
    const [spot] = atBall(sweptSpots(filmed({ contrast }), 57))
    expect(spot).toBeDefined()
    expect(Math.abs(spot!.lastSeen - 59)).toBeLessThanOrEqual(1)
    expect(Math.sign(spot!.signs.polarity)).toBe(Math.sign(contrast))
    expect(spot!.signs.there).toBeGreaterThan(0.8)
    expect(spot!.signs.gone).toBeGreaterThan(0.8)
  })

  test('whoever walks over the place beforehand hides neither the ball nor the moment', () => {
    const [spot] = atBall(sweptSpots(filmed({ contrast: 40, passer: { from: 30, to: 48 } }), 58))
    expect(spot).toBeDefined()
    expect(Math.abs(spot!.lastSeen - 59)).toBeLessThanOrEqual(1)
  })

  test('a ball that stays is no spot that was there and is gone', () => {
    const spots = sweptSpots(filmed({ contrast: 40, lastSeen: 1000 }), 57)
    expect(atBall(spots)).toEqual([])
  })

  test('what goes in pieces at one moment has company, what goes alone has none', () => {
    const [one] = atBall(sweptSpots(filmed({ contrast: 60 }), 57))
    const piece = (x: number, y: number): SweptSpot => ({ ...one!, x, y })
    const pieces = [one!, piece(72, 62), piece(84, 54), piece(96, 46), { ...piece(20, 60), lastSeen: 30 }]
    expect(companyOf(one!, byFrame([one!]))).toBe(0)
    expect(companyOf(one!, byFrame(pieces))).toBe(3)
    const still = {
      atSeconds: new Float64Array(110),
      near: new Float32Array(110),
      far: new Float32Array(110),
    }
    still.near.fill(2, 40, 57)
    still.near.fill(5, 57, 63)
    const chanceAt = (swept: SweptSpot[]) =>
      seenBalls({ spots: [], swept, curve: still }).find((b) => b.x === one!.x)?.chance ?? 0
    expect(chanceAt([one!])).toBeGreaterThan(0.2)
    expect(chanceAt(pieces)).toBeLessThan(0.8 * chanceAt([one!]))
  })
})

test('what covers the place longer than any club does not move the strike', () => {
  const real = Float64Array.from({ length: 100 }, (_, i) => i / 30)
  const film = { real, frameSeconds: 1 / 30, soundSdSeconds: 0.01, inStep: 0.8 }
  const short = strikeFrame({ lastSeen: 50, goneBy: 52 }, [], film)
  const long = strikeFrame({ lastSeen: 50, goneBy: 56 }, [], film)
  expect(short.frame - 50).toBeLessThanOrEqual(1)
  expect(long.frame - 50).toBeLessThanOrEqual(1)
  expect(long.within).toBeGreaterThan(0.85)
})
