import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { shifted } from '../../../shared-core/moments/camera-shift.ts'
import { FilmReader } from '../../../shared-core/moments/film-reader.ts'
import { shrinker } from '../../../shared-core/moments/shrink.ts'
import { minimalStandardGenerator } from '../../../shared-core/statistics/generator.ts'

const width = 320
const height = 180
const frameCount = 120

/** Grain, a camera that sways, and a bright spot that is gone from the middle of the film on. */
const paint = (pixels: Uint8Array, index: number, next: () => number) => {
  const sway = Math.round(2 * Math.sin(index / 9))
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const texture = 90 + 30 * Math.sin((x + sway) / 7) * Math.cos(y / 5)
      pixels[y * width + x] = texture + 4 * next()
    }
  }
  if (index >= frameCount / 2) return
  for (let y = 130; y < 136; y++) for (let x = 150; x < 156; x++) pixels[y * width + x + sway] = 230
}

const readingOf = (isBufferLent: boolean) => {
  const next = minimalStandardGenerator(7)
  const reader = new FilmReader()
  const lent = new Uint8Array(width * height)
  for (let index = 0; index < frameCount; index++) {
    const pixels = isBufferLent ? lent : new Uint8Array(width * height)
    paint(pixels, index, next)
    reader.push({ index, atSeconds: index / 240, pixels, width, height })
  }
  return reader.finish()
}

describe('a film is read', () => {
  test('alike whether each frame has memory of its own or all are written into the same', () => {
    const reading = readingOf(true)
    expect(reading.spots.map((spot) => spot.frame)).toContain(frameCount / 2 - 1)
    expect(reading).toEqual(readingOf(false))
  })
})

const picture = (area: number) => fc.uint8Array({ minLength: area, maxLength: area })

test('a picture made smaller holds the rounded means of what each pixel covers', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 2, max: 40 }),
      fc.integer({ min: 2, max: 40 }),
      fc.integer({ min: 4, max: 300 }),
      fc.integer({ min: 1, max: 1e6 }),
      (w, h, area, seed) => {
        const next = minimalStandardGenerator(seed)
        const pixels = Uint8Array.from({ length: w * h }, () => 255.99 * next())
        const small = shrinker({ width: w, height: h }, area)
        const edge = (i: number, count: number, whole: number) => Math.round((i * whole) / count)
        const expected = Array.from({ length: small.width * small.height }, (_, i) => {
          const x = i % small.width
          const y = (i - x) / small.width
          let sum = 0
          let count = 0
          for (let sy = edge(y, small.height, h); sy < edge(y + 1, small.height, h); sy++) {
            for (let sx = edge(x, small.width, w); sx < edge(x + 1, small.width, w); sx++) {
              sum += pixels[sy * w + sx]!
              count++
            }
          }
          return Math.floor(sum / count + 0.5)
        })
        expect([...small.shrink(pixels)]).toEqual(expected)
      },
    ),
    { numRuns: 60 },
  )
})

test('a picture moved by a shift takes each pixel from between its four, and repeats the edge', () => {
  const w = 13
  const h = 7
  const shifts = fc.double({ min: -18, max: 18, noNaN: true })
  fc.assert(
    fc.property(picture(w * h), shifts, shifts, (pixels, x, y) => {
      const at = (px: number, py: number) =>
        pixels[Math.max(0, Math.min(h - 1, py)) * w + Math.max(0, Math.min(w - 1, px))]!
      const [ix, iy] = [Math.floor(x), Math.floor(y)]
      const [u, v] = [x - ix, y - iy]
      const moved = shifted(pixels, w, h, { x, y })
      for (let py = 0; py < h; py++) {
        for (let px = 0; px < w; px++) {
          const top = (1 - u) * at(px + ix, py + iy) + u * at(px + ix + 1, py + iy)
          const bottom = (1 - u) * at(px + ix, py + iy + 1) + u * at(px + ix + 1, py + iy + 1)
          expect(Math.abs(moved[py * w + px]! - ((1 - v) * top + v * bottom))).toBeLessThanOrEqual(0.5 + 1e-9)
        }
      }
    }),
    { numRuns: 200 },
  )
})
