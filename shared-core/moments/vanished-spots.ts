/** A bright spot that lay still and was gone from one frame to the next: what a struck ball looks like. */
export type VanishedSpot = {
  /** Index of the last frame that still shows it, the middle of the change where that took several frames. */
  frame: number
  /** The last frame that shows it, and the first without it in which nothing stands over its place. */
  lastSeen: number
  goneBy: number
  /** Place in the picture that was searched, pixels. */
  x: number
  y: number
  sizePx: number
  /** How it went; see {@link spotScore} for what each says. */
  signs: SpotSigns
}

/** What speaks for a spot being a ball that went, without units or in frames. */
export type SpotSigns = {
  /** Contrast over noise, of the whole spot. */
  clarity: number
  /** Share of the frames before in which it is there, and after in which it is gone. */
  there: number
  gone: number
  /** Frames in a row up to the change in which it lay there (short gaps allowed): a ball has lain there all backswing. */
  lay: number
  /** Frames in which it is neither, at the change. */
  changing: number
  /** How much brighter than what is round it, and how little that changes: shares of its own contrast. */
  standsOut: number
  surroundings: number
  /** Brightness that came up close by: a thing that was pushed, not struck away. Share of its area. */
  appeared: number
  /** Share of its surroundings that is clearly darker: a ball lies alone, a shoe's tip has a shoe beside it. */
  alone: number
  /** Spread of the levels round it, share of its contrast. */
  uneven: number
  /** Its width over the height of the picture. */
  sizeShare: number
  /** Height in the picture: 0 top, 1 bottom. */
  low: number
  /** Area in pixels, and longer over shorter side. */
  area: number
  aspect: number
  /** Frames over which it was seen before and looked for after. */
  framesBefore: number
  framesAfter: number
}

type Spot = {
  inside: Int32Array
  ring: Int32Array
  /** Levels inside as they are left behind. */
  left: Float32Array
  /** Levels before and after, minus the ring's. */
  before: Float32Array
  after: Float32Array
  weight: number
  /** Mean fall of the levels inside. */
  contrast: number
  x: number
  y: number
  sizePx: number
  block: number
  fromFrame: number
  changeFrom: number
  changeTo: number
  lastFrame: number
  shares: Float32Array
  filled: number
  partial: Pick<
    SpotSigns,
    | 'clarity'
    | 'standsOut'
    | 'surroundings'
    | 'appeared'
    | 'alone'
    | 'uneven'
    | 'sizeShare'
    | 'low'
    | 'area'
    | 'aspect'
  >
  tolerance: number
}

type Level = {
  block: number
  frames: number
  sum: Float32Array
  means: Float32Array[]
  starts: number[]
  start: number
}

/**
 * The last frame before a ball left its place. Where a club covers the place it left meanwhile: in the middle of it, for a club head
 * comes as far as it goes.
 */
export const leftAt = (lastSeen: number, goneBy: number): number =>
  (lastSeen + Math.max(lastSeen + 1, goneBy)) >> 1

/** Lengths of the stretches that are compared, frames: from 15 frames/s up to slow motion of 240. */
const blocks = [4, 8, 16, 32, 64]
const longestBefore = 200
const maxActive = 160
/** Frames for which a club hides the ball about impact, at most (24 ms at 240 frames/s). */
const longestCover = 6

const quantileOf = (values: ArrayLike<number>, share: number): number => {
  // A typed array is sorted as numbers without a call for each comparison.
  const sorted = Float64Array.from(values).sort()
  return sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? 0
}

/**
 * Watches frames of one size, the camera's own movement already taken out, for bright spots that vanish for good. It
 * knows nothing of real time: stretches of 4 to 64 frames are compared with the one after next, so a swing is met
 * whatever rate it was filmed at. Holds some 200 frames.
 */
export class SpotWatcher {
  private readonly width: number
  private readonly height: number
  private readonly levels: Level[]
  private readonly recent: Uint8Array[] = []
  private count = 0
  private active: Spot[] = []
  /** Means that nothing needs any more: memory new to a program costs more than the sums in it. */
  private readonly unused: Float32Array[] = []
  private readonly mask: Uint8Array
  private readonly stack: Int32Array
  private readonly found: VanishedSpot[] = []
  /** Means of the first and of the last eight frames or so, and the least and most that eights of frames had between. */
  private first: Float32Array | null = null
  private last: Float32Array | null = null
  private noted = 0
  private least: Float32Array | null = null
  private most: Float32Array | null = null

