/** Where an answer comes from: the sound track, the picture, or both agreeing. */
export type MomentSource = 'sound' | 'motion' | 'sound+motion'

/** The moments the program itself can find; brace and release are the coach's to mark. */
export type FoundMomentName = 'setup' | 'takeaway' | 'top' | 'impact' | 'finish'

/** A moment as the tool proposes it. */
export type FoundMoment = {
  name: FoundMomentName
  /** Index in presentation order, 0-based. For impact: the last frame shown before the ball moves, ± half a frame. */
  frame: number
  /** The frame's own timestamp in the file, seconds. */
  atSeconds: number
  /** 0 to 1; below 0.5 means "look at it yourself". */
  confidence: number
  how: MomentSource
}

/** One swing of a clip, its first and last frame included. */
export type FoundSwing = {
  fromFrame: number
  toFrame: number
  moments: FoundMoment[]
  /** The last frame in which the struck ball was surely seen, and the first in which it was surely gone; null where none was seen to go. */
  ball: { lastSeen: number; goneBy: number } | null
}
