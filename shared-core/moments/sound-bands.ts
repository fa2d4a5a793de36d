import FFT from 'fft.js'
import type { SlowPart } from '../timing/ramp.ts'

/** How loud a sound track is in bands of its frequencies, window by window; frequencies as shares of the highest a file can hold. */
export type SoundBands = {
  /** From one window to the next, seconds of the file. */
  hopSeconds: number
  /** File seconds of the first window's beginning. */
  fromSeconds: number
  /** dB per window: `levels[window * bandCount + band]`. */
  levels: Float32Array
}

/** Third octaves up to where codecs cut off (from memory: 16 kHz of 22). */
const bandEdges = Array.from({ length: 15 }, (_, i) => 0.72 * 2 ** ((i - 14) / 3))
const bandCount = bandEdges.length - 1
const size = 1024

/** Builds {@link SoundBands} from PCM in pieces. @param fromSeconds File seconds of the first sample. */
export class SoundBandsBuilder {
  private readonly fft = new FFT(size)
  private readonly out = this.fft.createComplexArray()
  private readonly window = Float64Array.from(
    { length: size },
    (_, i) => 0.5 - 0.5 * Math.cos((2 * Math.PI * i) / size),
  )
  private readonly buffer = new Float64Array(size)
  private filled = 0
  private readonly levels: number[] = []
  private readonly rate: number
  private readonly fromSeconds: number

  constructor(rate: number, fromSeconds: number) {
    this.rate = rate
    this.fromSeconds = fromSeconds
  }

  push(samples: Float32Array): void {
    for (const sample of samples) {
      this.buffer[this.filled] = sample * this.window[this.filled]!
      if (++this.filled === size) this.close()
    }
  }

  private close(): void {
    const { fft, out, buffer } = this
    fft.realTransform(out, buffer)
    for (let band = 0; band < bandCount; band++) {
      const from = Math.max(1, Math.round((bandEdges[band]! * size) / 2))
      const to = Math.max(from + 1, Math.round((bandEdges[band + 1]! * size) / 2))
      let power = 0
      for (let k = from; k < to; k++) power += out[2 * k]! ** 2 + out[2 * k + 1]! ** 2
      this.levels.push(10 * Math.log10(power / (to - from) + 1e-12))
    }
    this.filled = 0
  }

  finish(): SoundBands {
    return {
      hopSeconds: size / this.rate,
      fromSeconds: this.fromSeconds,
      levels: Float32Array.from(this.levels),
    }
  }
}

const quantile = (values: readonly number[], share: number): number => {
  const sorted = [...values].sort((a, b) => a - b)
  return sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? -120
}

/** Middle frequencies of the bands. */
const middles = Array.from({ length: bandCount }, (_, b) => Math.sqrt(bandEdges[b]! * bandEdges[b + 1]!))

/** What some windows hold in each band: the loudest of them (strikes and voices reach high if anything does), and the quietest. */
type Profile = { loud: number[]; quiet: number[] }

const profileOf = (bands: SoundBands, windows: readonly number[]): Profile => {
  const of = (share: number) =>
    middles.map((_, b) =>
      quantile(
        windows.map((w) => bands.levels[w * bandCount + b]!),
        share,
      ),
    )
  return { loud: of(0.995), quiet: of(0.25) }
}

const meanBetween = (profile: readonly number[], low: number, high: number): number => {
  const inside = profile.filter((_, b) => middles[b]! >= low && middles[b]! <= high)
  return inside.reduce((a, b) => a + b, 0) / Math.max(1, inside.length)
}

/**
 * How far the sound falls where a recording played `slowness` times slower ends, dB: all that a microphone heard is that many times
 * lower, and above is nothing (arithmetic).
 */
const fallAt = (profile: readonly number[], slowness: number): number => {
  const edge = 1 / slowness
  return (
    meanBetween(profile, 0.4 * edge, 0.9 * edge) -
    meanBetween(profile, Math.min(0.6, 1.7 * edge), Math.min(0.72, 3.6 * edge))
  )
}

/** Slow motion as cameras sell it, shown at 24 to 30 (common practice, no source). */
const slownesses = [2, 4, 8]
/**
 * What was not slowed falls by less over these two octaves: wind and far voices by 12 dB an octave, and the room's own noise, which a
 * microphone hears at every frequency, by hardly any (from memory).
 */
