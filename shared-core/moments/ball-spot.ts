import type { MotionCurve } from './motion-curve.ts'
import type { SweptSigns, SweptSpot } from './swept-ground.ts'
import { leftAt } from './vanished-spots.ts'
import type { SpotSigns, VanishedSpot } from './vanished-spots.ts'

/** A spot that vanished, with how likely it is the struck ball by what the picture alone shows. */
export type SeenBall = Omit<VanishedSpot, 'signs'> & { chance: number }

const ln = (x: number, least: number) => Math.log(Math.max(least, x))

/**
 * What a spot's chance is made from. A ball at rest is 4.3 cm wide (the rules of golf: not less than 42.67 mm) and a person
 * about 40 times as tall, so that where a player fills the picture the ball is about 1.8 % of its height with its blur.
 */
export const spotFeatures = (s: SpotSigns, { rank, stirred }: MotionThere): number[] => [
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
  Math.min(0.2, stirred),
]

/** Made by scripts/fit-moments.ts: logistic regression of "is the ball at impact" over the spots of its films. */
const weights = [
  -10.43, 0.58, -0.93, -0.11, -1.97, 3.89, -1.49, -1.78, 1.27, 1.64, 0.51, -0.39, -1.41, -2.37, 5.85, 2.94,
]

/** The same for what lay before a burst of motion and not after it, be it darker than the ground. */
export const sweptFeatures = (s: SweptSigns, { rank, stirred }: MotionThere, company: number): number[] => [
  1,
  Math.min(60, s.clarity) / 20,
  Math.max(-1.2, Math.min(1.2, s.standsOut)),
  s.polarity,
  s.surroundings,
  Math.min(1.2, s.appeared),
  s.alone,
  Math.min(2, s.uneven),
  s.there,
  s.gone,
  ln(s.lay, 2),
  Math.min(8, s.changing),
  Math.min(1.1, s.jump),
  Math.min(1.5, s.restless),
  Math.abs(ln(s.sizeShare / 0.018, 0.1)),
  Math.min(2.6, s.aspect),
  s.filled,
  Math.log(s.area + 1),
  Math.max(0, 0.65 - s.low),
  Math.min(0.45, rank),
  Math.min(0.2, stirred),
  Math.min(4, company),
]

/**
 * How many other things went in the same moment as a spot: a ball is struck away alone, but where the club is lifted from the ground it
 * goes in pieces, and where the light changes or somebody steps in, much goes at once.
 */
export const companyOf = (spot: SweptSpot, wentAt: (frame: number) => readonly SweptSpot[]): number => {
  const isApart = (a: SweptSpot, b: SweptSpot) =>
    Math.hypot(a.x - b.x, a.y - b.y) > 1.2 * Math.max(a.sizePx, b.sizePx) + 2
  const others: SweptSpot[] = []
  for (const other of [-1, 0, 1].flatMap((k) => wentAt(spot.lastSeen + k))) {
    const { signs } = other
    if (signs.clarity < 0.3 * spot.signs.clarity) continue
    if (signs.there < 0.7 || signs.gone < 0.7 || signs.jump < 0.5 || !isApart(other, spot)) continue
    if (others.every((o) => isApart(o, other))) others.push(other)
  }
  return others.length
}

/** Made likewise, and set right for the likeliest of the spots that are the same one seen several times over. */
const sweptWeights = [
  -8.93, 0.37, -0.32, 0.8, -1.15, -0.66, 2.43, -0.97, 1.07, 1.6, 0.32, -0.24, 1.65, -2.44, -0.86, -0.8, 1.32,
  -0.3, -6.14, 5.27, 6.63, -0.24,
]

const chanceOf = (features: number[], by: readonly number[]): number =>
  1 / (1 + Math.exp(-features.reduce((sum, x, i) => sum + x * (by[i] ?? 0), 0)))

/** How much the picture moves about a frame, against its fastest: 0 at rest, 1 at the peak of the film. */
export type MotionThere = {
  /** In the frame itself and its neighbours. */
  rank: number
  /** On average over the frames before: a club lifted from the ground starts a movement, a ball ends one. */
  stirred: number
}

/** The frames just before one, whatever the rate: a backswing at 25 frames/s, a part of the downswing at 240. */
const stirredFrames = { from: 24, to: 3 }

/** How much the picture moves at each frame. */
export const motionRanks = (curve: MotionCurve): ((frame: number) => MotionThere) => {
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
  const share = (level: number) =>
    fastest > rest ? Math.max(0, Math.min(1.2, (level - rest) / (fastest - rest))) : 0
  return (frame) => {
    let most = 0
    for (let k = Math.max(0, frame - 1); k <= Math.min(count - 1, frame + 2); k++) {
      most = Math.max(most, soft[k]!)
    }
    const before = soft.subarray(
      Math.max(0, frame - stirredFrames.from),
      Math.max(1, frame - stirredFrames.to),
    )
    return { rank: share(most), stirred: before.reduce((sum, v) => sum + share(v), 0) / before.length }
  }
}

/** Spots by the last frame that shows them. */
export const byFrame = (spots: readonly SweptSpot[]): ((frame: number) => readonly SweptSpot[]) => {
  const at = new Map<number, SweptSpot[]>()
  for (const spot of spots) at.set(spot.lastSeen, [...(at.get(spot.lastSeen) ?? []), spot])
  return (frame) => at.get(frame) ?? []
}

/** Two spots this near in place and time are one ball, seen twice. */
export const isSame = (a: Omit<SeenBall, 'chance'>, b: Omit<SeenBall, 'chance'>): boolean =>
  Math.abs(a.frame - b.frame) <= 2 && Math.hypot(a.x - b.x, a.y - b.y) < Math.max(3, a.sizePx, b.sizePx)

/** The spots worth weighing, likeliest first. */
export const seenBalls = (film: {
  spots: readonly VanishedSpot[]
  swept: readonly SweptSpot[]
  curve: MotionCurve
}): SeenBall[] => {
  const ranks = motionRanks(film.curve)
  const isWorth = (s: { there: number; gone: number }) => s.there > 0.4 && s.gone > 0.4
  const vanished = film.spots
    .filter((s) => isWorth(s.signs))
    .map(({ signs, ...s }): SeenBall => ({
      ...s,
      chance: chanceOf(spotFeatures(signs, ranks(s.frame)), weights),
    }))
  const wentAt = byFrame(film.swept)
  const swept = film.swept
    .filter((s) => isWorth(s.signs))
    .map((spot): SeenBall => {
      const { signs, ...s } = spot
      const frame = leftAt(s.lastSeen, s.goneBy)
      return {
        ...s,
        frame,
        chance: chanceOf(sweptFeatures(signs, ranks(s.lastSeen), companyOf(spot, wentAt)), sweptWeights),
      }
    })
  const likeliest: SeenBall[] = []
  for (const ball of [...vanished, ...swept].sort((a, b) => b.chance - a.chance)) {
    if (ball.chance > 0.02 && !likeliest.some((o) => isSame(o, ball))) likeliest.push(ball)
  }
  return likeliest
}
