import path from 'node:path'
import { soundDelaySeconds } from '../../../shared-core/flight/air.ts'
import { ballDeparture } from '../../../shared-core/moments/ball-departure.ts'
import type { BallDeparture } from '../../../shared-core/moments/ball-departure.ts'
import { guessCaptureRate, playbackRateOf } from '../../../shared-core/moments/capture-rate.ts'
import type { CaptureRateSource } from '../../../shared-core/moments/capture-rate.ts'
import { findSwings, placesToLook, strikesOf } from '../../../shared-core/moments/find-swings.ts'
import type { Look, Strike } from '../../../shared-core/moments/find-swings.ts'
import { frameAtOrBefore } from '../../../shared-core/moments/frame-at.ts'
import type { FoundMoment, FoundSwing } from '../../../shared-core/moments/moment.ts'
import { MotionCurveBuilder } from '../../../shared-core/moments/motion-curve.ts'
import type { GreyFrame } from '../../../shared-core/moments/motion-curve.ts'
import { strikeCandidates } from '../../../shared-core/moments/strike-sound.ts'
import { swingBursts } from '../../../shared-core/moments/swing-bursts.ts'
import { Problem } from '../../../shared-core/problem.ts'
import { clipFacts } from './clip-facts.ts'
import { clipSound } from './clip-sound.ts'
import { greyFrames, smallSize } from './grey-frames.ts'

export type FindMomentsOptions = {
  ffmpegPath: string
  ffprobePath: string
  /** Way from ball to microphone, metres; 3 if not told. */
  micDistanceM?: number
  /** Air temperature, °C; 20 if not told. */
  temperatureC?: number
  /** Frames per second at which the camera filmed, if known. */
  captureRate?: number
  /** How much the file's sound runs behind its picture, seconds of the file; 0 if not told. */
  audioOffsetSeconds?: number
  signal?: AbortSignal
  /** Share of the work done, 0 to 1. */
  onProgress?: (share: number) => void
}

export type ClipMoments = {
  file: string
  /** Number of frames in the clip. */
  frames: number
  /** Frames per second of the file's own clock. */
  playbackRate: number
  /** Frames per second of the clock on the wall. */
  captureRate: number
  captureRateHow: CaptureRateSource
  /** All moments of all swings, in order of time. */
  moments: FoundMoment[]
  swings: FoundSwing[]
}

const curveArea = 160 * 120
const ballArea = 480 * 270
/** Pixels held at most while looking for the ball, however many frames a second the clip has. */
const heldPixels = 64e6

/** More pieces than this would make the filter's expression longer than ffmpeg likes. */
const mostRanges = 40

const inRange = (name: string, value: number, low: number, high: number, unit: string): number => {
  if (value >= low && value <= high) return value
  throw new Problem('bad-option', `${name} of ${value} ${unit} is out of range (${low} to ${high})`)
}

/**
 * Finds the swings of a clip and their moments: impact from the strike's sound and from the ball leaving its place,
 * the others from the motion. Reads the clip twice (once coarsely, once around the strikes) and holds only a
 * short stretch of it.
 *
 * Impact is the last frame whose timestamp is not after the instant of the strike; that instant is where the sound
 * begins, minus the way to the microphone. ± half a frame.
 * @throws Problem naming the clip (`clip-missing`, `clip-empty`, `clip-unreadable`, `clip-no-picture`), `bad-option`,
 *   `no-ffmpeg`; the signal's reason when it aborts
 */
