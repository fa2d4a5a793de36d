import { cylinderSpeedMps } from './cylinder-tone.ts'
import { spectrogram } from './spectrogram.ts'

/** One swish: a stick or club that went fast through the air. Times in real seconds from the track's start, as heard. */
export type Swish = {
  /** When it was loudest. */
  atSeconds: number
  fromSeconds: number
  toSeconds: number
  /** Level at its loudest, dB below a full-scale sine (0 is the loudest a recording can hold). */
  levelDb: number
  /** How far it stands out of the sound around it, dB. */
  aboveNoiseDb: number
  /** Middle of its sound at its loudest, Hz. */
  pitchHz: number
  /** How its level goes with its pitch, dB an octave; 18 for a rod in air (power with the sixth of speed). */
  dbPerOctave: number
}

const lowHz = 140
const highHz = 4000
/** Below this a swish can't be told from the sound around it. */
const minAboveDb = 9
/** The part looked at: from 10 dB below the loudest. Power goes with v⁶, so that is where the tip has 0.68 of its speed. */
const downDb = 10
/** A stick needs at least this long from 0.68 of its speed to all of it, s; a strike's click does not. */
const shortestRise = 0.012
const longest = 0.5
/** dB an octave: 18 by the sixth power; a microphone that evens loudness out, and one that the rod passes, spread it. */
const minSlope = 5
const maxSlope = 60
const minFit = 0.4
/** How far below the loudest level and pitch are compared. */
const followDb = 16

/** Nothing else within this long before and after is louder than this far below it. */
const aloneSeconds = 0.35
const aloneDb = 7

const sortedCopy = (values: Float64Array) => values.slice().sort()

/**
 * Finds swishes: sounds of one broad hump that rise and fall smoothly within some tenths of a second, and whose pitch rises
 * and falls with their loudness, because both come from the speed. Wind does not change its pitch with its gusts; a voice has
 * harmonics of one low pitch; a strike is there within a millisecond.
 */
