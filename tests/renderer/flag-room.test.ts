import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { flagRooms } from '../../renderer/desk/strip/flag-room.ts'

describe('the room of the Strip’s flags', () => {
  test('reaches to the next flag; the last hangs left at the edge', () => {
    expect(flagRooms([100, 300], 800).map((f) => f.roomPx)).toEqual([198, Infinity])
    expect(flagRooms([100, 780], 800)).toMatchObject([
      { isAtEnd: false, roomPx: 338 },
      { isAtEnd: true, roomPx: 338 },
    ])
  })

  test('too little for letters is said', () => {
    expect(flagRooms([100, 120, 400], 800).map((f) => f.isNarrow)).toEqual([true, false, false])
  })

  test('never lets one flag cover another, wherever they are', () => {
    const places = fc.uniqueArray(fc.integer({ min: 0, max: 1000 }), { maxLength: 9 })
    fc.assert(
      fc.property(places, (unordered) => {
        const xs = unordered.toSorted((a, b) => a - b)
        const spans = flagRooms(xs, 1000).map(({ isAtEnd, roomPx }, i) =>
          isAtEnd ? [xs[i]! - roomPx, xs[i]!] : [xs[i]!, xs[i]! + roomPx],
        )
        for (let i = 1; i < spans.length; i++) {
          // Neighbours one pixel apart have a room below nothing; that ends before the next begins, too.
          expect(spans[i - 1]![1]!).toBeLessThanOrEqual(spans[i]![0]! + 2)
        }
      }),
    )
  })
})
