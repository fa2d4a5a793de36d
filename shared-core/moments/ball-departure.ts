import type { GreyFrame } from './motion-curve.ts'

/** The ball leaving its place, read off the picture. */
export type BallDeparture = {
  /** Index of the last frame in which the still patch is unchanged. */
  frame: number
  /** Place in the small picture, pixels. */
  x: number
  y: number
  sizePx: number
  /** 0 to 1. */
  confidence: number
}

type Blob = { pixels: number[]; left: number; right: number; top: number; bottom: number }

const pick = (indices: number[], most: number): number[] => {
  if (indices.length <= most) return indices
  return Array.from({ length: most }, (_, i) => indices[Math.floor((i * indices.length) / most)]!)
}

const meanAndSpread = (frames: GreyFrame[], indices: number[], size: number) => {
  const mean = new Float32Array(size)
  const spread = new Float32Array(size)
  for (const index of indices) {
    const { pixels } = frames[index]!
    for (let i = 0; i < size; i++) {
      const v = pixels[i]!
      mean[i]! += v
      spread[i]! += v * v
    }
  }
  const n = indices.length
  for (let i = 0; i < size; i++) {
    mean[i]! /= n
    spread[i] = Math.sqrt(Math.max(0, spread[i]! / n - mean[i]! * mean[i]!))
  }
  return { mean, spread }
}

const medianOf = (values: Float32Array): number => {
  const sample = new Float32Array(Math.ceil(values.length / 16))
  for (let i = 0; i < sample.length; i++) sample[i] = values[i * 16]!
  sample.sort()
  return sample[sample.length >> 1] ?? 0
}

const blobsOf = (mask: Uint8Array, width: number, height: number): Blob[] => {
  const blobs: Blob[] = []
  const stack: number[] = []
  for (let start = 0; start < mask.length; start++) {
    if (mask[start] !== 1) continue
    const blob: Blob = { pixels: [], left: width, right: 0, top: height, bottom: 0 }
    mask[start] = 2
    stack.push(start)
    while (stack.length > 0) {
      const at = stack.pop()!
      const x = at % width
      const y = (at - x) / width
      blob.pixels.push(at)
      blob.left = Math.min(blob.left, x)
      blob.right = Math.max(blob.right, x)
      blob.top = Math.min(blob.top, y)
      blob.bottom = Math.max(blob.bottom, y)
      for (let dy = -1; dy <= 1; dy++) {
        for (let dx = -1; dx <= 1; dx++) {
          const nx = x + dx
          const ny = y + dy
          if (nx < 0 || ny < 0 || nx >= width || ny >= height) continue
          const next = ny * width + nx
          if (mask[next] !== 1) continue
          mask[next] = 2
          stack.push(next)
        }
      }
    }
    blobs.push(blob)
  }
  return blobs
}

const quantileOf = (values: number[], share: number): number => {
  values.sort((x, y) => x - y)
  return values[Math.min(values.length - 1, Math.floor(values.length * share))] ?? 0
}

const clamp01 = (x: number) => Math.max(0, Math.min(1, x))

/**
 * Looks for the ball leaving near `expectedSeconds`; what is found moves the expectation, until both agree, for the
 * pictures "before" and "after" are only clean when they really lie before and after.
 */
export const ballDeparture = (
  frames: GreyFrame[],
  times: ArrayLike<number>,
  expectedSeconds: number,
): BallDeparture | null => {
  let best: BallDeparture | null = null
  for (const offset of [0, -0.1, 0.1]) {
    const found = settle(expectedSeconds + offset)
    if (found && found.confidence > (best?.confidence ?? 0)) best = found
    if (best && best.confidence > 0.4) break
  }
  return best

  function settle(start: number): BallDeparture | null {
    let expected = start
    for (let round = 0; round < 4; round++) {
      const found = departureNear(frames, times, expected)
      if (!found) return null
      const at = times[frames.findIndex((f) => f.index === found.frame)]!
      if (Math.abs(at - expected) <= 0.06) return found
      expected = at
    }
    return null
  }
}

/**
 * Looks for a small bright blob that keeps still through the downswing and is gone for good after `expectedSeconds`
 * (real seconds, known to about a quarter of a second). `frames` cover at least half a second on either side, of one
 * size; `times` are their real seconds. Null if nothing of the kind is there.
 */
