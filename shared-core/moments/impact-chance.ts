/** ln(p/(1 − p)); p is kept within 0.001 and 0.999. */
export const logit = (p: number): number =>
  Math.log(Math.min(1 - 1e-3, Math.max(1e-3, p)) / (1 - Math.min(1 - 1e-3, Math.max(1e-3, p))))
const sigmoid = (x: number): number => 1 / (1 + Math.exp(-x))

/** How much the motion round an instant is that of a swing struck there; the same for every kind of evidence. */
export type SwingEvidence = {
  /** Distance from the fastest part of the swing, in usual distances; at most 4. */
  away: number
  /** How clearly the motion is a swing's, 0 to 1. */
  clearness: number
  /** How well takeaway, top and this instant fit a swing's shape: log likelihood, 0 best, −8 where there are none before it. */
  shape: number
  /** 0 to 1: how much the motion has calmed down in the film after it. */
  swung: number
}

/** What speaks for an instant as the impact, by itself: rivals are weighed afterwards ({@link weighed}). */
export type ImpactEvidence = SwingEvidence &
  (
    | {
        /** A ball was seen to go. */
        by: 'sight'
        /** How likely the spot is the ball, and how much likelier than the next; logits. */
        ball: number
        lead: number
        /** 0 to 1: how much a sound agrees. */
        heard: number
        /** 0 to 1: how much a ball still lies there at the end. */
        lies: number
      }
    /** Only a strike was heard. `inStep`: how likely such a sound shows the very frame ({@link soundInStep}). */
    | { by: 'sound'; heard: number; lies: number; inStep: number }
    /** Only a whole swing was seen. */
    | { by: 'motion'; lies: number }
  )

/** The evidence for one strike as the terms that the fitted weights multiply, the constant first. */
export const evidenceTerms = (e: ImpactEvidence): number[] => {
  const swing = [e.away, e.clearness, Math.max(-4, e.shape / 2), e.swung, e.lies]
  if (e.by === 'sight') return [1, ...swing, e.ball, Math.min(3, e.lead), e.heard]
  if (e.by === 'sound') return [1, ...swing, logit(e.heard)]
  return [1, ...swing]
}

/** Made by scripts/fit-moments.ts, which says from which films. */
const weights: Record<ImpactEvidence['by'], readonly number[]> = {
  sight: [1.11, -0.52, 0.02, 0.79, -0.51, -0.14, 0.56, 0.37, 4.15],
  sound: [2.09, -0.5, 0.29, 0.69, 0.95, -1.24, 0.77],
  motion: [-2.47, 0.0, 1.41, 1.11, 1.25, 0.13],
}

/** No program knows better than this, however much speaks for it: what it was fitted on was drawn, not filmed. */
const surest = 0.98

const erf = (x: number): number => {
  // Abramowitz and Stegun 7.1.26, good to 1.5e-7.
  const t = 1 / (1 + 0.3275911 * Math.abs(x))
  const y = ((((1.061405429 * t - 1.453152027) * t + 1.421413741) * t - 0.284496736) * t + 0.254829592) * t
  return Math.sign(x) * (1 - y * Math.exp(-x * x))
}

/** Standard deviation of a strike's sound against the picture: three metres more or less to the microphone, and the file's own. */
const soundSdSeconds = 0.01
/** How often a film's sound runs in step with its picture at all (from memory; copies through the web often do not). */
const inStepShare = 0.8

/**
 * How likely the frame that a strike's sound points to is the right one: sound travels 3 ms a metre, and a track may run late. Slowed
 * films of unknown rate have been through a program that may have moved their sound.
 */
export const soundInStep = (frameSeconds: number, isRateKnown: boolean): number => {
  const framesAllowed = frameSeconds < 0.0051 ? 2.25 : 1.25
  const within = erf((framesAllowed * frameSeconds) / soundSdSeconds / Math.SQRT2)
  return inStepShare * within * (isRateKnown ? 1 : 0.5)
}

/** 0 to 1: how likely the instant is within a frame of the impact, if nothing else spoke for another. */
export const chanceOf = (e: ImpactEvidence): number => {
  const w = weights[e.by]
  const chance = sigmoid(evidenceTerms(e).reduce((sum, term, i) => sum + term * w[i]!, 0))
  return Math.min(surest, e.by === 'sound' ? chance * e.inStep : chance)
}

/** Chances of claims of which at most one is true, from what each would have by itself (Bayes, evidence taken as independent). */
export const weighed = (chances: readonly number[]): number[] => {
  const none = chances.reduce((product, p) => product * (1 - p), 1)
  const odds = chances.map((p) => (none * p) / (1 - p))
  const sum = none + odds.reduce((a, b) => a + b, 0)
  return odds.map((o) => o / sum)
}
