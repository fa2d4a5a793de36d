import path from 'node:path'
import { soundDelaySeconds } from '../../../shared-core/flight/air.ts'
import type { CaptureRateSource } from '../../../shared-core/moments/capture-rate.ts'
import { ballArea, FilmReader } from '../../../shared-core/moments/film-reader.ts'
import type { FoundMoment, FoundSwing } from '../../../shared-core/moments/moment.ts'
import {
  ratesOf,
  soundSlowness,
  strikesOfFilm,
  swingsOfFilm,
} from '../../../shared-core/moments/read-swings.ts'
import type { KnownStrike } from '../../../shared-core/moments/sound-delay.ts'
import { smallSize } from '../../../shared-core/moments/shrink.ts'
import { strikeCandidates } from '../../../shared-core/moments/strike-sound.ts'
import type { StrikeCandidate } from '../../../shared-core/moments/strike-sound.ts'
import { Problem } from '../../../shared-core/problem.ts'
import type { StreamHeaders } from '../media/stream-headers.ts'
import { clipFacts, factsOfHeaders } from './clip-facts.ts'
import { isRecorded } from '../../../shared-core/moments/sound-envelope.ts'
import { SoundBandsBuilder } from '../../../shared-core/moments/sound-bands.ts'
import type { SoundBands } from '../../../shared-core/moments/sound-bands.ts'
import type { SlowPart } from '../../../shared-core/timing/ramp.ts'
import { clipSound, envelopeOf, soundRate } from './clip-sound.ts'
import { greyFrames } from './grey-frames.ts'
import { phrase, type Word } from '../../../shared-core/wording/phrase.ts'

export type FindMomentsOptions = {
  ffmpegPath: string
  ffprobePath: string
  /** Way from ball to microphone, metres; 3 if not told. */
  micDistanceM?: number
  /** By how much the sound comes later than the picture, if the lesson's other clips told it: instead of the microphone's distance. */
  soundDelay?: { delaySeconds: number; sdSeconds: number }
  /** Air temperature, °C; 20 if not told. */
  temperatureC?: number
  /** Frames per second at which the camera filmed, if known. */
  captureRate?: number
  /** How much the file's sound runs behind its picture, seconds of the file; 0 if not told. */
  audioOffsetSeconds?: number
  /** The file to hear, where it is not the one to see, and how far its clock is ahead of the pictures', seconds. */
  sound?: { file: string; aheadSeconds: number }
  signal?: AbortSignal
  /** What is known of the file already, so that it is not asked again; times by the file's own clock. */
  known?: { headers: StreamHeaders; firstSeconds: number; durationSeconds: number }
  /** What this ffmpeg calls "each frame once", where that was asked already. */
  hasFpsMode?: boolean
  /** Arguments of more outputs, written while the clip is decoded for its moments. */
  also?: string[]
  /** The same of its sound, where that is heard meanwhile (`isHeardAhead`). */
  alsoOfSound?: readonly string[]
  /** Share of the work done, 0 to 1. */
  onProgress?: (share: number) => void
}

export type ClipMoments = {
  file: string
  /** Number of frames in the clip. */
  frames: number
  /** Pictures that the decoder could not read as a whole. */
  damagedFrames: number
  /** Frames per second of the file's own clock. */
  playbackRate: number
  /** Frames per second of the clock on the wall. */
  captureRate: number
  captureRateHow: CaptureRateSource
  /** Where it is slow motion, if only in a part; seconds after the first frame. */
  slowPart: SlowPart | null
  /** All moments of all swings, in order of time. */
  moments: FoundMoment[]
  swings: FoundSwing[]
  /** What the delay of the lesson's sound can be found from, in real seconds at the capture rate told. */
  strikes: KnownStrike[]
  /** The delay the sound was read with, real seconds. */
  soundDelaySeconds: number
}

/** A longer clip's sound, seconds, is read when it is needed. */
const longestHeld = 60

/** Whether the sound of a clip of which this is known is heard while its pictures are read. */
export const isHeardAhead = ({
  headers,
  durationSeconds,
}: NonNullable<FindMomentsOptions['known']>): boolean =>
  headers.sound !== null && durationSeconds <= longestHeld

/** A second before the picture: sound may begin first, and an early strike needs quiet before it. */
const soundFrom = (firstSeconds: number): number => Math.max(0, firstSeconds - 1)

const inRange = (name: Word, value: number, low: number, high: number, unit: string): number => {
  if (value >= low && value <= high) return value
  throw new Problem('bad-option', { name, value, unit, low, high })
}

/**
 * Finds the swings of a clip and their moments: impact from the strike's sound and from the ball leaving its place,
 * the others from the motion. Reads the clip once and holds only a short stretch of it.
 *
 * Impact is the last frame that shows the ball where it lay; where no ball is seen, the last frame whose timestamp is not after
 * the instant of the strike's sound, minus the way to the microphone. ± half a frame.
 * @throws Problem naming the clip (`clip-missing`, `clip-empty`, `clip-unreadable`, `clip-no-picture`), `bad-option`,
 *   `no-ffmpeg`; the signal's reason when it aborts
 */
