/** Pairs of frames that show the same moment in two clips, in order. */
export interface Anchor {
  readonly name: string
  readonly first: number
  readonly second: number
}

interface MomentFrame {
  readonly name: string
  readonly frame: number
}

/** Moments both views have, in the order of the first; those that would run backwards in the second are left out. */
export const sharedMoments = (first: readonly MomentFrame[], second: readonly MomentFrame[]): Anchor[] => {
  const inSecond = new Map(second.map((m) => [m.name, m.frame]))
  const shared = first
    .flatMap((m) => {
      const frame = inSecond.get(m.name)
      return frame === undefined ? [] : [{ name: m.name, first: m.frame, second: frame }]
    })
    .sort((a, b) => a.first - b.first)
  const rising: Anchor[] = []
  for (const anchor of shared) {
    const last = rising.at(-1)
    if (!last || (anchor.first > last.first && anchor.second > last.second)) rising.push(anchor)
  }
  return rising
}

/**
 * The frame of the second clip that belongs to a frame of the first. Locked on one moment, both run at real speed from
 * there; stretched, everything between two shared moments is stretched so that they coincide, and outside of
 * them both run at real speed.
 */
export const frameFor = (
  frame: number,
  options: {
    anchors: readonly Anchor[]
    lockedOn: string
    isStretched: boolean
    /** Frames of the second clip for one frame of the first, at real speed. */
    framesPerFrame: number
    /** Where both begin if no moment is shared. */
    starts: { first: number; second: number }
  },
): number => {
  const { anchors, lockedOn, isStretched, framesPerFrame, starts } = options
  const locked = anchors.find((a) => a.name === lockedOn) ?? anchors[0] ?? starts
  const fromAnchor = (a: { first: number; second: number }) => a.second + (frame - a.first) * framesPerFrame
  if (!isStretched || anchors.length < 2) return Math.round(fromAnchor(locked))
  const firstAnchor = anchors[0]!
  const lastAnchor = anchors.at(-1)!
  if (frame <= firstAnchor.first) return Math.round(fromAnchor(firstAnchor))
  if (frame >= lastAnchor.first) return Math.round(fromAnchor(lastAnchor))
  const right = anchors.findIndex((a) => a.first > frame)
  const a = anchors[right - 1]!
  const b = anchors[right]!
  return Math.round(a.second + ((frame - a.first) / (b.first - a.first)) * (b.second - a.second))
}
