import { rampOf, realInstant, realTimes } from '../timing/ramp.ts'
import { seenBalls } from './ball-spot.ts'
import { guessCaptureRate, playbackRateOf, stretchOf } from './capture-rate.ts'
import type { CaptureRateGuess } from './capture-rate.ts'
import type { FilmReading } from './film-reader.ts'
import { findSwings } from './find-swings.ts'
import type { ImpactClaim, TellPhases } from './find-swings.ts'
import type { FoundSwing } from './moment.ts'
import type { StrikeCandidate } from './strike-sound.ts'
import { swingBursts } from './swing-bursts.ts'

/** What is known of a clip besides its pictures. */
export type ClipKnown = {
  tags: Record<string, string>
  /** Capture rate that the coach told. */
  toldRate?: number
  /** Rate the container claims, where its timestamps tell none. */
  claimedRate: number | null
}

/** Rates of a read film, and how much slower than a usual swing its swing is shown. */
export type FilmRates = {
  /** Frames a second that the file plays. */
  playbackRate: number
  rate: CaptureRateGuess
  /** captureRate / playbackRate. */
  slowness: number
  /** File seconds to a second of a swing at the usual tempo; what the moments are looked for with. */
  stretch: number
}

/** How fast the clip plays and was filmed, frames a second, and how much slower than life it is read. */
export const ratesOf = (reading: FilmReading, known: ClipKnown): FilmRates => {
  const { curve, spots } = reading
  const playbackRate = playbackRateOf(curve.atSeconds) ?? known.claimedRate ?? 30
  const balls = seenBalls(spots, curve)
  const rate: CaptureRateGuess =
    known.toldRate !== undefined
      ? { captureRate: known.toldRate, how: 'told', confidence: 1 }
      : guessCaptureRate({ playbackRate, tags: known.tags, curve, balls })
  const slowness = rate.captureRate / playbackRate
  const stretch = stretchOf(curve, balls, { slowness, isSure: rate.how !== 'assumed' })
  return { playbackRate, rate, slowness, stretch }
}

/** How many times slower than life the sound of the part that matters is: of a ramp, the slow part. */
export const soundSlowness = (reading: FilmReading, { rate, slowness, stretch }: FilmRates): number =>
  rampOf(reading.curve.atSeconds)?.slowness ?? (rate.how === 'assumed' ? stretch : slowness)

/**
 * The swings of a read film. `candidates` are its sharp sounds, read as `soundSlowness` times slower than life, in seconds of that
 * reading from the file's time zero; `delaySeconds` is the real time of the sound's way to the microphone, `audioLateSeconds`
 * how much the track runs late by the file's clock.
 */
export const swingsOfFilm = (
  reading: FilmReading,
  rates: FilmRates,
  sound: { candidates: StrikeCandidate[]; delaySeconds: number; audioLateSeconds: number },
  onClaim?: (claim: ImpactClaim) => void,
  onPhases?: TellPhases,
): FoundSwing[] => {
  const { curve, spots } = reading
  const { atSeconds } = curve
  const real = realTimes(atSeconds, rates.stretch)
  const heard = soundSlowness(reading, rates)
  return findSwings({
    atSeconds,
    real,
    bursts: swingBursts(curve, real),
    strikes: sound.candidates.map((candidate) => ({
      atSeconds:
        realInstant(atSeconds, real, candidate.heardAtSeconds * heard - sound.audioLateSeconds) -
        (sound.delaySeconds * rates.slowness) / rates.stretch,
      candidate,
    })),
    balls: seenBalls(spots, curve),
    ballLies: reading.ballLies,
    isRateKnown: rates.rate.how !== 'assumed',
    onClaim,
    onPhases,
  })
}