export const findMoments = async (file: string, options: FindMomentsOptions): Promise<ClipMoments> => {
  const { ffmpegPath, ffprobePath, signal, onProgress } = options
  const micDistanceM = inRange(phrase('option.micDistance'), options.micDistanceM ?? 3, 0, 200, 'm')
  const temperatureC = inRange(phrase('option.temperature'), options.temperatureC ?? 20, -40, 60, '°C')
  const audioOffsetSeconds = inRange(
    phrase('option.soundOffset'),
    options.audioOffsetSeconds ?? 0,
    -10,
    10,
    's',
  )
  if (options.captureRate !== undefined) {
    inRange(phrase('option.captureRate'), options.captureRate, 1, 10_000, 'frames/s')
  }
  // A whole path: ffmpeg takes a name with a colon for an address.
  const clip = path.resolve(file)
  const { known } = options
  const facts = known
    ? factsOfHeaders(known.headers, path.basename(clip))
    : await clipFacts(ffprobePath, clip, signal)
  const soundClip = options.sound ? path.resolve(options.sound.file) : clip
  const aheadSeconds = options.sound?.aheadSeconds ?? 0
  const heard = soundClip === clip ? facts : await clipFacts(ffprobePath, soundClip, signal)
  onProgress?.(0.02)

  const reader = new FilmReader()
  const expected = Math.max(1, (facts.durationSeconds ?? 10) * (facts.claimedRate ?? 30))
  let frames = 0
  let damagedFrames = 0
  const pictures = greyFrames(ffmpegPath, clip, smallSize(facts.width, facts.height, ballArea), {
    signal,
    also: options.also ?? [],
    hasFpsMode: options.hasFpsMode,
    luma: facts.luma,
    onDamage: () => damagedFrames++,
  })
  // The pictures take longest, so their program is started before the sound's.
  const firstPicture = pictures.next()
  firstPicture.catch(() => {})
  const listening = known && isHeardAhead(known) ? listenAhead() : null
  try {
    for (let next = await firstPicture; !next.done; next = await pictures.next()) {
      const frame = next.value
      reader.push(frame)
      frames++
      if (frames % 30 === 0) onProgress?.(0.02 + 0.78 * Math.min(1, frames / expected))
    }
  } catch (error) {
    await pictures.return(undefined)
    // Nothing reads the file any more once this has failed.
    await listening
    throw error
  }
  if (frames === 0) {
    throw new Problem('clip-unreadable.noFrame', { where: path.basename(file) })
  }
  const reading = reader.finish()
  const audioLateSeconds = audioOffsetSeconds + aheadSeconds
  const rates = ratesOf(reading, {
    bands: heard.hasSound ? await bandsHeard() : null,
    tags: { ...heard.tags, ...facts.tags },
    toldRate: options.captureRate,
    claimedRate: facts.claimedRate,
  })
  const { playbackRate, rate } = rates
  onProgress?.(0.82)
  const { candidates, isThere } = heard.hasSound ? await hear() : { candidates: [], isThere: false }
  const { soundDelay } = options
  const delaySeconds = soundDelay?.delaySeconds ?? soundDelaySeconds(micDistanceM, temperatureC)
  const sound = {
    candidates,
    isThere,
    delaySeconds,
    delaySdSeconds: soundDelay?.sdSeconds,
    audioLateSeconds,
  }
  const swings = swingsOfFilm(reading, rates, sound)
  onProgress?.(1)
  return {
    file,
    frames,
    damagedFrames,
    playbackRate,
    captureRate: rate.captureRate,
    captureRateHow: rate.how,
    slowPart: rates.slowPart,
    moments: swings.flatMap((swing) => swing.moments),
    swings,
    strikes: strikesOfFilm(reading, rates, swings, sound),
    soundDelaySeconds: delaySeconds,
  }

  /** The sound of a short clip, read while its pictures are: it is held until they say how much slower than life it is. */
  async function listenAhead(): Promise<{ from: number; pieces: Float32Array[] } | null> {
    const from = soundFrom(known!.firstSeconds)
    try {
      const pieces: Float32Array[] = []
      for await (const piece of clipSound(ffmpegPath, clip, facts.sampleRate, from, {
        signal,
        also: options.alsoOfSound,
      })) {
        pieces.push(piece)
      }
      return { from, pieces }
    } catch {
      // Whatever it is, it is told where the sound is asked for.
      return null
    }
  }

  async function soundPieces() {
    const from = soundFrom((reading.curve.atSeconds[0] ?? 0) + aheadSeconds)
    const ahead = await listening
    const pieces =
      ahead?.from === from
        ? ahead.pieces
        : clipSound(ffmpegPath, soundClip, heard.sampleRate, from, { signal })
    return { from, pieces }
  }

  /** What the sound's frequencies are, by the pictures' clock. */
  async function bandsHeard(): Promise<SoundBands> {
    const { from, pieces } = await soundPieces()
    const builder = new SoundBandsBuilder(soundRate(heard.sampleRate), from - audioLateSeconds)
    for await (const samples of pieces) builder.push(samples)
    return builder.finish()
  }

  async function hear(): Promise<{ candidates: StrikeCandidate[]; isThere: boolean }> {
    const stretch = soundSlowness(reading, rates)
    const { from, pieces } = await soundPieces()
    const envelope = await envelopeOf(pieces, heard.sampleRate, stretch)
    const candidates = (envelope ? strikeCandidates(envelope) : []).map((c) => ({
      ...c,
      heardAtSeconds: c.heardAtSeconds + from / stretch,
    }))
    return { candidates, isThere: envelope !== null && isRecorded(envelope) }
  }
}
