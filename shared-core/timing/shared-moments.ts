import { frameNearest, realSecondsBetween, type ClipTimes } from './clip-clock.ts'

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
 * there, by the frames' true times; stretched, everything between two shared moments is stretched so that they
 * coincide, and outside of them both run at real speed.
 */
export const frameFor = (
  frame: number,
  options: {
    anchors: readonly Anchor[]
    lockedOn: string
    isStretched: boolean
    first: ClipTimes
    second: ClipTimes
    /** Where both begin if no moment is shared. */
    starts: { first: number; second: number }
  },
): number => {
  const { anchors, lockedOn, isStretched, first, second, starts } = options
  const fromAnchor = (a: { first: number; second: number }) =>
    frameNearest(second, a.second, realSecondsBetween(first, a.first, frame))
  if (!isStretched || anchors.length < 2) {
    return fromAnchor(anchors.find((a) => a.name === lockedOn) ?? anchors[0] ?? starts)
  }
  const firstAnchor = anchors[0]!
  const lastAnchor = anchors.at(-1)!
  if (frame <= firstAnchor.first) return fromAnchor(firstAnchor)
  if (frame >= lastAnchor.first) return fromAnchor(lastAnchor)
  const right = anchors.findIndex((a) => a.first > frame)
  const a = anchors[right - 1]!
  const b = anchors[right]!
  const share = realSecondsBetween(first, a.first, frame) / realSecondsBetween(first, a.first, b.first)
  return frameNearest(second, a.second, share * realSecondsBetween(second, a.second, b.second))
}