  constructor(width: number, height: number) {
    this.width = width
    this.height = height
    this.mask = new Uint8Array(width * height)
    this.stack = new Int32Array(width * height)
    this.levels = blocks.map((block) => ({
      block,
      frames: 0,
      sum: new Float32Array(width * height),
      means: [],
      starts: [],
      start: 0,
    }))
  }

  push(pixels: Uint8Array): void {
    const index = this.count++
    this.recent.push(pixels)
    if (this.recent.length > longestBefore + 3 * blocks.at(-1)!) this.recent.shift()
    for (const spot of this.active) {
      if (spot.fromFrame + spot.filled === index) spot.shares[spot.filled++] = shareOf(spot, pixels)
    }
    const done = this.active.filter((s) => s.fromFrame + s.filled > s.lastFrame)
    if (done.length > 0) {
      this.active = this.active.filter((s) => s.fromFrame + s.filled <= s.lastFrame)
      for (const spot of done) this.settle(spot)
    }
    const size = this.width * this.height
    const [first] = this.levels
    for (let i = 0; i < size; i++) first!.sum[i]! += pixels[i]!
    first!.frames++
    for (let k = 0; k < this.levels.length; k++) {
      const level = this.levels[k]!
      if (level.frames < level.block) break
      const mean = level.sum
      level.sum = this.unused.pop()?.fill(0) ?? new Float32Array(size)
      const next = this.levels[k + 1]
      if (next) {
        for (let i = 0; i < size; i++) next.sum[i]! += mean[i]!
        next.frames += level.frames
      }
      for (let i = 0; i < size; i++) mean[i]! /= level.block
      if (k === 1) this.note(mean)
      level.means.push(mean)
      level.starts.push(level.start)
      level.start += level.block
      level.frames = 0
      if (level.means.length > 3) {
        this.unused.push(level.means.shift()!)
        level.starts.shift()
      }
      if (level.means.length === 3) this.compare(level, index)
    }
  }

  /** What vanished in the whole film; a spot seen at several lengths is told once. */
  finish(): VanishedSpot[] {
    for (const spot of this.active) if (spot.filled > 0) this.settle(spot)
    this.active = []
    return this.found
  }

  private note(mean: Float32Array): void {
    this.noted += 1
    this.first ??= mean.slice()
    if (this.last) this.last.set(mean)
    else this.last = mean.slice()
    this.least ??= mean.slice()
    this.most ??= mean.slice()
    for (let i = 0; i < mean.length; i++) {
      if (mean[i]! < this.least[i]!) this.least[i] = mean[i]!
      if (mean[i]! > this.most[i]!) this.most[i] = mean[i]!
    }
  }

  /**
   * 0 to 1: how much a ball that a club was put to, or swung past, still lies there at the end: a bright small round spot, in the same
   * place at the beginning, alone on the ground, beside which something moved.
   */
  stillLies(): number {
    const { first, last, least, most, width, height } = this
    if (!first || !last || !least || !most || this.noted < 2) return 0
    let best = 0
    for (const radius of [0.006, 0.009, 0.013].map((share) => Math.max(1, Math.round(share * height)))) {
      const ring = Array.from({ length: 16 }, (_, k) => {
        const a = (k * Math.PI) / 8
        const r = 2 * radius + 1
        return Math.round(r * Math.cos(a)) + Math.round(r * Math.sin(a)) * width
      })
      const edge = 6 * radius + 2
      const from = Math.max(edge, Math.floor(0.45 * height))
      for (let y = from; y < height - edge; y++) {
        for (let x = edge; x < width - edge; x++) {
          const i = y * width + x
          const level = last[i]!
          // The brightest of its neighbours, at both ends of the film.
          if (level < last[i - 1]! || level < last[i + 1]! || level < last[i - width]!) continue
          if (level < last[i + width]! || Math.abs(level - first[i]!) > 25) continue
          let round = 0
          let brightest = 0
          for (const k of ring) {
            round += last[i + k]!
            brightest = Math.max(brightest, last[i + k]!)
          }
          round /= ring.length
          const contrast = level - round
          if (contrast < 22 || brightest > round + 0.4 * contrast) continue
          const before = first[i]! - ring.reduce((sum, k) => sum + first[i + k]!, 0) / ring.length
          if (Math.abs(before - contrast) > 0.5 * contrast) continue
          let inside = 0
          for (let dy = -radius; dy <= radius; dy++) {
            for (let dx = -radius; dx <= radius; dx++) {
              if (dx * dx + dy * dy <= radius * radius && last[i + dy * width + dx]! > round + contrast / 2) {
                inside++
              }
            }
          }
          const full = inside / Math.max(1, Math.PI * radius * radius)
          let moved = 0
          let all = 0
          for (let dy = -edge; dy <= edge; dy += 1) {
            for (let dx = -edge; dx <= edge; dx += 1) {
              const d = dx * dx + dy * dy
              if (d > edge * edge || d < (2 * radius + 1) ** 2) continue
              const at = i + dy * width + dx
              all++
              if (most[at]! - least[at]! > Math.max(8, 0.2 * contrast)) moved++
            }
          }
          const beside = moved / all
          if (beside > 0.7) continue
          const score = Math.min(1, full / 0.7) * Math.min(1, contrast / 50) * Math.min(1, beside / 0.06)
          if (score > best) best = score
        }
      }
    }
    return best
  }