export const findSwishes = (pcm: Float32Array, samplesPerRealSecond: number): Swish[] => {
  const { atSeconds, binHz, rows, power, stepSeconds } = spectrogram(pcm, samplesPerRealSecond)
  const columns = atSeconds.length
  const from = Math.max(1, Math.ceil(lowHz / binHz))
  const to = Math.min(rows - 1, Math.floor(highHz / binHz))
  if (columns < 12 || to <= from + 8) return []

  // What is there all the time, row by row: the quiet third of the track.
  const floor = new Float64Array(rows)
  const line = new Float64Array(columns)
  for (let k = from; k <= to; k++) {
    for (let c = 0; c < columns; c++) line[c] = power[c * rows + k]!
    // The mean of noise whose power is spread exponentially is 2.47 times its lower third.
    floor[k] = 2.47 * sortedCopy(line)[Math.floor(columns / 3)]! + 1e-14
  }
  const column = (c: number) => {
    let sum = 0
    let weighted = 0
    let noise = 0
    let best = from
    let bestPower = -1
    const hump = new Float64Array(to + 1)
    for (let k = from; k <= to; k++) {
      let mean = 0
      let count = 0
      for (let d = Math.max(0, c - 1); d <= Math.min(columns - 1, c + 1); d++) {
        mean += power[d * rows + k]!
        count++
      }
      hump[k] = Math.max(0, mean / count - 2 * floor[k]!)
      noise += floor[k]!
    }
    for (let k = from; k <= to; k++) {
      // A third of an octave around it: one line of a noise is not its middle.
      const half = Math.max(1, Math.round(k * 0.12))
      let around = 0
      for (let j = Math.max(from, k - half); j <= Math.min(to, k + half); j++) around += hump[j]!
      if (around > bestPower) {
        bestPower = around
        best = k
      }
    }
    let all = 0
    for (let k = from; k <= to; k++) all += hump[k]!
    for (let k = Math.max(from, Math.round(best * 0.6)); k <= Math.min(to, Math.round(best * 1.6)); k++) {
      sum += hump[k]!
      weighted += hump[k]! * k
    }
    return { energy: sum, all, noise, hz: sum > 0 ? (weighted / sum) * binHz : 0 }
  }
  const raw = Array.from({ length: columns }, (_, c) => column(c))
  // A narrow noise wavers by itself; over 28 ms it tells its level.
  const seen = raw.map((_, c) => {
    const around = raw.slice(Math.max(0, c - 3), c + 4)
    const energy = around.reduce((sum, p) => sum + p.energy, 0) / around.length
    return {
      energy,
      all: around.reduce((sum, p) => sum + p.all, 0) / around.length,
      noise: raw[c]!.noise,
      hz: energy > 0 ? around.reduce((sum, p) => sum + p.energy * p.hz, 0) / around.length / energy : 0,
    }
  })
  const found: Swish[] = []
  let c = 0
  const near = Math.round(0.15 / stepSeconds)
  for (; c < columns; c++) {
    const peak = seen[c]!
    if (!(peak.energy > 0)) continue
    let isPeak = true
    for (let d = Math.max(0, c - near); d <= Math.min(columns - 1, c + near) && isPeak; d++) {
      if (seen[d]!.energy > peak.energy || (seen[d]!.energy === peak.energy && d < c)) isPeak = false
    }
    if (!isPeak) continue
    const swish = judge(c)
    if (swish) found.push(swish)
  }
  return found

  function judge(at: number): Swish | null {
    const peak = seen[at]!
    const aboveNoiseDb = 10 * Math.log10(peak.energy / peak.noise)
    if (aboveNoiseDb < minAboveDb) return null
    const down = peak.energy * 10 ** (-downDb / 10)
    let first = at
    while (first > 0 && seen[first - 1]!.energy > down) first--
    let last = at
    while (last < columns - 1 && seen[last + 1]!.energy > down) last++
    // Cut off by the track's end: how it went on is not known.
    if (first === 0 || last === columns - 1) return null
    const rise = (at - first) * stepSeconds
    const length = (last - first + 1) * stepSeconds
    // The window of the spectrum smears a click over its own length.
    if (length > longest || length < 0.05 + 2 * shortestRise || rise < shortestRise) return null
    const part = seen.slice(first, last + 1)
    // One hump: most of what is heard is around its middle.
    const share = part.reduce((sum, p) => sum + p.energy, 0) / part.reduce((sum, p) => sum + p.all, 0)
    if (share < 0.6) return null
    // The pitch says more the wider it is followed, down to where the noise is.
    const wide = peak.energy * 10 ** (-Math.min(followDb, aboveNoiseDb - 3) / 10)
    let low = first
    while (low > 0 && seen[low - 1]!.energy > wide && at - low < 2 * (at - first) + 4) low--
    let high = last
    while (high < columns - 1 && seen[high + 1]!.energy > wide && high - at < 2 * (last - at) + 4) high++
    const { slope, fit } = levelOverPitch(seen.slice(low, high + 1))
    if (slope < minSlope || slope > maxSlope || fit < minFit) return null
    if (isVoiced(at, peak.hz) || !isAlone(first, last, peak.energy)) return null
    return {
      atSeconds: loudestAt(at),
      fromSeconds: atSeconds[first]!,
      toSeconds: atSeconds[last]!,
      // A full-scale sine has a mean square of a half; Hann's window keeps 3/8 of the power, over both halves of the spectrum.
      levelDb: 10 * Math.log10((2 * peak.energy * (8 / 3)) / rows / 0.5 / 2),
      aboveNoiseDb,
      pitchHz: peak.hz,
      dbPerOctave: slope,
    }
  }

  /** Between the columns: the middle of what is within 3 dB of the loudest. */
  function loudestAt(at: number): number {
    const high = seen[at]!.energy / 2
    let a = at
    while (a > 0 && seen[a - 1]!.energy > high) a--
    let b = at
    while (b < columns - 1 && seen[b + 1]!.energy > high) b++
    let sum = 0
    let weighted = 0
    for (let d = a; d <= b; d++) {
      sum += seen[d]!.energy - high
      weighted += (seen[d]!.energy - high) * atSeconds[d]!
    }
    return sum > 0 ? weighted / sum : atSeconds[at]!
  }

  /** Least squares of the level (dB) over the pitch (octaves), and the correlation. */
  function levelOverPitch(part: { energy: number; hz: number }[]): { slope: number; fit: number } {
    const x = part.map((p) => Math.log2(Math.max(1, p.hz)))
    const y = part.map((p) => 10 * Math.log10(p.energy))
    const mx = x.reduce((s, v) => s + v, 0) / x.length
    const my = y.reduce((s, v) => s + v, 0) / y.length
    let sxx = 0
    let sxy = 0
    let syy = 0
    for (let i = 0; i < x.length; i++) {
      sxx += (x[i]! - mx) ** 2
      sxy += (x[i]! - mx) * (y[i]! - my)
      syy += (y[i]! - my) ** 2
    }
    const fit = sxx > 0 && syy > 0 ? sxy / Math.sqrt(sxx * syy) : 0
    // Both are measured with error, so the slope is that of the reduced major axis, not of the regression.
    return { slope: sxx > 0 ? Math.sqrt(syy / sxx) * Math.sign(fit) : 0, fit }
  }

  /** Syllables follow each other within some tenths of a second; swings do not. */
  function isAlone(first: number, last: number, energy: number): boolean {
    const away = Math.round(0.05 / stepSeconds)
    const reach = Math.round(aloneSeconds / stepSeconds)
    const most = energy * 10 ** (-aloneDb / 10)
    const isQuiet = (a: number, b: number) =>
      seen.slice(Math.max(0, a), Math.max(0, b)).every((p) => p.energy < most)
    return isQuiet(first - reach, first - away) && isQuiet(last + away, last + reach)
  }

  /** A voice: its sound repeats at 70 to 350 Hz, well below the hump's own pitch. */
  function isVoiced(at: number, hz: number): boolean {
    // The spectrum's own ripple: power at multiples of a pitch, against that half-way between.
    let comb = 0
    for (let pitch = 70; pitch <= 350; pitch += 5) {
      if (pitch > hz / 1.6) break
      let on = 0
      let off = 0
      for (let m = 1; m * pitch < 1.6 * hz; m++) {
        on += valueAt(at, m * pitch)
        off += valueAt(at, (m + 0.5) * pitch)
      }
      if (on + off > 0) comb = Math.max(comb, (on - off) / (on + off))
    }
    return comb > 0.75
  }

  function valueAt(at: number, hz: number): number {
    const k = Math.round(hz / binHz)
    let sum = 0
    for (let d = Math.max(0, at - 5); d <= Math.min(columns - 1, at + 5); d++) sum += power[d * rows + k] ?? 0
    return sum
  }
}

