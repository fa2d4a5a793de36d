import type { SoundEnvelope } from './sound-envelope.ts'

/** One sharp sound that could be the club meeting the ball. Times in real seconds from the track's start. */
export type StrikeCandidate = {
  /** When the sound begins at the microphone. */
  heardAtSeconds: number
  /** Root mean square above the split in the first 3 ms: comparable between candidates of one clip. */
  strength: number
  /** Rise over the 25 ms before it, dB. */
  attackDb: number
  /** Time from a fifth of its height to its height, ms. */
  riseMs: number
  /** How far it has fallen 15 to 45 ms later, dB; small in a hall's echo, in speech and in hiss. */
  decayDb: number
  /** Rise of the high band over the rise of the low one in the first 3 ms, dB. */
  brightDb: number
  /** 0 to 1: how much it sounds like a strike, whatever else is in the clip. */
  likeness: number
}

const sigmoid = (x: number) => 1 / (1 + Math.exp(-x))
const decibel = (ratio: number) => 10 * Math.log10(ratio)

const sums = (values: Float32Array): Float64Array => {
  const out = new Float64Array(values.length + 1)
  for (let i = 0; i < values.length; i++) out[i + 1] = out[i]! + values[i]!
  return out
}

const quantileOf = (values: Float32Array, share: number): number => {
  if (values.length === 0) return 0
  const sorted = values.slice().sort()
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))]!
}

/**
 * Finds every sound that begins like a strike: a broadband click above the wind and the voiced part of speech
 * that is there within a millisecond or two. Sorted by time; empty for silence.
 *
 * The onset is traced back along the rise to a fifth of the first peak's height, to well under a millisecond.
 */
export const strikeCandidates = (envelope: SoundEnvelope): StrikeCandidate[] => {
  const { high, low, binSeconds } = envelope
  const bins = high.length
  const per = (milliseconds: number) => Math.max(1, Math.round(milliseconds / 1000 / binSeconds))
  const step = per(1)
  const front = per(3)
  const gap = per(1.5)
  const back = per(25)
  if (bins < front + 2) return []

  const highSums = sums(high)
  const lowSums = sums(low)
  const meanOf = (running: Float64Array, from: number, to: number) => {
    const a = Math.max(0, from)
    const b = Math.min(bins, to)
    return b > a ? (running[b]! - running[a]!) / (b - a) : 0
  }

  // The floor keeps digital silence and a codec's near-silence from making every breath a click.
  const coarse = new Float32Array(Math.max(1, Math.floor(bins / front)))
  for (let i = 0; i < coarse.length; i++) coarse[i] = meanOf(highSums, i * front, (i + 1) * front)
  let loudest = 0
  for (const value of coarse) loudest = Math.max(loudest, value)
  const floor = Math.max(quantileOf(coarse, 0.3), loudest * 1e-6, 1e-11)

  const steps = Math.floor((bins - front) / step)
  const novelty = new Float32Array(Math.max(0, steps))
  for (let k = 0; k < steps; k++) {
    const at = k * step
    const ahead = meanOf(highSums, at, at + front)
    const mean = meanOf(highSums, at - gap - back, at - gap)
    novelty[k] = decibel((ahead + floor) / (mean + floor))
  }

  const found: StrikeCandidate[] = []
  const near = 30
  for (let k = 0; k < steps; k++) {
    const value = novelty[k]!
    if (value < 8) continue
    let isPeak = true
    for (let j = Math.max(0, k - near); j <= Math.min(steps - 1, k + near) && isPeak; j++) {
      const other = novelty[j]!
      if (other > value || (other === value && j < k)) isPeak = false
    }
    if (!isPeak) continue
    found.push(describe(k * step))
  }
  return found

  function describe(at: number): StrikeCandidate {
    const from = Math.max(0, at - per(3))
    const to = Math.min(bins, at + per(6))
    let peak = 0
    for (let i = from; i < to; i++) peak = Math.max(peak, high[i]!)
    // The first bin that reaches half of the peak's amplitude is on the first rise, even if a later wiggle is higher.
    let reached = from
    while (reached < to - 1 && high[reached]! < peak / 4) reached++
    const before = meanOf(highSums, from - back, from)
    const foot = Math.max(peak * 0.04, before * 4)
    let onset = reached
    const reach = per(0.375)
    for (let i = reached, quiet = 0; i >= from; i--) {
      if (high[i]! >= foot) {
        onset = i
        quiet = 0
      } else if (++quiet > reach) break
    }
    const front0 = meanOf(highSums, onset, onset + front)
    const behind = meanOf(highSums, onset - gap - back, onset - per(0.5))
    const later = meanOf(highSums, onset + per(15), onset + per(45))
    const lowRise = decibel(
      (meanOf(lowSums, onset, onset + front) + floor) /
        (meanOf(lowSums, onset - back, onset - per(0.5)) + floor),
    )
    let steep = onset
    while (steep < to - 1 && high[steep]! < peak * 0.64) steep++
    const attackDb = decibel((front0 + floor) / (behind + floor))
    const riseMs = (steep - onset) * binSeconds * 1000
    const decayDb = decibel((front0 + floor) / (later + floor))
    const brightDb = attackDb - lowRise
    // A hall's echo or a phone's microphone can hide the decay and the brightness, so neither alone may rule it out.
    const likeness =
      sigmoid((attackDb - 13) / 3) *
      sigmoid((3.2 - riseMs) / 0.7) *
      (0.15 + 0.85 * sigmoid((decayDb - 4) / 2)) *
      (0.15 + 0.85 * sigmoid((brightDb + 12) / 4))
    return {
      heardAtSeconds: onset * binSeconds,
      strength: Math.sqrt(front0),
      attackDb,
      riseMs,
      decayDb,
      brightDb,
      likeness,
    }
  }
}