const leastFall = 27
const leastFallOfNoise = 15

/** How many times slower than recorded these windows are played: 2, 4 or 8 where the sound ends there, else null. */
const slownessOf = ({ loud, quiet }: Profile): number | null => {
  const falls = slownesses.map((slowness) => ({ slowness, fall: fallAt(loud, slowness) }))
  const best = falls.reduce((a, b) => (b.fall > a.fall ? b : a))
  return best.fall > leastFall && fallAt(quiet, best.slowness) > leastFallOfNoise ? best.slowness : null
}

/** A track whose loudest is below this holds nothing to go by, dB. */
const quietest = -70

const allWindows = (bands: SoundBands): number[] =>
  Array.from({ length: Math.floor(bands.levels.length / bandCount) }, (_, w) => w)

/** From low to high, a recording at the speed of life falls by less than this, dB: strikes and the microphone's own noise reach there (from memory). */
const mostFallOfLife = 20

/**
 * How many times slower than recorded the whole track is played: 2, 4 or 8 (or near it) where its frequencies end there, 1 where it
 * reaches as high as life does, null where neither is plain.
 */
export const soundSlownessOf = (bands: SoundBands): number | null => {
  const windows = allWindows(bands)
  if (windows.length < 10) return null
  const profile = profileOf(bands, windows)
  const slowness = slownessOf(profile)
  if (slowness !== null || Math.max(...profile.loud) < quietest) return slowness
  const fall = meanBetween(profile.loud, 0.12, 0.3) - meanBetween(profile.loud, 0.5, 0.72)
  return fall < mostFallOfLife ? 1 : null
}

/** Below, it is no slow motion that anybody makes a part of a film (common practice, no source). */
const minSlowness = 4
/** The slow part is at least this long, and so is what is left at the speed of life; seconds of the file. */
const leastSlow = 0.8
const leastRest = 0.3
/** Films with one are short: phones' slow motion (a longer take would be searched for too long). */
const longestFilm = 90

/**
 * The slow motion within a file of one constant rate, as phones export it: while it lasts, the sound's high frequencies are gone and its
 * low ones are not. Null where there is none, or no sound to tell it by.
 */
export const slowPartOf = (bands: SoundBands): (SlowPart & { slowness: number }) | null => {
  const { hopSeconds, fromSeconds, levels } = bands
  const windows = allWindows(bands)
  const count = windows.length
  if (count < 20 || count * hopSeconds > longestFilm) return null
  const high = windows.map((w) =>
    meanBetween(
      middles.map((_, b) => levels[w * bandCount + b]!),
      0.36,
      0.72,
    ),
  )
  const sums = [0]
  for (const value of high) sums.push(sums.at(-1)! + value)
  const total = sums[count]!
  const least = Math.ceil(leastSlow / hopSeconds)
  const rest = Math.ceil(leastRest / hopSeconds)
  let best = { gain: -Infinity, from: 0, to: 0 }
  // Two levels, the lower one in one stretch: least squares.
  for (let from = 0; from <= count - least; from++) {
    for (let to = from + least; to <= count; to++) {
      const inside = to - from
      const outside = count - inside
      if (outside < rest) continue
      const sum = sums[to]! - sums[from]!
      const fall = (total - sum) / outside - sum / inside
      if (fall <= 0) continue
      const gain = (fall ** 2 * inside * outside) / count
      if (gain > best.gain) best = { gain, from, to }
    }
  }
  if (!(best.gain > 0)) return null
  const { from, to } = best
  // The window in which it changes belongs to neither.
  const isInside = (w: number) => w > from && w < to - 1
  const isOutside = (w: number) => w < from - 1 || w > to
  const of = (values: readonly number[], which: (w: number) => boolean) => values.filter((_, w) => which(w))
  const isApart = quantile(of(high, isInside), 0.9) + 5 < quantile(of(high, isOutside), 0.1)
  if (!isApart) return null
  const slowness = slownessOf(profileOf(bands, windows.filter(isInside)))
  const restSays = slownessOf(profileOf(bands, windows.filter(isOutside)))
  if (slowness === null || slowness < minSlowness || restSays !== null) return null
  return {
    fromSeconds: fromSeconds + from * hopSeconds,
    toSeconds: fromSeconds + to * hopSeconds,
    slowness,
  }
}