/**
 * The tip is at the upper edge of the hump: pieces nearer to the hands are slower and far weaker (power with the sixth of
 * speed, which grows with the radius), so that the middle of the power is at 7/8 of the tip's tone (∫f⁷ / ∫f⁶).
 */
const middleOfHump = 7 / 8

/** Share of the speed within which an estimate from the pitch is taken to lie; what scripts/worlds/swish.ts shows. */
export const stickSpeedError = 0.15

/**
 * Speed of the tip of a smooth stick of known diameter, m/s, ± {@link stickSpeedError}: an estimate from the pitch, never to be
 * mixed with a device's club speed.
 */
export const stickSpeedMps = (swish: Pick<Swish, 'pitchHz'>, diameterM: number): number =>
  cylinderSpeedMps(swish.pitchHz / middleOfHump, diameterM)

/** Nearer to the bottom than this, "at the bottom": what finding the loudest and marking a frame leave open, s. */
export const bottomToleranceSeconds = 0.02

/** Where in the swing it was loudest, given when the club was lowest (both as heard or both as seen). */
export const loudestWhere = (
  swishSeconds: number,
  bottomSeconds: number,
): { where: 'before' | 'at' | 'after'; bySeconds: number } => {
  const by = swishSeconds - bottomSeconds
  return { where: Math.abs(by) <= bottomToleranceSeconds ? 'at' : by < 0 ? 'before' : 'after', bySeconds: by }
}
