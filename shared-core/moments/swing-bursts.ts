import type { MotionCurve } from './motion-curve.ts'

/** One burst of motion shaped like a swing. Indices are frames, times real seconds of the clip's clock. */
export type SwingBurst = {
  /** Frame of the greatest change, near impact. */
  peak: number
  peakSeconds: number
  top: number | null
  takeaway: number | null
  finish: number | null
  /** 0 to 1: how clearly the motion rises out of a quieter top and dies away after. */
  clearness: number
  /** 0 to 1: how much of the motion has died away when the film ends or 0.9 s later. */
  calmed: number
  /** Mean grey-level change at the peak. */
  height: number
  /** How long the picture keeps changing at more than half of the peak's rate, real seconds. */
  fastSeconds: number
}

const smooth = (values: Float32Array, times: Float64Array, sigmaSeconds: number): Float32Array => {
  const out = new Float32Array(values.length)
  for (let i = 0; i < values.length; i++) {
    let sum = 0
    let weights = 0
    for (let direction = -1; direction <= 1; direction += 2) {
      for (let j = direction < 0 ? i : i + 1; j >= 0 && j < values.length; j += direction) {
        const z = (times[j]! - times[i]!) / sigmaSeconds
        if (Math.abs(z) > 3) break
        const weight = Math.exp(-0.5 * z * z)
        sum += weight * values[j]!
        weights += weight
      }
    }
    out[i] = sum / weights
  }
  return out
}

/** Single-frame spikes are key frames of the codec and lamps, not a golfer. */
const withoutSpikes = (values: Float32Array): Float32Array =>
  values.map((v, i) => {
    const a = values[i - 1] ?? v
    const b = values[i + 1] ?? v
    return Math.max(Math.min(v, a), Math.min(v, b), Math.min(a, b))
  })

const quantile = (values: Float32Array, share: number): number => {
  const sorted = values.slice().sort()
  return sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? 0
}

/** Seconds between frames, the median. */
export const medianFrameSeconds = (times: ArrayLike<number>): number => {
  const gaps: number[] = []
  for (let i = 1; i < times.length; i++) gaps.push(times[i]! - times[i - 1]!)
  gaps.sort((a, b) => a - b)
  return gaps[gaps.length >> 1] ?? 0
}

/** The curve to read at this capture rate, spikes removed: change over about a sixtieth of a second. */
export const curveForRate = (curve: MotionCurve, captureRate: number): Float32Array =>
  withoutSpikes(captureRate >= 100 ? curve.far : curve.near)

/** From the quietest picture to the hands' turn (made films of the tuning seeds; the one real clip agrees within a frame). */
const pelvisLeadSeconds = 0.012

/** Log likelihood of a duration: usual value and factor of spread (a log-normal one), its tail cut at five spreads. */
export const usual = (seconds: number, middle: number, factor: number): number =>
  -0.5 * Math.min(25, (Math.log(Math.max(0.01, seconds) / middle) / Math.log(factor)) ** 2)

/**
 * How well back and down, real seconds, fit a struck swing: from takeaway to impact 1.14 s, backswing 3.3 times the downswing (tour
 * players' medians, open data of 1,400 labelled swings; Grober & Cholewicki's 24 and 8 frames at 30 Hz), within factors of 1.22
 * and 1.35 (wider than theirs, for amateurs; no source). A log likelihood, 0 at best.
 */
export const swingFit = (backSeconds: number, downSeconds: number): number =>
  usual(backSeconds + downSeconds, 1.14, 1.22) + usual(backSeconds / Math.max(0.01, downSeconds), 3.3, 1.35)

/** Peaks closer than this are one burst; the fast part of the backswing and of the downswing are farther apart. */
const rivalSeconds = 0.45

/**
 * Finds the bursts of motion that look like a swing: still, slow (backswing), quieter (top), fast (downswing), settling.
 * Sorted by time. `times` are the frames' real seconds. What each moment rests on:
 * takeaway is the first sustained motion, top the quietest time between takeaway and the fast part (common practice,
 * no source), finish where the motion has settled.
 */
