import { rampOf, realInstant, realTimes, type SlowPart } from '../timing/ramp.ts'
import { seenBalls } from './ball-spot.ts'
import { guessCaptureRate, playbackRateOf, stretchOf } from './capture-rate.ts'
import type { CaptureRateGuess } from './capture-rate.ts'
import type { FilmReading } from './film-reader.ts'
import { findSwings } from './find-swings.ts'
import type { ImpactClaim, TellPhases } from './find-swings.ts'
import type { FoundSwing } from './moment.ts'
import { isSlowMotion } from './answered-rate.ts'
import { evened, type MotionCurve } from './motion-curve.ts'
import { slowPartOf, soundSlownessOf, type SoundBands } from './sound-bands.ts'
import { delayRange } from './sound-delay.ts'
import type { KnownStrike } from './sound-delay.ts'
import type { StrikeCandidate } from './strike-sound.ts'
import { medianFrameSeconds, swingBursts } from './swing-bursts.ts'
import { framesAllowed } from './strike-frame.ts'

/** What is known of a clip besides its pictures. */
export type ClipKnown = {
  tags: Record<string, string>
  /** Capture rate that the coach told. */
  toldRate?: number
  /** Rate the container claims, where its timestamps tell none. */
  claimedRate: number | null
  /** What its sound holds; null where it has none. */
  bands: SoundBands | null
}

/** Rates of a read film, and how much slower than a usual swing its swing is shown. */
export type FilmRates = {
  /** Frames a second that the file plays. */
  playbackRate: number
  rate: CaptureRateGuess
  /** The rate is known, or likely enough to read the swing by. */
  isLikely: boolean
  /** captureRate / playbackRate; of a film that is slow in a part only, there. */
  slowness: number
  /** Where the film is slow motion, if only in a part. */
  slowPart: SlowPart | null
  /** File seconds to a second of a swing at the usual tempo; what the moments are looked for with. */
  stretch: number
}

/** How fast the clip plays and was filmed, frames a second, and how much slower than life it is read. */
export const ratesOf = (reading: FilmReading, known: ClipKnown): FilmRates => {
  const { curve } = reading
  const { bands } = known
  const playbackRate = playbackRateOf(curve.atSeconds) ?? known.claimedRate ?? 30
  const { toldRate } = known
  const mayBeSlow =
    playbackRate < highestShown && (toldRate === undefined || isSlowMotion(toldRate, playbackRate))
  const part = bands && mayBeSlow && !rampOf(curve.atSeconds) ? slowPartOf(bands) : null
  if (part) {
    const captureRate = toldRate ?? playbackRate * part.slowness
    const slowness = captureRate / playbackRate
    return {
      ...{ playbackRate, slowness, stretch: slowness, isLikely: true },
      slowPart: {
        fromSeconds: Math.max(0, part.fromSeconds - curve.atSeconds[0]!),
        toSeconds: Math.max(0, part.toSeconds - curve.atSeconds[0]!),
      },
      rate: { captureRate, how: toldRate === undefined ? 'motion' : 'told', confidence: 0.9 },
    }
  }
  const balls = seenBalls(reading)
  const rate: CaptureRateGuess =
    toldRate !== undefined
      ? { captureRate: toldRate, how: 'told', confidence: 1 }
      : guessCaptureRate({
          ...{ playbackRate, tags: known.tags, curve, balls },
          soundSlowness: bands ? soundSlownessOf(bands) : null,
        })
  // What is not sure enough to be told may be likely enough to read the swing by.
  const isLikely = rate.how !== 'assumed' || rate.isLikely === true
  const slowness = rate.captureRate / playbackRate
  const stretch = stretchOf(curve, balls, { slowness, isSure: isLikely })
  return { playbackRate, rate, isLikely, slowness, slowPart: null, stretch }
}

/** No slow motion is shown as fast as this: it was filmed so. */
const highestShown = 100

