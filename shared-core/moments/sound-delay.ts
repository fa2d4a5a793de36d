import { standardNormalCdf } from '../statistics/distributions.ts'
import { frameAtOrBefore } from './frame-at.ts'
import type { MomentSource } from './moment.ts'
import { strikeFrame } from './strike-frame.ts'

/** A strike as a film shows it, real seconds of the film's own clock: between which instants the ball left, and what was heard near it. */
export type SeenStrike = {
  fromSeconds: number
  toSeconds: number
  /** When each sharp sound was heard, nothing taken off, and its share of what was heard, 0 to 1. */
  sounds: readonly { heardAtSeconds: number; weight: number }[]
}

/** What is kept of a struck swing of a film: the frame told, the frames between which its ball left, and what was heard near it, real seconds. */
export type KnownStrike = {
  impact: number
  ball: { lastSeen: number; goneBy: number } | null
  sounds: { heardAtSeconds: number; weight: number }[]
}

/** By how much the sound of one camera comes after its picture: the way to the microphone, and how late its track runs. */
export type SoundDelay = {
  delaySeconds: number
  /** Standard deviation of it. */
  sdSeconds: number
  /** Strikes that it rests on. */
  strikes: number
}

/** Delays that are looked for, real seconds: 60 m of air are 0.175, and tracks run up to half a second late (from memory). */
export const delayRange = { from: -0.1, to: 0.65 }
const stepSeconds = 0.001
/** A strike's onset is told to within this, and the way to the microphone differs so much from ball to ball (1 m). */
export const onsetSdSeconds = 0.003
/** How often the ball, or the sound of its strike, is not among what was found. */
const strayShare = 0.35
/** With fewer strikes that agree, a screen's or a neighbour's sound may look as steady. */
const minStrikes = 3
/** And the delay must be told apart from any other by this much. */
const minMass = 0.95
/** What all films of a camera share and no number of strikes takes away: where in its frame a picture was taken. */
const sharedSdSeconds = 0.001

/** A ball that hits a screen or a net is heard again within this; what comes first is the strike. */
const echoSeconds = 0.35

/**
 * By how much the sound comes later than the picture, from strikes that were both seen and heard: the delay that most of them agree on.
 * Null where too few do, or two delays are as good. Each strike allows every delay that puts one of its sounds between the frames
 * in which the ball left (a mixture with strays; mean and standard deviation of the likelihood's best peak).
 */
export const soundDelayOf = (strikes: readonly SeenStrike[]): SoundDelay | null => {
  const heard = strikes.filter((s) => s.sounds.length > 0)
  if (heard.length < minStrikes) return null
  const count = Math.round((delayRange.to - delayRange.from) / stepSeconds) + 1
  const delays = Array.from({ length: count }, (_, i) => delayRange.from + i * stepSeconds)
  const flat = 1 / (delayRange.to - delayRange.from)
  const likely = heard.map((strike) => {
    const weighed = strike.sounds.map((sound) => {
      const isEcho = strike.sounds.some((first) => {
        const lead = sound.heardAtSeconds - first.heardAtSeconds
        return lead > 0.02 && lead < echoSeconds && first.weight > 0.25 * sound.weight
      })
      return { ...sound, weight: sound.weight * (isEcho ? 0.3 : 1) }
    })
    const sum = weighed.reduce((total, s) => total + s.weight, 0) || 1
    const width = Math.max(1e-3, strike.toSeconds - strike.fromSeconds)
    return delays.map((delay) =>
      weighed.reduce((total, s) => {
        const made = s.heardAtSeconds - delay
        const share =
          standardNormalCdf((made - strike.fromSeconds) / onsetSdSeconds) -
          standardNormalCdf((made - strike.fromSeconds - width) / onsetSdSeconds)
        return total + ((s.weight / sum) * share) / width
      }, 0),
    )
  })
  const logs = delays.map((_, i) =>
    likely.reduce((sum, one) => sum + Math.log(strayShare * flat + (1 - strayShare) * one[i]!), 0),
  )
  const most = Math.max(...logs)
  const masses = logs.map((l) => Math.exp(l - most))
  const total = masses.reduce((a, b) => a + b, 0)
  const peak = logs.indexOf(most)
  // The peak's own hill: as far as the mass falls to both sides.
  let [low, high] = [peak, peak]
  while (low > 0 && masses[low - 1]! > 1e-4) low--
  while (high < count - 1 && masses[high + 1]! > 1e-4) high++
  const hill = masses.slice(low, high + 1)
  const hillMass = hill.reduce((a, b) => a + b, 0)
  if (hillMass < minMass * total) return null
  const mean = hill.reduce((sum, m, i) => sum + (m / hillMass) * delays[low + i]!, 0)
  const variance = hill.reduce((sum, m, i) => sum + (m / hillMass) * (delays[low + i]! - mean) ** 2, 0)
  const at = Math.round((mean - delayRange.from) / stepSeconds)
  const agreeing = likely.filter((one) => (1 - strayShare) * one[at]! > strayShare * flat).length
  if (agreeing < minStrikes || agreeing < 0.5 * heard.length) return null
  return {
    delaySeconds: mean,
    sdSeconds: Math.hypot(Math.sqrt(variance), sharedSdSeconds),
    strikes: agreeing,
  }
}

/** The strikes of a film that were seen, for {@link soundDelayOf}. @param real Real seconds of its frames. */
export const seenStrikes = (strikes: readonly KnownStrike[], real: ArrayLike<number>): SeenStrike[] =>
  strikes.flatMap(({ ball, sounds }) => {
    if (!ball || ball.goneBy >= real.length) return []
    return [{ fromSeconds: real[ball.lastSeen]!, toSeconds: real[ball.goneBy]!, sounds }]
  })

/**
 * The frame of a strike anew, once the delay of its sound is known: the ball's own frames with the sound in them, or the sound alone. `soundWas`
 * is the delay that the frame now told rests on.
 */
export const frameByDelay = (
  strike: KnownStrike,
  how: MomentSource,
  film: { real: Float64Array; frameSeconds: number },
  delay: SoundDelay,
  soundWas: number,
): number => {
  const { real, frameSeconds } = film
  const soundSdSeconds = Math.hypot(delay.sdSeconds, onsetSdSeconds)
  if (how !== 'sound' && strike.ball) {
    const heard = strike.sounds.map((s) => ({
      atSeconds: s.heardAtSeconds - delay.delaySeconds,
      chance: s.weight,
    }))
    const near = heard.filter(
      (h) =>
        h.atSeconds > real[strike.ball!.lastSeen]! - 0.03 &&
        h.atSeconds < real[Math.min(real.length - 1, strike.ball!.goneBy)]! + 0.03,
    )
    const sum = Math.max(
      1,
      near.reduce((total, h) => total + h.chance, 0),
    )
    const told = near.map((h) => ({ ...h, chance: (0.98 * h.chance) / sum }))
    return strikeFrame(strike.ball, told, { real, frameSeconds, soundSdSeconds, inStep: 0.95 }).frame
  }
  if (how === 'motion') return strike.impact
  const was = real[strike.impact]! + frameSeconds / 2
  const mine = strike.sounds.reduce<KnownStrike['sounds'][number] | null>(
    (best, s) =>
      !best || Math.abs(s.heardAtSeconds - soundWas - was) < Math.abs(best.heardAtSeconds - soundWas - was)
        ? s
        : best,
    null,
  )
  if (!mine || Math.abs(mine.heardAtSeconds - soundWas - was) > 0.05 + frameSeconds) return strike.impact
  return frameAtOrBefore(real, mine.heardAtSeconds - delay.delaySeconds)
}