export const findMoments = async (file: string, options: FindMomentsOptions): Promise<ClipMoments> => {
  const { ffmpegPath, ffprobePath, signal, onProgress } = options
  const micDistanceM = inRange('A microphone distance', options.micDistanceM ?? 3, 0, 200, 'm')
  const temperatureC = inRange('A temperature', options.temperatureC ?? 20, -40, 60, '°C')
  const audioOffsetSeconds = inRange('A sound offset', options.audioOffsetSeconds ?? 0, -10, 10, 's')
  if (options.captureRate !== undefined) inRange('A capture rate', options.captureRate, 1, 10_000, 'frames/s')
  // A whole path: ffmpeg takes a name with a colon for an address.
  const clip = path.resolve(file)
  const facts = await clipFacts(ffprobePath, clip, signal)
  onProgress?.(0.02)

  const builder = new MotionCurveBuilder()
  const expected = Math.max(1, (facts.durationSeconds ?? 10) * (facts.claimedRate ?? 30))
  let frames = 0
  for await (const frame of greyFrames(ffmpegPath, clip, smallSize(facts.width, facts.height, curveArea), {
    signal,
  })) {
    builder.push(frame)
    frames++
    if (frames % 30 === 0) onProgress?.(0.02 + 0.48 * Math.min(1, frames / expected))
  }
  if (frames === 0) {
    throw new Problem('clip-unreadable', 'the clip cannot be read: no frame of it can be decoded', {
      where: path.basename(file),
      toDo: 'Play the file to see whether it is whole, or copy it from the camera again',
    })
  }
  const curve = builder.finish()
  const playbackRate = playbackRateOf(curve.atSeconds) ?? facts.claimedRate ?? 30
  const told = options.captureRate
  const rate =
    told !== undefined
      ? { captureRate: told, how: 'told' as const }
      : guessCaptureRate({ playbackRate, tags: facts.tags, curve })
  const stretch = rate.captureRate / playbackRate
  const real = curve.atSeconds.map((t) => t / stretch)
  const bursts = swingBursts(curve, stretch)
  onProgress?.(0.52)

  const strikes = facts.hasSound ? await hear() : []
  onProgress?.(0.6)
  const looks = placesToLook(bursts, strikes)
  const balls = await watch(looks)
  const swings = findSwings({ atSeconds: curve.atSeconds, stretch, strikes, looks, balls })
  onProgress?.(1)
  return {
    file,
    frames,
    playbackRate,
    captureRate: rate.captureRate,
    captureRateHow: rate.how,
    moments: swings.flatMap((swing) => swing.moments),
    swings,
  }

  async function hear(): Promise<Strike[]> {
    const late = audioOffsetSeconds / stretch
    const delay = soundDelaySeconds(micDistanceM, temperatureC)
    const [envelope] = (await clipSound(ffmpegPath, clip, facts.sampleRate, [stretch], signal)) ?? []
    return envelope ? strikesOf(strikeCandidates(envelope), delay, late) : []
  }

  /** Looks closely at each place in one reading of the clip; holds only the frames that a place still needs. */
  async function watch(places: Look[]): Promise<BallDeparture[][]> {
    const answers: BallDeparture[][] = places.map(() => [])
    const spans = places
      .map((place, i) => ({
        place,
        answer: answers[i]!,
        from: frameAtOrBefore(real, place.fromSeconds),
        to: frameAtOrBefore(real, place.toSeconds),
      }))
      .sort((a, b) => a.to - b.to)
    if (spans.length === 0) return answers
    const ranges: { from: number; to: number }[] = []
    for (const { from, to } of [...spans].sort((a, b) => a.from - b.from)) {
      const last = ranges.at(-1)
      if (last && from <= last.to + 1) last.to = Math.max(last.to, to)
      else if (ranges.length === mostRanges) last!.to = Math.max(last!.to, to)
      else ranges.push({ from, to })
    }
    const longest = Math.max(...spans.map((s) => s.to - s.from + 1))
    const size = smallSize(facts.width, facts.height, Math.min(ballArea, heldPixels / longest))
    let held: GreyFrame[] = []
    let waiting = spans
    let seen = 0
    const total = ranges.reduce((sum, r) => sum + r.to - r.from + 1, 0)
    const judge = (upTo: number) => {
      for (const span of waiting.filter((s) => s.to < upTo)) {
        const part = held.filter((f) => f.index >= span.from && f.index <= span.to)
        const times = part.map((f) => real[f.index]!)
        for (const seconds of span.place.expectedSeconds) {
          const ball = ballDeparture(part, times, seconds)
          if (ball) span.answer.push(ball)
        }
      }
      waiting = waiting.filter((s) => s.to >= upTo)
      const needed = Math.min(...waiting.map((s) => s.from))
      if (held.length > 0 && held[0]!.index < needed) held = held.filter((f) => f.index >= needed)
    }
    for await (const frame of greyFrames(ffmpegPath, clip, size, { signal, ranges })) {
      judge(frame.index)
      if (waiting.some((s) => frame.index >= s.from)) held.push(frame)
      if (++seen % 20 === 0) onProgress?.(0.6 + 0.38 * (seen / total))
    }
    judge(Infinity)
    return answers
  }
}
