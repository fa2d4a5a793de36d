import { standardNormalCdf } from '../statistics/distributions.ts'
import type { Mark } from '../timing/tempo.ts'
import { onsetSdSeconds } from './sound-delay.ts'
import type { KnownStrike } from './sound-delay.ts'
import { inStepShare, usualSoundSdSeconds } from './strike-frame.ts'

/** Steps in which a frame is looked through, and the least of a strike's sound that is left to other sounds. */
const stepSeconds = 0.0005
const strayShare = 0.05

/**
 * When within its frame a ball was struck, by the sound: real seconds after the frame's own time, with the standard deviation. What the
 * picture says (the ball left between this frame and the next) is kept: sound only tells where in there. Null where nothing was heard that
 * can be that strike.
 *
 * @param strike What was heard near it, real seconds of the film's clock.
 * @param frame The impact frame as it stands now: the program's, or the coach's yes to it.
 * @param film Real seconds of its frames.
 * @param delay How much the sound comes after the picture; without `sdSeconds` by the told distance of the microphone alone.
 */
export const strikeInstant = (
  strike: KnownStrike,
  frame: number,
  real: ArrayLike<number>,
  delay: { delaySeconds: number; sdSeconds?: number },
): Mark | null => {
  const begin = real[frame]
  if (begin === undefined || real.length < 2) return null
  const frameSeconds = frame + 1 < real.length ? real[frame + 1]! - begin : begin - real[frame - 1]!
  if (!(frameSeconds > 0)) return null
  const isFound = delay.sdSeconds !== undefined
  const sd = isFound ? Math.hypot(delay.sdSeconds!, onsetSdSeconds) : usualSoundSdSeconds
  const inStep = isFound ? 1 - strayShare : inStepShare
  const made = strike.sounds
    .map((s) => ({ at: s.heardAtSeconds - delay.delaySeconds - begin, weight: s.weight }))
    .filter((s) => s.at > -2 * sd && s.at < frameSeconds + 2 * sd)
  if (made.length === 0) return null
  const heard = made.reduce((total, s) => total + s.weight, 0)
  const count = Math.max(8, Math.round(frameSeconds / stepSeconds))
  const step = frameSeconds / count
  let sum = 0
  let mean = 0
  let square = 0
  for (let i = 0; i < count; i++) {
    const from = i * step
    const told = made.reduce(
      (total, s) =>
        total +
        (s.weight / heard) *
          (standardNormalCdf((from + step - s.at) / sd) - standardNormalCdf((from - s.at) / sd)),
      0,
    )
    const density = (inStep * told) / step + (1 - inStep) / frameSeconds
    const at = from + step / 2
    sum += density
    mean += density * at
    square += density * at * at
  }
  mean /= sum
  const variance = square / sum - mean * mean
  return { atSeconds: mean, sdSeconds: Math.sqrt(Math.max(0, variance) + step ** 2 / 12) }
}
