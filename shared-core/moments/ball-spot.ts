import type { MotionCurve } from './motion-curve.ts'
import type { SpotSigns, VanishedSpot } from './vanished-spots.ts'

/** A spot that vanished, with how likely it is the struck ball by what the picture alone shows. */
export type SeenBall = VanishedSpot & { chance: number }

const ln = (x: number, least: number) => Math.log(Math.max(least, x))

/**
 * What a spot's chance is made from. A ball at rest is 4.3 cm wide (the rules of golf: not less than 42.67 mm) and a person
 * about 40 times as tall, so that where a player fills the picture the ball is about 1.8 % of its height with its blur.
 */
export const spotFeatures = (s: SpotSigns, rank: number): number[] => [
  1,
  ln(s.clarity, 3),
  Math.min(1.2, s.standsOut),
  Math.min(0.6, s.surroundings),
  Math.min(1.2, s.appeared),
  s.alone,
  Math.min(2, s.uneven),
  Math.abs(ln(s.sizeShare / 0.018, 0.1)),
  s.there,
  s.gone,
  ln(s.lay, 2),
  Math.min(6, s.changing),
  Math.min(2.6, s.aspect),
  Math.max(0, 0.65 - s.low),
  // It goes while the picture changes fast; in films of the world the arms' peak comes before it, so no more than that.
  Math.min(0.45, rank),
]

/** Made by scripts/fit-moments.ts: logistic regression of "is the ball at impact" over the spots of its films. */
const weights = [
  -9.95, 0.55, -0.94, -0.13, -1.97, 3.89, -1.48, -1.91, 1.21, 1.65, 0.54, -0.39, -1.42, -2.37, 6.28,
]

const chanceOf = (features: number[]): number =>
  1 / (1 + Math.exp(-features.reduce((sum, x, i) => sum + x * (weights[i] ?? 0), 0)))

/** How fast the picture changes at each frame, against its fastest: 0 at rest, 1 at the peak of the film. */
export const motionRanks = (curve: MotionCurve): Float32Array => {
  const { near } = curve
  const count = near.length
  const soft = near.map((_, i) => {
    let sum = 0
    let n = 0
    for (let k = Math.max(0, i - 2); k <= Math.min(count - 1, i + 2); k++, n++) sum += near[k]!
    return sum / n
  })
  const sorted = soft.slice().sort()
  const rest = sorted[Math.floor(count * 0.1)] ?? 0
  const fastest = sorted[Math.floor(count * 0.985)] ?? 0
  return soft.map((_, i) => {
    let most = 0
    for (let k = Math.max(0, i - 1); k <= Math.min(count - 1, i + 2); k++) most = Math.max(most, soft[k]!)
    return fastest > rest ? Math.max(0, Math.min(1.2, (most - rest) / (fastest - rest))) : 0
  })
}

/** The spots worth weighing, likeliest first. */
export const seenBalls = (spots: readonly VanishedSpot[], curve: MotionCurve): SeenBall[] => {
  const ranks = motionRanks(curve)
  return spots
    .filter((s) => s.signs.there > 0.4 && s.signs.gone > 0.4)
    .map((s) => ({ ...s, chance: chanceOf(spotFeatures(s.signs, ranks[s.frame] ?? 0)) }))
    .filter((b) => b.chance > 0.02)
    .sort((a, b) => b.chance - a.chance)
}