/** The curve of a film as if its frames lay evenly in real time. */
const evenCurve = ({ curve }: FilmReading, { slowPart, stretch }: FilmRates): MotionCurve =>
  slowPart ? evened(curve, realTimes(curve.atSeconds, stretch, slowPart)) : curve

/** How many times slower than life the sound of the part that matters is: of a ramp, the slow part. */
export const soundSlowness = (reading: FilmReading, { isLikely, slowness, stretch }: FilmRates): number =>
  rampOf(reading.curve.atSeconds)?.slowness ?? (isLikely ? slowness : stretch)

/** What was heard in a film, and how its sound stands to its picture. */
export type FilmSound = {
  /** Its sharp sounds, read as `soundSlowness` times slower than life, in seconds of that reading from the file's time zero. */
  candidates: StrikeCandidate[]
  /** Something was recorded, be it only the room's own noise (`isRecorded`). */
  isThere: boolean
  /** Real time of the sound's way to the microphone, and its standard deviation where that is known. */
  delaySeconds: number
  delaySdSeconds?: number
  /** How much the track runs late by the file's clock. */
  audioLateSeconds: number
}

/** The swings of a read film. */
export const swingsOfFilm = (
  reading: FilmReading,
  rates: FilmRates,
  sound: FilmSound,
  onClaim?: (claim: ImpactClaim) => void,
  onPhases?: TellPhases,
): FoundSwing[] => {
  const curve = evenCurve(reading, rates)
  const { atSeconds } = curve
  const real = realTimes(atSeconds, rates.stretch, rates.slowPart)
  const heard = soundSlowness(reading, rates)
  const areClose = framesAllowed(medianFrameSeconds(real)) > 1
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
    // Close frames are followed one by one: the ground before and after tells there less of when the ball went.
    balls: seenBalls({ ...reading, curve, swept: areClose ? [] : reading.swept }),
    ballLies: reading.ballLies,
    isRateKnown: rates.isLikely,
    hasSound: sound.isThere,
    soundSdSeconds: sound.delaySdSeconds && Math.hypot(sound.delaySdSeconds, perStrikeSdSeconds),
    onClaim,
    onPhases,
  })
}

/** The way to the microphone differs so much from ball to ball, and an onset is told to within so much (1 m of air). */
const perStrikeSdSeconds = 0.003
/** Sounds this far from the ball's leaving are kept for finding the delay, and no more than so many. */
const maxSounds = 12

/**
 * What the sound delay of a lesson is found from: where a ball was surely seen to go, the sharp sounds about it, in real seconds of the
 * film from its first frame. `impact` is the frame that was told.
 */
export const strikesOfFilm = (
  reading: FilmReading,
  rates: FilmRates,
  swings: readonly FoundSwing[],
  sound: FilmSound,
): KnownStrike[] => {
  const { atSeconds } = reading.curve
  const first = realTimes(atSeconds, rates.slowness, rates.slowPart)
  const real = first.map((t) => t - first[0]!)
  const heardAt = sound.candidates.map((candidate) => ({
    heardAtSeconds: realInstant(
      atSeconds,
      real,
      candidate.heardAtSeconds * soundSlowness(reading, rates) - sound.audioLateSeconds,
    ),
    weight: candidate.strength * candidate.likeness,
  }))
  return swings.flatMap(({ moments, ball }) => {
    const impact = moments.find((m) => m.name === 'impact')
    if (!impact) return []
    const from = real[ball?.lastSeen ?? impact.frame]!
    const near = heardAt
      .filter((s) => s.heardAtSeconds > from + delayRange.from && s.heardAtSeconds < from + delayRange.to)
      .sort((a, b) => b.weight - a.weight)
      .slice(0, maxSounds)
    const loudest = near[0]?.weight || 1
    return [{ impact: impact.frame, ball, sounds: near.map((s) => ({ ...s, weight: s.weight / loudest })) }]
  })
}
