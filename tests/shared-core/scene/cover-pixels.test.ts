import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { coverPixels } from '../../../shared-core/scene/cover-pixels.ts'

const [width, height] = [60, 50]
const noise = fc.uint8Array({ minLength: width * height * 4, maxLength: width * height * 4 })
const area = (outline: 'box' | 'oval') => ({ x: 10, y: 10, width: 40, height: 30, outline })

describe('a covered area', () => {
  it('changes no pixel outside it, and no alpha', () => {
    fc.assert(
      fc.property(noise, fc.constantFrom('box' as const, 'oval' as const), (pixels, outline) => {
        const covered = pixels.slice()
        coverPixels(covered, width, height, [area(outline)])
        let changed = 0
        for (let i = 0; i < pixels.length; i++) {
          const [x, y] = [(i >> 2) % width, Math.floor((i >> 2) / width)]
          const isIn = x >= 10 && x < 50 && y >= 10 && y < 40 && i % 4 < 3
          if (covered[i] !== pixels[i]) changed += isIn ? 0 : 1
        }
        expect(changed).toBe(0)
      }),
      { numRuns: 20, endOnFailure: true },
    )
  })

  it('keeps nothing finer than the means of its cells: pixels moved about within a cell leave the same picture', () => {
    // 40 by 30 pixels in 5 rows of cells: cells of 6 pixels' height and about 5.7 pixels' width; each cell is reversed.
    fc.assert(
      fc.property(noise, (pixels) => {
        const shuffled = pixels.slice()
        const columns = Math.round(40 / 6)
        const cellOf = (x: number, y: number) =>
          Math.floor((y - 10) / 6) * columns + Math.floor((x - 10) / (40 / columns))
        const byCell = new Map<number, number[]>()
        for (let y = 10; y < 40; y++) {
          for (let x = 10; x < 50; x++) {
            const cell = cellOf(x, y)
            byCell.set(cell, [...(byCell.get(cell) ?? []), (y * width + x) * 4])
          }
        }
        for (const places of byCell.values()) {
          places.forEach((to, i) => {
            const from = places[places.length - 1 - i]!
            shuffled.set(pixels.subarray(from, from + 3), to)
          })
        }
        coverPixels(pixels, width, height, [area('box')])
        coverPixels(shuffled, width, height, [area('box')])
        expect(shuffled).toEqual(pixels)
      }),
      { numRuns: 20, endOnFailure: true },
    )
  })

  it('takes areas that hang out of the picture or are empty', () => {
    const pixels = new Uint8Array(width * height * 4).map((_, i) => (i * 37) % 251)
    const before = pixels.slice()
    coverPixels(pixels, width, height, [
      { x: 100, y: 100, width: 20, height: 20, outline: 'box' },
      { x: 5, y: 5, width: 0, height: 0, outline: 'oval' },
    ])
    expect(pixels).toEqual(before)
    coverPixels(pixels, width, height, [{ x: -20, y: -20, width: 500, height: 500, outline: 'box' }])
    expect(pixels).not.toEqual(before)
  })
})
