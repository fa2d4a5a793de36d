import { soundDelaySeconds } from '../../../shared-core/flight/air.ts'
import { ballDeparture } from '../../../shared-core/moments/ball-departure.ts'
import { findSwings, placesToLook, strikesOf } from '../../../shared-core/moments/find-swings.ts'
import type { FoundSwing } from '../../../shared-core/moments/moment.ts'
import { MotionCurveBuilder } from '../../../shared-core/moments/motion-curve.ts'
import type { GreyFrame } from '../../../shared-core/moments/motion-curve.ts'
import { soundEnvelope } from '../../../shared-core/moments/sound-envelope.ts'
import { strikeCandidates } from '../../../shared-core/moments/strike-sound.ts'
import { swingBursts } from '../../../shared-core/moments/swing-bursts.ts'

/** The whole way from frames and sound to swings, in memory: what the library does with a file. */
export const swingsOf = (
  frames: GreyFrame[],
  sound: { pcm: Float32Array; rate: number } | null,
  options: { stretch?: number; micDistanceM?: number; audioLateSeconds?: number; watchBall?: boolean } = {},
): FoundSwing[] => {
  const { stretch = 1, micDistanceM = 3, audioLateSeconds = 0, watchBall = true } = options
  const builder = new MotionCurveBuilder()
  for (const frame of frames) builder.push(frame)
  const curve = builder.finish()
  const bursts = swingBursts(curve, stretch)
  const heard = sound ? strikeCandidates(soundEnvelope(sound.pcm, sound.rate * stretch)) : []
  const strikes = strikesOf(heard, soundDelaySeconds(micDistanceM, 20), audioLateSeconds / stretch)
  const looks = placesToLook(bursts, strikes)
  const balls = looks.map((look) => {
    const held = frames.filter((f) => {
      const t = f.atSeconds / stretch
      return t >= look.fromSeconds && t <= look.toSeconds
    })
    const times = held.map((f) => f.atSeconds / stretch)
    return (watchBall ? look.expectedSeconds : []).flatMap((at) => ballDeparture(held, times, at) ?? [])
  })
  return findSwings({ atSeconds: curve.atSeconds, stretch, strikes, looks, balls })
}

export const impactsOf = (swings: FoundSwing[]) =>
  swings.flatMap((s) => s.moments.filter((m) => m.name === 'impact'))
