/**
 * Which frames to hold around the playhead, most wanted first: the playhead, then the way ahead in the direction of
 * travel, with some of the way behind in between so that turning round costs nothing.
 * Frames that lean on the same key picture come together, in the order they are decoded: to come back for one would be
 * to decode the others again.
 * @param capacity how many frames fit in memory
 * @param keyOfFrame the key picture each frame leans on; without it each frame is decoded on its own
 */
export const windowPlan = (
  playhead: number,
  direction: 1 | -1,
  frameCount: number,
  capacity: number,
  keyOfFrame: ArrayLike<number> | null = null,
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
  return { first, last, order: inOrder(playhead, direction, first, last, keyOfFrame) }
}

function* inOrder(
  playhead: number,
  direction: 1 | -1,
  first: number,
  last: number,
  keyOfFrame: ArrayLike<number> | null,
): Generator<number> {
  const isSameGroup = (a: number, b: number) => keyOfFrame !== null && keyOfFrame[a] === keyOfFrame[b]
  const firstOf = (frame: number) => {
    let at = frame
    while (at > first && isSameGroup(at - 1, at)) at -= 1
    return at
  }
  const lastOf = (frame: number) => {
    let at = frame
    while (at < last && isSameGroup(at + 1, at)) at += 1
    return at
  }
  yield playhead
  let low = firstOf(playhead)
  let high = lastOf(playhead)
  for (let frame = low; frame <= high; frame++) if (frame !== playhead) yield frame
  /** The next group on one side, in the order in which it is decoded. */
  function* above() {
    if (high >= last) return
    const from = high + 1
    high = lastOf(from)
    for (let frame = from; frame <= high; frame++) yield frame
  }
  function* below() {
    if (low <= first) return
    const to = low - 1
    low = firstOf(to)
    for (let frame = low; frame <= to; frame++) yield frame
  }
  while (low > first || high < last) {
    for (let i = 0; i < 4; i++) yield* direction === 1 ? above() : below()
    yield* direction === 1 ? below() : above()
  }
}
