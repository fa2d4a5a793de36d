/**
 * Which frames to hold around the playhead, most wanted first: the playhead, then the way ahead in the direction of
 * travel, with some of the way behind in between so that turning round costs nothing.
 * @param capacity how many frames fit in memory
 */
export const windowPlan = (
  playhead: number,
  direction: 1 | -1,
  frameCount: number,
  capacity: number,
): { first: number; last: number; order: Iterable<number> } => {
  const room = Math.max(1, Math.min(capacity, frameCount))
  const behindShare = Math.floor((room - 1) / 4)
  const aheadShare = room - 1 - behindShare
  let below = direction === 1 ? behindShare : aheadShare
  let above = direction === 1 ? aheadShare : behindShare
  // What sticks out at one end of the clip is of use at the other.
  const overBelow = Math.max(0, below - playhead)
  const overAbove = Math.max(0, playhead + above - (frameCount - 1))
  below = Math.min(playhead, below + overAbove)
  above = Math.min(frameCount - 1 - playhead, above + overBelow)
  const first = playhead - below
  const last = playhead + above
  return { first, last, order: inOrder(playhead, direction, first, last) }
}

function* inOrder(playhead: number, direction: 1 | -1, first: number, last: number): Generator<number> {
  yield playhead
  let ahead = 1
  let behind = 1
  const inside = (frame: number) => frame >= first && frame <= last
  while (true) {
    let any = false
    for (let i = 0; i < 4; i++, ahead++) {
      const frame = playhead + ahead * direction
      if (!inside(frame)) break
      any = true
      yield frame
    }
    const frame = playhead - behind * direction
    if (inside(frame)) {
      any = true
      behind += 1
      yield frame
    }
    if (!any) return
  }
}
