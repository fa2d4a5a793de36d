/** What the coach said of one swing: did it what was asked; null if nothing was said. */
export interface Said {
  didAsked: boolean | null
  /** A shot that was left out counts for nothing. */
  isLeftOut: boolean
}

/** How often a block's swings did what its focus asks. */
export interface AsAsked {
  /** The latest that did, one after the other; swings of which nothing was said neither count nor end the row. */
  inARow: number
  did: number
  said: number
}

/** @param swings of one block, in order */
export const asAsked = (swings: readonly Said[]): AsAsked => {
  const said = swings.flatMap((s) => (s.isLeftOut || s.didAsked === null ? [] : [s.didAsked]))
  const lastMiss = said.lastIndexOf(false)
  return { inARow: said.length - 1 - lastMiss, did: said.filter(Boolean).length, said: said.length }
}
