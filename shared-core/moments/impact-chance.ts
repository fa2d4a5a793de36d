export const logit = (p: number): number => Math.log(Math.max(1e-3, p) / Math.max(1e-3, 1 - p))
const sigmoid = (x: number): number => 1 / (1 + Math.exp(-x))

/** What speaks for an instant as the impact. */
export type ImpactEvidence =
  /** A ball was seen to go. */
  | {
      by: 'sight'
      /** How likely the spot is the ball, and how much likelier than the next; logits. */
      ball: number
      lead: number
      /** 0 to 1: how much a sound agrees, and how much another sound of the same swing speaks against it. */
      heard: number
      heardElsewhere: number
      /** Distance from the fastest part of the swing, in usual distances; at most 4. */
      away: number
      /** How clearly the motion is a swing's, 0 to 1. */
      clearness: number
    }
  /** Only a strike was heard; `ballElsewhere` is the likeliest ball that went at another instant, a logit. */
  | { by: 'sound'; heard: number; ballElsewhere: number; away: number; clearness: number }
  /** Only a whole swing was seen. */
  | { by: 'motion'; clearness: number }

export const evidenceTerms = (e: ImpactEvidence): number[] => {
  if (e.by === 'sight') {
    return [1, e.ball, Math.min(3, e.lead), e.heard, e.heardElsewhere, e.away, e.clearness]
  }
  if (e.by === 'sound') return [1, logit(e.heard), e.ballElsewhere, e.away, e.clearness]
  return [1, e.clearness]
}

/**
 * Weights by logistic regression of "within one frame of the truth (two from 200 frames/s)" over the made films of the tuning
 * seeds, each also with its ball unseen (`npm run worlds -- moments` prints what comes of it on other seeds).
 */
const weights: Record<ImpactEvidence['by'], readonly number[]> = {
  sight: [-2.22, 0.52, 0.62, 5, -0.69, -0.4, 1.48],
  sound: [-1.7, 0.86, -0.4, -0.65, 2.79],
  motion: [-7.08, 5.84],
}

/** No program knows better than this, however much speaks for it: what it was fitted on was drawn, not filmed. */
const surest = 0.98

/** 0 to 1: how likely the instant is within a frame of the impact. */
export const chanceOf = (e: ImpactEvidence): number => {
  const w = weights[e.by]
  return Math.min(surest, sigmoid(evidenceTerms(e).reduce((sum, term, i) => sum + term * w[i]!, 0)))
}
