import { describe, expect, test } from 'vitest'
import { patchMotion, readyFor, type GreySquare } from '../../../shared-core/body/picture-motion.ts'

const side = 128

/** A pattern without a direction, so many pixels along. */
const pattern = (x: number, y: number) =>
  128 + 40 * Math.sin(0.31 * x + 0.12 * y) + 35 * Math.sin(0.23 * y - 0.17 * x + 1) + 20 * Math.sin(0.5 * y)

const picture = (grey: (x: number, y: number) => number): GreySquare => ({
  side,
  pixels: Uint8Array.from({ length: side * side }, (_, i) =>
    Math.round(grey(i % side, Math.floor(i / side))),
  ),
})

const moved = (dx: number, dy: number) => readyFor(picture((x, y) => pattern(x - dx, y - dy)))

describe('how a disc of a picture moves', () => {
  test.each([
    [0.37, -0.8],
    [-4.2, 2.6],
    [0, 0],
  ])('by %f, %f pixels, to a twentieth', (dx, dy) => {
    const found = patchMotion(moved(0, 0), moved(dx, dy), { x: 61.4, y: 66.2 }, 22)!
    expect(Math.hypot(found.x - dx, found.y - dy)).toBeLessThan(0.05)
    expect(Math.hypot(found.sdX, found.sdY)).toBeLessThan(0.1)
  })

  test('what stands still round a small thing makes its way shorter, never turns it round', () => {
    const withThing = (dx: number) =>
      readyFor(
        picture(
          (x, y) =>
            100 +
            10 * Math.sin(0.3 * x + 0.2 * y) +
            110 * Math.exp(-(((x - 60 - dx) / 7) ** 2) - ((y - 64) / 7) ** 2),
        ),
      )
    const found = patchMotion(withThing(0), withThing(2), { x: 62, y: 64 }, 24)!
    expect(found.x).toBeGreaterThan(0.3)
    expect(found.x).toBeLessThan(2)
    expect(Math.abs(found.y)).toBeLessThan(0.3)
  })

  test('a plain picture tells no way', () => {
    const plain = readyFor(picture(() => 90))
    expect(patchMotion(plain, plain, { x: 60, y: 60 }, 20)).toBeNull()
  })
})