const departureNear = (
  frames: GreyFrame[],
  times: ArrayLike<number>,
  expectedSeconds: number,
): BallDeparture | null => {
  const first = frames[0]
  if (!first) return null
  const { width, height } = first
  const size = width * height
  const within = (from: number, to: number) => {
    const out: number[] = []
    for (let i = 0; i < frames.length; i++) {
      const t = times[i]! - expectedSeconds
      if (t >= from && t <= to) out.push(i)
    }
    return out
  }
  const before = pick(within(-0.5, -0.12), 24)
  let after = pick(within(0.16, 0.6), 24)
  if (after.length < 3) after = within(0.07, 0.6)
  if (before.length < 3 || after.length < 2) return null

  const b = meanAndSpread(frames, before, size)
  const a = meanAndSpread(frames, after, size)
  const noise = Math.max(medianOf(b.spread), medianOf(a.spread), 0.7)
  const mask = new Uint8Array(size)
  const least = Math.max(14, 4 * noise)
  for (let i = 0; i < size; i++) {
    const contrast = b.mean[i]! - a.mean[i]!
    const calm = Math.max(3 * noise, 0.25 * contrast)
    if (contrast > least && b.spread[i]! < calm && a.spread[i]! < calm) mask[i] = 1
  }

  const widest = Math.max(width, height) / 14
  let best: BallDeparture | null = null
  let bestScore = 0
  let secondScore = 0
  for (const blob of blobsOf(mask, width, height)) {
    const w = blob.right - blob.left + 1
    const h = blob.bottom - blob.top + 1
    if (blob.pixels.length < 2 || Math.max(w, h) > widest) continue
    if (Math.max(w, h) > 2.5 * Math.min(w, h) + 1 || blob.pixels.length < 0.45 * w * h) continue
    const judged = judge(blob, Math.max(w, h))
    if (!judged) continue
    if (judged.confidence > bestScore) {
      secondScore = bestScore
      bestScore = judged.confidence
      best = judged
    } else secondScore = Math.max(secondScore, judged.confidence)
  }
  if (!best) return null
  // Two places that both look like it: neither can be trusted fully, unless they tell the same time.
  const confidence = bestScore * (1 - 0.4 * (secondScore / bestScore))
  return { ...best, confidence }

  function judge(blob: Blob, sizePx: number): BallDeparture | null {
    let contrast = 0
    let weight = 0
    let inside = 0
    for (const i of blob.pixels) {
      const c = b.mean[i]! - a.mean[i]!
      contrast += c
      weight += c * c
      inside += b.mean[i]!
    }
    contrast /= blob.pixels.length
    inside /= blob.pixels.length

    // A ring around it: darker than the blob while the ball is there, and itself unchanged by the swing.
    const reach = Math.max(2, Math.ceil(sizePx * 0.6))
    const own = new Set(blob.pixels)
    const ringBefore: number[] = []
    const ringChange: number[] = []
    let appeared = 0
    for (let y = blob.top - reach; y <= blob.bottom + reach; y++) {
      for (let x = blob.left - reach; x <= blob.right + reach; x++) {
        if (x >= 0 && y >= 0 && x < width && y < height) {
          const i = y * width + x
          if (a.mean[i]! - b.mean[i]! > contrast / 2) appeared++
        }
        const outer = x < blob.left - 1 || x > blob.right + 1 || y < blob.top - 1 || y > blob.bottom + 1
        if (!outer || x < 0 || y < 0 || x >= width || y >= height || own.has(y * width + x)) continue
        const i = y * width + x
        ringBefore.push(b.mean[i]!)
        ringChange.push(Math.abs(b.mean[i]! - a.mean[i]!))
      }
    }
    if (ringBefore.length === 0) return null
    // Darker on most sides, for a shoe may stand close by; a gap that the body closes is as bright as what lies beside it.
    const standsOut = clamp01((inside - quantileOf(ringBefore, 0.68)) / contrast / 0.6)
    const alone = clamp01(1.5 - (2.5 * quantileOf(ringChange, 0.5)) / contrast)
    if (standsOut < 0.3 || alone <= 0.1) return null

    // A ball is gone; a shoe, a glove or a tee marker that was pushed is bright again beside its old place.
    const moved = clamp01(1.3 - (1.3 * appeared) / (0.35 * blob.pixels.length))

    const share = (index: number) => {
      const { pixels } = frames[index]!
      let sum = 0
      for (const i of blob.pixels) sum += (pixels[i]! - a.mean[i]!) * (b.mean[i]! - a.mean[i]!)
      return sum / weight
    }
    const tolerance = Math.min(0.45, 0.22 + (2 * noise) / contrast / Math.sqrt(blob.pixels.length))
    const span = within(-0.5, 0.6)
    const shares = span.map(share)
    const unchanged = shares.map((s) => Math.abs(s - 1) < tolerance)
    // Best split: unchanged up to it, changed after it.
    let right = unchanged.filter((u) => !u).length
    let split = -1
    let most = -1
    for (let k = 0; k < span.length; k++) {
      right += unchanged[k] ? 1 : -1
      const offset = times[span[k]!]! - expectedSeconds
      if (unchanged[k] && right >= most && offset > -0.3 && offset < 0.35) {
        most = right
        split = k
      }
    }
    if (split < 0 || split === span.length - 1) return null
    const steady = clamp01((most / span.length - 0.7) / 0.25)
    // Gone within a frame or two; a shoe or a shadow takes longer.
    let gone = split + 1
    while (gone < span.length && Math.abs(shares[gone]!) > 0.5) gone++
    const fade = (times[span[Math.min(gone, span.length - 1)]!]! - times[span[split]!]!) * 1
    const step = times[span[split + 1]!]! - times[span[split]!]!
    const sudden = clamp01(1.6 - Math.max(0, fade - step) / Math.max(0.025, 1.2 * step))
    const low = (blob.top + blob.bottom) / 2 / height > 0.45 ? 1 : 0.6
    const clear = clamp01((contrast / noise - 3) / 6)
    // A speck of two or three pixels may be chance.
    const big = Math.min(1, 0.45 + blob.pixels.length / 11)
    // It has lain there since before the backswing; a gap between limbs has not.
    const earlier = within(-0.95, -0.5).map((index) => Math.abs(share(index) - 1) < tolerance)
    const lay = earlier.length < 3 ? 1 : clamp01(earlier.filter(Boolean).length / earlier.length / 0.6)
    const confidence =
      (0.3 + 0.7 * lay) * 0.92 * standsOut * alone * steady * sudden * low * clear * big * moved
    if (confidence <= 0.02) return null
    return {
      frame: frames[span[split]!]!.index,
      x: (blob.left + blob.right) / 2,
      y: (blob.top + blob.bottom) / 2,
      sizePx,
      confidence,
    }
  }
}