  private compare(level: Level, now: number): void {
    const { width, height } = this
    const size = width * height
    const before = level.means[0]!
    const after = level.means[2]!
    const sample = new Float64Array(Math.ceil(size / 37))
    for (let i = 0; i < sample.length; i++) sample[i] = Math.abs(before[37 * i]! - after[37 * i]!)
    const noise = Math.max(0.35, quantileOf(sample, 0.5) / 0.6745)
    const least = Math.max(9, 5 * noise)
    const mask = this.mask.fill(0)
    // The top third of a picture holds no ball at rest.
    for (let i = Math.floor(0.33 * height) * width; i < size; i++) {
      if (before[i]! - after[i]! > least) mask[i] = 1
    }
    const widest = Math.max(width, height) / 13
    const spots: Spot[] = []
    for (const blob of blobsOf(mask, width, height, 4 * widest * widest, this.stack)) {
      const w = blob.right - blob.left + 1
      const h = blob.bottom - blob.top + 1
      if (blob.pixels.length < 2 || Math.max(w, h) > widest) continue
      if (Math.max(w, h) > 2.6 * Math.min(w, h) + 1 || blob.pixels.length < 0.4 * w * h) continue
      const spot = this.describe(blob, before, after, noise, level, now)
      if (spot) spots.push(spot)
    }
    spots.sort((a, b) => b.partial.clarity * b.partial.standsOut - a.partial.clarity * a.partial.standsOut)
    for (const spot of spots.slice(0, 12)) {
      if (this.active.length >= maxActive) break
      for (let f = spot.fromFrame; f <= now; f++) {
        spot.shares[spot.filled++] = shareOf(spot, this.recent[this.recent.length - 1 - (now - f)]!)
      }
      this.active.push(spot)
    }
  }

