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
