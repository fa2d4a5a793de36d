/** Nearer to the right edge than this, a flag hangs to the left of its place. */
const endPx = 70
/** Less than this holds no letters worth reading: the flag is a plain tab until it is pointed at. */
const narrowPx = 32

export interface FlagRoom {
  isAtEnd: boolean
  /** How wide the flag may be before it covers its neighbour. */
  roomPx: number
  isNarrow: boolean
}

/** The room of each flag; their places from left to right. Two that hang towards each other share what is between them. */
export const flagRooms = (placesPx: readonly number[], widthPx: number): FlagRoom[] => {
  const hangsLeft = placesPx.map((x) => x > widthPx - endPx)
  return placesPx.map((x, i) => {
    const isAtEnd = hangsLeft[i]!
    const neighbour = placesPx[isAtEnd ? i - 1 : i + 1]
    let roomPx = isAtEnd ? x : Infinity
    if (neighbour !== undefined) {
      const between = Math.abs(neighbour - x)
      const isShared = hangsLeft[isAtEnd ? i - 1 : i + 1] !== isAtEnd
      roomPx = (isShared ? between / 2 : between) - 2
    }
    return { isAtEnd, roomPx, isNarrow: roomPx < narrowPx }
  })
}

/** About how wide a flag with this much in it is: 12 px letters, its edges. */
export const flagWidthPx = (name: string): number => Math.ceil(name.length * 6.4 + 16)

/** Brace, impact and release stand closest, and are three. */
const maxRows = 3

/**
 * Which row each flag stands in (0 is the lowest), by their places from left to right: the lowest in which its name fits
 * before the flag that stands there; where none has room, the one that has most.
 */
export const flagRows = (flags: readonly { x: number; widthPx: number }[], widthPx: number): number[] => {
  const ends = new Array<number>(maxRows).fill(-Infinity)
  return flags.map(({ x, widthPx: own }) => {
    const start = x > widthPx - endPx ? x - own : x
    const free = ends.findIndex((end) => start >= end)
    const row = free >= 0 ? free : ends.indexOf(Math.min(...ends))
    ends[row] = Math.max(ends[row]!, start + own + 2)
    return row
  })
}

/** Rooms of the flags of all rows, in the order of the places. */
export const roomsInRows = (
  placesPx: readonly number[],
  rows: readonly number[],
  widthPx: number,
): FlagRoom[] => {
  const rooms = new Array<FlagRoom>(placesPx.length)
  for (const row of new Set(rows)) {
    const own = placesPx.flatMap((_, i) => (rows[i] === row ? [i] : []))
    const found = flagRooms(
      own.map((i) => placesPx[i]!),
      widthPx,
    )
    own.forEach((i, at) => {
      rooms[i] = found[at]!
    })
  }
  return rooms
}
