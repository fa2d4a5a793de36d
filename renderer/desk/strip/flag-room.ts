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

/**
 * Which of two rows each flag stands in (1 is the upper one), by their places from left to right: the lower while its name
 * fits before the flag that stands there, else the upper; where neither has room, the one that has more.
 */
export const flagRows = (flags: readonly { x: number; widthPx: number }[], widthPx: number): (0 | 1)[] => {
  const ends: [number, number] = [-Infinity, -Infinity]
  return flags.map(({ x, widthPx: own }) => {
    const start = x > widthPx - endPx ? x - own : x
    const row = start >= ends[0] ? 0 : start >= ends[1] ? 1 : ends[0] <= ends[1] ? 0 : 1
    ends[row] = Math.max(ends[row], start + own + 2)
    return row
  })
}

/** Rooms of the flags of both rows, in the order of the places. */
export const roomsInRows = (
  placesPx: readonly number[],
  rows: readonly (0 | 1)[],
  widthPx: number,
): FlagRoom[] => {
  const rooms = new Array<FlagRoom>(placesPx.length)
  for (const row of [0, 1]) {
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
