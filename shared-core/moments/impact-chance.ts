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
        /** How likely the frame told is right if that is the ball (`strikeFrame`). */
        within: number
        /** Odds of a strike by what the film's sound does not hold ({@link silenceOdds}); 1 where a strike's sound agrees, or there is no sound. */
        silence: number
      }
    /** Only a strike was heard. `inStep`: how likely such a sound shows the very frame (`soundInStep`). */
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
  sight: [0.82, -0.6, 0.64, 0.97, -0.29, 0.28, 0.43, 0.3, 4.77],
  sound: [2.31, -0.53, 0.2, 0.75, 0.86, -0.96, 0.72],
  motion: [-2.41, 0.0, 1.39, 1.1, 1.21, 0.13],
}

/** A film shows this much of a swing's dying away or more, or nothing says that it was struck. */
const minSwung = 0.4

/** No program knows better than this, however much speaks for it: what it was fitted on was drawn, not filmed. */
const surest = 0.98

/**
 * A struck ball is heard: of 231 in made films of the tuning seeds with sound 7 had no sharp sound where they left, all but one of those a
 * late one. Wind, music laid over, and tracks that run out of step make it more often in the world (from memory: one in ten, and one in
 * four with a late sound), against three in four and one in two of the swings that meet nothing.
 */
export const silenceOdds = { nothing: 0.1 / 0.75, later: 0.25 / 0.5 } as const

/** A ball that surely still lies there was not struck; about every second of such films shows another ball than the struck one. */
const surelyLies = 0.9
const otherBall = 0.5

/** How often the motion alone puts a strike on its frame (made films of the tuning seeds: 110 of 551). */
const byMotionAlone = 0.2

/** From so much on a chance is said as it is. */
const clearly = 0.62
const carefulShare = 0.75

/** A chance as it is told: what is only just likelier than not is said below a half: the coach is to look, and a wrong mark costs more than none. */
export const toldCarefully = (chance: number): number => (chance < clearly ? carefulShare * chance : chance)

/** What was told as the chance that it was before. */
export const beforeCare = (told: number): number =>
  told < carefulShare * clearly ? told / carefulShare : told

/** 0 to 1: how likely the instant is within a frame of the impact, if nothing else spoke for another. */
export const chanceOf = (e: ImpactEvidence): number => {
  const w = weights[e.by]
  const chance = sigmoid(evidenceTerms(e).reduce((sum, term, i) => sum + term * w[i]!, 0))
  if (e.by === 'sight') {
    // Unheard, a spot says no more than that it is the ball, or else what the motion says by itself.
    const ball = sigmoid(e.ball)
    const most = e.heard > 0 ? surest : ball + (1 - ball) * byMotionAlone
    const own = Math.min(most, chance)
    const odds = e.silence * (own / (1 - own))
    return Math.min(surest, (odds / (1 + odds)) * e.within)
  }
  // Where no ball was seen to go, what came before the swing was through is no strike: the film may end before it.
  const through = Math.min(1, e.swung / minSwung)
  const own = e.lies > surelyLies ? otherBall : 1
  return Math.min(surest, chance * through * own * (e.by === 'sound' ? e.inStep : 1))
}

/** Chances of claims of which at most one is true, from what each would have by itself (Bayes, evidence taken as independent). */
export const weighed = (chances: readonly number[]): number[] => {
  const none = chances.reduce((product, p) => product * (1 - p), 1)
  const odds = chances.map((p) => (none * p) / (1 - p))
  const sum = none + odds.reduce((a, b) => a + b, 0)
  return odds.map((o) => o / sum)
}
