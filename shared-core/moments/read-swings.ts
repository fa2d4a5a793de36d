import { rampOf, realInstant, realTimes } from '../timing/ramp.ts'
import { seenBalls } from './ball-spot.ts'
import { guessCaptureRate, playbackRateOf } from './capture-rate.ts'
import type { CaptureRateGuess } from './capture-rate.ts'
import type { FilmReading } from './film-reader.ts'
import { findSwings } from './find-swings.ts'
import type { ImpactClaim } from './find-swings.ts'
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

/** Rates of a read film: what the file plays at, and what it was filmed at. */
export const ratesOf = (
  reading: FilmReading,
  known: ClipKnown,
): { playbackRate: number; rate: CaptureRateGuess } => {
  const { curve, spots } = reading
  const playbackRate = playbackRateOf(curve.atSeconds) ?? known.claimedRate ?? 30
  const rate: CaptureRateGuess =
    known.toldRate !== undefined
      ? { captureRate: known.toldRate, how: 'told', confidence: 1 }
      : guessCaptureRate({ playbackRate, tags: known.tags, curve, balls: seenBalls(spots, curve) })
  return { playbackRate, rate }
}

/** How many times slower than life the sound of the part that matters is: of a ramp, the slow part. */
export const soundSlowness = (reading: FilmReading, slowness: number): number =>
  rampOf(reading.curve.atSeconds)?.slowness ?? slowness

/**
 * The swings of a read film. `candidates` are its sharp sounds, read as `soundSlowness` times slower than life, in seconds of that
 * reading from the file's time zero; `delaySeconds` is the real time of the sound's way to the microphone, `audioLateSeconds`
 * how much the track runs late by the file's clock.
 */
export const swingsOfFilm = (
  reading: FilmReading,
  slowness: number,
  sound: { candidates: StrikeCandidate[]; delaySeconds: number; audioLateSeconds: number },
  onClaim?: (claim: ImpactClaim) => void,
): FoundSwing[] => {
  const { curve, spots } = reading
  const { atSeconds } = curve
  const real = realTimes(atSeconds, slowness)
  const stretch = soundSlowness(reading, slowness)
  return findSwings({
    atSeconds,
    real,
    bursts: swingBursts(curve, real),
    strikes: sound.candidates.map((candidate) => ({
      atSeconds:
        realInstant(atSeconds, real, candidate.heardAtSeconds * stretch - sound.audioLateSeconds) -
        sound.delaySeconds,
      candidate,
    })),
    balls: seenBalls(spots, curve),
    onClaim,
  })
}
