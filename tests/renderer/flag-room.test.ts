import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { flagRooms, flagRows, flagWidthPx, roomsInRows } from '../../renderer/desk/strip/flag-room.ts'

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

  test('a name that does not fit before the next goes to the row above, and is whole there', () => {
    const names = ['Setup', 'Takeaway', 'Top', 'Impact']
    // As the first swing of the demo lesson stands in a window of 1024 px.
    const places = [70, 90, 190, 240]
    const flags = names.map((name, i) => ({ x: places[i]!, widthPx: flagWidthPx(name) }))
    const rows = flagRows(flags, 480)
    expect(rows).toEqual([0, 1, 0, 0])
    expect(roomsInRows(places, rows, 480).every((r, i) => r.roomPx >= flags[i]!.widthPx)).toBe(true)
  })

  test('brace, impact and release are whole, each in a row of its own where they stand closest', () => {
    const names = ['Brace', 'Impact', 'Release']
    // As the demo lesson's second swing stands in a window of 1024 px once its body was read.
    const places = [308, 315, 331]
    const flags = names.map((name, i) => ({ x: places[i]!, widthPx: flagWidthPx(name) }))
    const rows = flagRows(flags, 498)
    expect(new Set(rows).size).toBe(3)
    expect(roomsInRows(places, rows, 498).every((r, i) => r.roomPx >= flags[i]!.widthPx)).toBe(true)
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
