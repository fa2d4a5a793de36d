import { Problem } from '../problem.ts'

/** A small grey picture of one frame. */
export type GreyFrame = {
  index: number
  /** The frame's timestamp in the file, seconds. */
  atSeconds: number
  /** Row by row, width × height values. */
  pixels: Uint8Array
  width: number
  height: number
}

/** How much the picture changes at each frame. */
export type MotionCurve = {
  /** File timestamps of the frames, seconds. */
  atSeconds: Float64Array
  /** Change from frame to frame, mean grey levels above the noise; the first frame has 0. */
  near: Float32Array
  /** The same over four frames, centred on the frame: shows slow movement in clips of high rate. */
  far: Float32Array
}

const farFrames = 4

const bins = 8
const span = 511

/** How often each change was met, one row for each brightness that it began from; lent from frame to frame. */
const counts = new Uint32Array(bins * span)
const histogram = new Uint32Array(span)

/** How much the light itself changed, grey levels, for dark to bright parts of the picture: lamps that flicker, exposure that follows. */
const lightChange = (size: number): Int16Array => {
  const shift = new Int16Array(bins)
  for (let bin = 0; bin < bins; bin++) {
    const row = counts.subarray(bin * span, (bin + 1) * span)
    let all = 0
    for (let at = 0; at < span; at++) all += row[at]!
    // Most of what has one brightness stands still; where there is too little of it, the next darker one stands in.
    if (all < 0.03 * size) {
      shift[bin] = bin > 0 ? shift[bin - 1]! : 0
      continue
    }
    let at = 0
    for (let seen = 0; at < span; at++) {
      seen += row[at]!
      if (seen * 2 >= all) break
    }
    shift[bin] = at - 255
  }
  return shift
}

const changeBetween = (a: Uint8Array, b: Uint8Array): number => {
  const size = a.length
  counts.fill(0)
  for (let i = 0; i < size; i++) counts[(a[i]! >> 5) * span + b[i]! - a[i]! + 255]!++
  const light = lightChange(size)
  histogram.fill(0)
  for (let bin = 0; bin < bins; bin++) {
    const zero = 255 + light[bin]!
    for (let at = 0; at < span; at++) {
      histogram[Math.min(span - 1, Math.abs(at - zero))]! += counts[bin * span + at]!
    }
  }
  // Most of the picture stands still, so its median change is the noise of sensor and codec.
  let median = 0
  for (let seen = 0; median < 255; median++) {
    seen += histogram[median]!
    if (seen * 2 >= size) break
  }
  const threshold = Math.max(6, 5 * median + 4)
  let sum = 0
  for (let d = threshold + 1; d < span; d++) sum += histogram[d]! * (d - threshold)
  return sum / size
}

/**
 * Builds a {@link MotionCurve} from frames that arrive in order; keeps five frames, however long the clip is.
 * Throws Problem `frame-size` if a frame has another size than the first.
 */
export class MotionCurveBuilder {
  private readonly times: number[] = []
  private readonly near: number[] = []
  private readonly lagged: number[] = []
  private readonly recent: Uint8Array[] = []

  /** Takes the next frame, and tells how much it changed from the one before. */
  push(frame: GreyFrame): number {
    const last = this.recent[0]
    if (frame.pixels.length !== frame.width * frame.height || (last && last.length !== frame.pixels.length)) {
      throw new Problem('frame-size', { frame: frame.index })
    }
    this.times.push(frame.atSeconds)
    const change = last ? changeBetween(last, frame.pixels) : 0
    this.near.push(change)
    const old = this.recent[farFrames - 1]
    this.lagged.push(old ? changeBetween(old, frame.pixels) : 0)
    const own = this.recent.length < farFrames ? new Uint8Array(frame.pixels.length) : this.recent.pop()!
    own.set(frame.pixels)
    this.recent.unshift(own)
    return change
  }

  finish(): MotionCurve {
    const count = this.times.length
    const far = new Float32Array(count)
    for (let i = 0; i < count; i++) far[i] = this.lagged[Math.min(count - 1, i + farFrames / 2)] ?? 0
    return { atSeconds: Float64Array.from(this.times), near: Float32Array.from(this.near), far }
  }
}

/**
 * The curve of a film whose frames lie unevenly in real time, as if they all lay as close as most: change over four times the time is
 * four times as much.
 *
 * @param real Real seconds of its frames.
 */
export const evened = (curve: MotionCurve, real: Float64Array): MotionCurve => {
  const gaps = Float64Array.from(real, (t, i) => (i > 0 ? t - real[i - 1]! : 0))
  const usual = gaps.slice(1).sort()[(gaps.length - 1) >> 1] ?? 0
  const isLong = (i: number) => (gaps[i] ?? 0) > 1.5 * usual
  const near = curve.near.map((v, i) => (isLong(i) ? (v * usual) / gaps[i]! : v))
  const far = curve.far.map((v, i) => {
    const from = Math.max(0, i - farFrames / 2 + 1)
    const isMixed = Array.from({ length: farFrames }, (_, k) => from + k).some(isLong)
    return isMixed ? farFrames * near[i]! : v
  })
  return { ...curve, near, far }
}
