import { soundDelaySeconds } from '../../../shared-core/flight/air.ts'
import { playbackRateOf } from '../../../shared-core/moments/capture-rate.ts'
import { FilmReader } from '../../../shared-core/moments/film-reader.ts'
import type { FoundSwing } from '../../../shared-core/moments/moment.ts'
import type { GreyFrame } from '../../../shared-core/moments/motion-curve.ts'
import { ratesOf, swingsOfFilm } from '../../../shared-core/moments/read-swings.ts'
import { soundEnvelope } from '../../../shared-core/moments/sound-envelope.ts'
import { strikeCandidates } from '../../../shared-core/moments/strike-sound.ts'

/** The whole way from frames and sound to swings, in memory: what the library does with a file. */
export const swingsOf = (
  frames: GreyFrame[],
  sound: { pcm: Float32Array; rate: number } | null,
  options: { stretch?: number; micDistanceM?: number; audioLateSeconds?: number; watchBall?: boolean } = {},
): FoundSwing[] => {
  const { stretch = 1, micDistanceM = 3, audioLateSeconds = 0, watchBall = true } = options
  const reader = new FilmReader()
  for (const frame of frames) reader.push(frame)
  const reading = reader.finish()
  const seen = watchBall ? reading : { ...reading, spots: [], swept: [] }
  const playbackRate = playbackRateOf(reading.curve.atSeconds) ?? 30
  const told = ratesOf(seen, { tags: {}, claimedRate: null, toldRate: playbackRate * stretch, bands: null })
  return swingsOfFilm(seen, told, {
    candidates: sound ? strikeCandidates(soundEnvelope(sound.pcm, sound.rate * stretch)) : [],
    isThere: sound !== null,
    delaySeconds: soundDelaySeconds(micDistanceM, 20),
    audioLateSeconds,
  })
}

export const impactsOf = (swings: FoundSwing[]) =>
  swings.flatMap((s) => s.moments.filter((m) => m.name === 'impact'))