  private describe(
    blob: Blob,
    before: Float32Array,
    after: Float32Array,
    noise: number,
    level: Level,
    now: number,
  ): Spot | null {
    const { width, height } = this
    const w = blob.right - blob.left + 1
    const h = blob.bottom - blob.top + 1
    const sizePx = Math.max(w, h)
    let contrast = 0
    let inside = 0
    for (const i of blob.pixels) {
      contrast += before[i]! - after[i]!
      inside += before[i]!
    }
    contrast /= blob.pixels.length
    inside /= blob.pixels.length
    const reach = Math.max(2, Math.ceil(sizePx * 0.7))
    const wide = reach + Math.ceil(sizePx * 0.6)
    const own = new Set(blob.pixels)
    const ring: number[] = []
    const ringBefore: number[] = []
    let appeared = 0
    for (let y = blob.top - wide; y <= blob.bottom + wide; y++) {
      for (let x = blob.left - wide; x <= blob.right + wide; x++) {
        if (x < 0 || y < 0 || x >= width || y >= height) continue
        const i = y * width + x
        if (after[i]! - before[i]! > contrast / 2) appeared++
        if (
          x < blob.left - reach ||
          x > blob.right + reach ||
          y < blob.top - reach ||
          y > blob.bottom + reach
        ) {
          continue
        }
        if (
          own.has(i) ||
          (x >= blob.left - 1 && x <= blob.right + 1 && y >= blob.top - 1 && y <= blob.bottom + 1)
        ) {
          continue
        }
        ring.push(i)
        ringBefore.push(before[i]!)
      }
    }
    if (ring.length < 6) return null
    const meanRing = (m: Float32Array) => ring.reduce((sum, i) => sum + m[i]!, 0) / ring.length
    const rb = meanRing(before)
    const ra = meanRing(after)
    const changes = ring.map((i) => Math.abs(before[i]! - after[i]!))
    // Brighter than most of what lies round it; a shoe may stand close by.
    const standsOut = (inside - quantileOf(ringBefore, 0.68)) / contrast
    const surroundings = quantileOf(changes, 0.5) / contrast
    if (standsOut < 0.25 || surroundings > 0.6) return null
    // A rim pixel wide holds what the threshold cut off.
    const members = blob.pixels
    const levelsBefore = Float32Array.from(members, (i) => before[i]! - rb)
    const levelsAfter = Float32Array.from(members, (i) => after[i]! - ra)
    let weight = 0
    for (let k = 0; k < members.length; k++) weight += (levelsBefore[k]! - levelsAfter[k]!) ** 2
    if (weight < 1) return null
    const { block } = level
    const fromFrame = Math.max(0, now - this.recent.length + 1, level.starts[0]! - longestBefore)
    const lastFrame = level.starts[2]! + block - 1 + Math.max(10, block)
    return {
      inside: Int32Array.from(members),
      ring: Int32Array.from(ring),
      left: Float32Array.from(members, (i) => after[i]!),
      before: levelsBefore,
      after: levelsAfter,
      weight,
      contrast,
      x: (blob.left + blob.right) / 2,
      y: (blob.top + blob.bottom) / 2,
      sizePx,
      block,
      fromFrame,
      changeFrom: level.starts[0]!,
      changeTo: level.starts[2]! + block - 1,
      lastFrame,
      shares: new Float32Array(lastFrame - fromFrame + 1),
      filled: 0,
      tolerance: Math.min(
        0.45,
        0.25 + (2.5 * noise * Math.sqrt(block)) / contrast / Math.sqrt(members.length),
      ),
      partial: {
        clarity: (contrast / noise) * Math.sqrt(members.length),
        standsOut,
        surroundings,
        appeared: appeared / members.length,
        alone: ringBefore.filter((v) => v < inside - 0.5 * contrast).length / ringBefore.length,
        uneven: (quantileOf(ringBefore, 0.85) - quantileOf(ringBefore, 0.15)) / contrast,
        sizeShare: Math.sqrt(w * h) / height,
        low: (blob.top + blob.bottom) / 2 / height,
        area: members.length,
        aspect: sizePx / Math.min(w, h),
      },
    }
  }

  /** How unlike a spot's place in a frame is to how it is left behind. */
  private unlike(spot: Spot, frame: number): number {
    const pixels = this.recent[this.recent.length - (this.count - frame)]
    if (!pixels) return 0
    const { inside, left } = spot
    let sum = 0
    for (let k = 0; k < inside.length; k++) sum += Math.abs(pixels[inside[k]!]! - left[k]!)
    return sum / inside.length
  }

  /** The first frame from `after` on in which the club does not stand over the spot's place any more. */
  private uncovered(spot: Spot, after: number): number {
    // What is usual once the club has gone: the noise of the frames at the end. A codec leaves a faint ball there for some frames.
    const quiet = Array.from({ length: 8 }, (_, k) => this.unlike(spot, spot.lastFrame - k))
    const usual = quantileOf(quiet, 0.5)
    const most = Math.max(2 * usual + 3, 0.12 * spot.contrast)
    let frame = after
    while (frame - after < longestCover && this.unlike(spot, frame) > most) frame++
    return frame
  }