export const swingBursts = (curve: MotionCurve, times: Float64Array): SwingBurst[] => {
  const count = times.length
  if (count < 8) return []
  const gap = medianFrameSeconds(times) || 1 / 30
  const raw = curveForRate(curve, 1 / gap)
  const energy = smooth(raw, times, Math.max(0.02, gap * 0.6))
  const base = quantile(energy, 0.1)
  let highest = 0
  for (const e of energy) highest = Math.max(highest, e)
  const least = Math.max(0.02, base * 2, base + 0.15 * (highest - base))

  const frameOf = (seconds: number) => {
    let low = 0
    let high = count - 1
    while (low < high) {
      const middle = (low + high) >> 1
      if (times[middle]! < seconds) low = middle + 1
      else high = middle
    }
    return low
  }
  const extreme = (from: number, to: number, sign: 1 | -1) => {
    let best = Math.max(0, from)
    for (let i = best; i <= Math.min(count - 1, to); i++) {
      if (sign * energy[i]! > sign * energy[best]!) best = i
    }
    return best
  }

  const bursts: SwingBurst[] = []
  for (let i = 1; i < count - 1; i++) {
    const height = energy[i]!
    if (height < least) continue
    const t = times[i]!
    if (extreme(frameOf(t - 0.12), frameOf(t + 0.12), 1) !== i) continue
    if (height < 0.5 * energy[extreme(frameOf(t - 0.8), frameOf(t + 0.8), 1)]!) continue
    bursts.push(shape(i))
  }
  // The backswing's own peak can be as high as the downswing's, so of near ones the better shaped stays, not the higher.
  const kept: SwingBurst[] = []
  for (const burst of bursts.sort((a, b) => b.clearness * b.height - a.clearness * a.height)) {
    if (kept.every((k) => Math.abs(k.peakSeconds - burst.peakSeconds) > rivalSeconds)) kept.push(burst)
  }
  return kept.sort((a, b) => a.peak - b.peak)

  /**
   * The club starts from rest, so the change per frame rises in a straight line at first: followed back from two heights to
   * none, it tells the start, which lies before the change is large enough to be seen.
   */
  function startOf(seen: number, still: number, rise: number, until: number): number {
    const crossing = (share: number) => {
      const level = still + share * rise
      for (let i = Math.max(1, seen - 1); i <= until; i++) {
        if (energy[i]! < level) continue
        const part = (level - energy[i - 1]!) / (energy[i]! - energy[i - 1]! || 1)
        return times[i - 1]! + Math.max(0, Math.min(1, part)) * (times[i]! - times[i - 1]!)
      }
      return times[seen]!
    }
    const low = crossing(0.1)
    const high = crossing(0.3)
    const back = Math.min(0.12, ((high - low) * 0.1) / 0.2)
    // Half a frame: a change belongs between its two frames.
    return frameOf(Math.min(times[seen]!, low) - back - gap / 2)
  }

  function shape(peak: number): SwingBurst {
    const t = times[peak]!
    const height = energy[peak]!
    const rise = height - base
    let top: number | null = null
    let takeaway: number | null = null
    let finish: number | null = null
    let quiet = height
    let backswingShare = 0.3
    if (times[0]! < t - 0.2) {
      const quietest = extreme(frameOf(t - 0.6), frameOf(t - 0.1), -1)
      quiet = energy[quietest]!
      // The picture is quietest a little before the hands turn, for the pelvis starts down before them.
      top = Math.min(peak, frameOf(times[quietest]! + pelvisLeadSeconds))
      const backswing = extreme(frameOf(times[quietest]! - 1.1), quietest, 1)
      backswingShare = rise > 0 ? (energy[backswing]! - base) / rise : 0
      const still = quantile(energy.slice(frameOf(t - 4), Math.max(frameOf(t - 4) + 1, quietest)), 0.1)
      const limit = still + Math.max(0.06 * (energy[backswing]! - still), 0.006 * rise)
      for (let i = backswing, since = -1; i >= 0; i--) {
        if (energy[i]! > limit) since = -1
        else if (since < 0) since = i
        if (since >= 0 && times[since]! - times[i]! >= 0.12) {
          takeaway = Math.min(quietest, startOf(since + 1, still, energy[backswing]! - still, backswing))
          break
        }
      }
    }
    const settled = base + 0.1 * rise
    for (let i = frameOf(t + 0.2), since = -1; i < count && i > peak; i++) {
      if (energy[i]! > settled) since = -1
      else if (since < 0) since = i
      if (since >= 0 && times[i]! - times[since]! >= 0.15) {
        finish = since
        break
      }
    }
    const half = base + rise / 2
    const edge = (direction: -1 | 1) => {
      let last = peak
      for (let i = peak; i >= 0 && i < count && Math.abs(times[i]! - times[last]!) <= 0.1; i += direction) {
        if (energy[i]! >= half) last = i
      }
      return times[last]!
    }
    const fastSeconds = edge(1) - edge(-1) + gap
    const later = extreme(Math.min(count - 1, frameOf(t + 0.25)), frameOf(t + 0.9), -1)
    const after = energy[frameOf(t + 0.9)]! - base
    const calmed = rise > 0 && later > peak ? Math.max(0, Math.min(1, 1 - (energy[later]! - base) / rise)) : 0
    const contrastBefore = rise > 0 ? 1 - Math.max(0, quiet - base) / rise : 0
    const contrastAfter = rise > 0 ? 1 - Math.max(0, after) / rise : 0
    // What follows a standstill is a waggle or the backswing itself: no swing comes without one.
    const swung = Math.max(0, Math.min(1, 0.4 + 3 * backswingShare))
    const clearness =
      Math.max(0, Math.min(1, contrastBefore)) * Math.max(0, Math.min(1, contrastAfter)) * swung
    return { peak, peakSeconds: t, top, takeaway, finish, clearness, calmed, height, fastSeconds }
  }
}