  /** Finds the frame at which the spot went, from how much of it every frame shows. */
  private settle(spot: Spot): void {
    const shares = spot.shares.subarray(0, spot.filled)
    const isThere = (s: number) => Math.abs(s - 1) < spot.tolerance
    const isGone = (s: number) => Math.abs(s) < 0.5
    const from = spot.changeFrom - spot.fromFrame
    const to = Math.min(shares.length - 2, spot.changeTo - spot.fromFrame)
    let gone = 0
    for (const s of shares) if (isGone(s)) gone++
    let there = 0
    let most = -Infinity
    let split = -1
    for (let k = 0; k <= to; k++) {
      if (isThere(shares[k]!)) there++
      if (isGone(shares[k]!)) gone--
      if (k < from || !isThere(shares[k]!)) continue
      // The club may pass over the ball just before it leaves: what is seen again was not gone.
      const seenAgain = split >= 0 && k - split <= longestCover && there + gone >= most - (k - split)
      if (there + gone >= most || seenAgain) {
        most = Math.max(most, there + gone)
        split = k
      }
    }
    if (split < 0) return
    let after = split + 1
    while (after < shares.length && !isGone(shares[after]!)) after++
    if (after >= shares.length) return
    const changing = after - split - 1
    const uncovered = this.uncovered(spot, spot.fromFrame + after)
    // Lately counts most; a club that waggled before it, or a person walking by, hides it for a while.
    const window = Math.max(12, 2 * spot.block)
    const share = (a: number, b: number, test: (s: number) => boolean) => {
      let n = 0
      for (let k = a; k < b; k++) if (test(shares[k]!)) n++
      return b > a ? n / (b - a) : 0
    }
    const layFor = () => {
      let first = split
      for (let k = split, away = 0; k >= 0 && away < 3; k--) {
        if (isThere(shares[k]!)) {
          first = k
          away = 0
        } else away++
      }
      return split + 1 - first
    }
    const start = Math.max(0, split + 1 - window)
    const lastSeen = spot.fromFrame + split
    const frame = leftAt(lastSeen, uncovered)
    const made: VanishedSpot = {
      frame,
      lastSeen,
      goneBy: uncovered,
      x: spot.x,
      y: spot.y,
      sizePx: spot.sizePx,
      signs: {
        ...spot.partial,
        there: share(start, split + 1, isThere),
        lay: layFor(),
        gone: share(after, shares.length, isGone),
        changing,
        framesBefore: split + 1 - start,
        framesAfter: shares.length - after,
      },
    }
    const same = this.found.findIndex(
      (o) =>
        Math.abs(o.frame - made.frame) <= 2 && Math.hypot(o.x - made.x, o.y - made.y) < Math.max(2, o.sizePx),
    )
    if (same < 0) this.found.push(made)
    else if (spotScore(made.signs) > spotScore(this.found[same]!.signs)) this.found[same] = made
  }
}

const shareOf = (spot: Spot, pixels: Uint8Array): number => {
  const { ring, inside, before, after, weight } = spot
  let round = 0
  for (let k = 0; k < ring.length; k++) round += pixels[ring[k]!]!
  round /= ring.length
  let sum = 0
  for (let k = 0; k < inside.length; k++) {
    sum += (pixels[inside[k]!]! - round - after[k]!) * (before[k]! - after[k]!)
  }
  return sum / weight
}

const clamp01 = (x: number) => Math.max(0, Math.min(1, x))

/**
 * 0 to 1: how much the way a spot went is that of a ball, by itself: it was there, it is gone, at once, it stood out,
 * nothing came up beside it. Not a probability; that is made from it together with all else that is known.
 */
export const spotScore = (s: SpotSigns): number =>
  clamp01((s.there - 0.45) / 0.4) *
  clamp01((s.gone - 0.45) / 0.4) *
  clamp01(1.5 - 0.25 * s.changing) *
  clamp01(s.standsOut / 0.7) *
  clamp01(1.4 - 2.2 * s.surroundings) *
  clamp01(1.3 - 1.1 * s.appeared) *
  clamp01((s.clarity - 5) / 14) *
  clamp01(0.55 + s.area / 12) *
  clamp01(1.6 - 0.4 * s.aspect) *
  clamp01((s.low - 0.33) / 0.2) *
  clamp01(0.4 + s.framesBefore / 20) *
  clamp01(0.4 + s.framesAfter / 10)

type Blob = { pixels: number[]; left: number; right: number; top: number; bottom: number }

/** Connected patches of a mask; those that grow beyond `most` pixels are dropped. */
const blobsOf = (
  mask: Uint8Array,
  width: number,
  height: number,
  most: number,
  /** Room for every pixel once. */
  stack: Int32Array,
): Blob[] => {
  const blobs: Blob[] = []
  for (let start = mask.indexOf(1); start >= 0; start = mask.indexOf(1, start + 1)) {
    const blob: Blob = { pixels: [], left: width, right: 0, top: height, bottom: 0 }
    mask[start] = 2
    let left = 0
    stack[left++] = start
    while (left > 0) {
      const at = stack[--left]!
      const x = at % width
      const y = (at - x) / width
      if (blob.pixels.length <= most) blob.pixels.push(at)
      if (x < blob.left) blob.left = x
      if (x > blob.right) blob.right = x
      if (y < blob.top) blob.top = y
      if (y > blob.bottom) blob.bottom = y
      for (let dy = -1; dy <= 1; dy++) {
        for (let dx = -1; dx <= 1; dx++) {
          const nx = x + dx
          const ny = y + dy
          if (nx < 0 || ny < 0 || nx >= width || ny >= height) continue
          const next = ny * width + nx
          if (mask[next] !== 1) continue
          mask[next] = 2
          stack[left++] = next
        }
      }
    }
    if (blob.pixels.length <= most) blobs.push(blob)
  }
  return blobs
}
