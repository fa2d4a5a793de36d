import { blobsOf } from './blobs.ts'
import type { Blob } from './blobs.ts'

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
  /** The first and last frame that count. */
  fromFrame: number
  changeFrom: number
  changeTo: number
  lastFrame: number
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

/** Stretches of so many frames: the sums of the last three whole ones, and of the one that is being added up. */
type Stretches = {
  block: number
  frames: number
  sum: Uint16Array
  sums: Uint16Array[]
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
export const longestCover = 6

/** Frames that are held: all that a spot of the longest stretch may ask for when it is settled. */
const heldFrames = longestBefore + 4 * blocks.at(-1)!

// A typed array is sorted as numbers without a call for each comparison.
const sortedOf = (values: ArrayLike<number>): Float64Array => new Float64Array(values).sort()

/** The value at a share of the way through sorted ones; 0 of none. */
const quantileOf = (sorted: Float64Array, share: number): number =>
  sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? 0

/** Mean levels of stretches of the second length. */
const meansOf = (sums: Uint16Array): Float32Array => {
  const means = new Float32Array(sums.length)
  for (let i = 0; i < sums.length; i++) means[i] = sums[i]! / blocks[1]!
  return means
}

/** What is worth following as a spot: see {@link SpotSigns}. */
const minStandsOut = 0.25
const maxSurroundings = 0.6

/** Every so many pixels one is looked at for the noise. */
const noiseStep = 37

/**
 * Watches frames of one size, the camera's own movement already taken out, for bright spots that vanish for good. It
 * knows nothing of real time: stretches of 4 to 64 frames are compared with the one after next, so a swing is met
 * whatever rate it was filmed at. Holds some 450 frames.
 *
 * Levels are added up as whole numbers, for a stretch of 64 frames fits into 16 bits; how much of a spot a frame shows is
 * reckoned only where its settling asks for it, from the frames held.
 */
export class SpotWatcher {
  readonly width: number
  readonly height: number
  private readonly stretches: Stretches[]
  private readonly recent: Uint8Array[] = []
  private count = 0
  private active: Spot[] = []
  /** Sums that nothing needs any more: memory new to a program costs more than the sums in it. */
  private readonly unused: Uint16Array[] = []
  private readonly mask: Uint8Array
  private readonly stack: Int32Array
  private readonly found: VanishedSpot[] = []
  /** How often a difference was met between two stretches. */
  private readonly counts = new Uint32Array(255 * blocks.at(-1)! + 1)
  /** Sums of the first and of the last eight frames or so, and the least and most that eights of frames had between. */
  private begun: Uint16Array | null = null
  private last: Uint16Array | null = null
  private noted = 0
  private least: Uint16Array | null = null
  private most: Uint16Array | null = null

  constructor(width: number, height: number) {
    this.width = width
    this.height = height
    this.mask = new Uint8Array(width * height)
    this.stack = new Int32Array(width * height)
    this.stretches = blocks.map((block) => ({
      block,
      frames: 0,
      sum: new Uint16Array(width * height),
      sums: [],
      starts: [],
      start: 0,
    }))
  }

  push(pixels: Uint8Array): void {
    const index = this.count++
    // What is held no more is written over: new memory for every frame would be most of the work.
    const own =
      this.recent.length < heldFrames ? new Uint8Array(pixels.length) : (this.recent.shift() as Uint8Array)
    own.set(pixels)
    this.recent.push(own)
    const done = this.active.filter((s) => s.lastFrame <= index)
    if (done.length > 0) {
      this.active = this.active.filter((s) => s.lastFrame > index)
      for (const spot of done) this.settle(spot)
    }
    const size = this.width * this.height
    const [first] = this.stretches
    first!.frames++
    if (first!.frames === first!.block) {
      const { sum } = first!
      const [a, b, c, d] = this.recent.slice(-4) as [Uint8Array, Uint8Array, Uint8Array, Uint8Array]
      for (let i = 0; i < size; i++) sum[i] = a[i]! + b[i]! + c[i]! + d[i]!
    }
    for (let k = 0; k < this.stretches.length; k++) {
      const stretch = this.stretches[k]!
      if (stretch.frames < stretch.block) break
      const { sum } = stretch
      stretch.sum = this.unused.pop() ?? new Uint16Array(size)
      const next = this.stretches[k + 1]
      if (next) {
        const into = next.sum
        // Each is twice as long as the one before.
        if (next.frames === 0) into.set(sum)
        else for (let i = 0; i < size; i++) into[i]! += sum[i]!
        next.frames += stretch.frames
      }
      if (k === 1) this.note(sum)
      stretch.sums.push(sum)
      stretch.starts.push(stretch.start)
      stretch.start += stretch.block
      stretch.frames = 0
      if (stretch.sums.length > 3) {
        this.unused.push(stretch.sums.shift()!)
        stretch.starts.shift()
      }
      if (stretch.sums.length === 3) this.compare(stretch, index)
    }
  }

  /** The frames that are held: from `first` up to `end` (left out). */
  get first(): number {
    return this.count - this.recent.length
  }

  get end(): number {
    return this.count
  }

  /** Pixels of a frame that is held. */
  readonly of = (index: number): Uint8Array => this.recent[index - this.first]!

  /** What vanished in the whole film; a spot seen at several lengths is told once. */
  finish(): VanishedSpot[] {
    for (const spot of this.active) this.settle(spot)
    this.active = []
    return this.found
  }

  private note(sum: Uint16Array): void {
    this.noted += 1
    this.begun ??= sum.slice()
    if (this.last) this.last.set(sum)
    else this.last = sum.slice()
    if (!this.least || !this.most) {
      this.least = sum.slice()
      this.most = sum.slice()
      return
    }
    const { least, most } = this
    for (let i = 0; i < sum.length; i++) {
      const level = sum[i]!
      if (level < least[i]!) least[i] = level
      if (level > most[i]!) most[i] = level
    }
  }

  /**
   * 0 to 1: how much a ball that a club was put to, or swung past, still lies there at the end: a bright small round spot, in the same
   * place at the beginning, alone on the ground, beside which something moved.
   */
  stillLies(): number {
    const { width, height } = this
    if (!this.begun || !this.last || !this.least || !this.most || this.noted < 2) return 0
    const [first, last, least, most] = [this.begun, this.last, this.least, this.most].map(meansOf) as [
      Float32Array,
      Float32Array,
      Float32Array,
      Float32Array,
    ]
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

  private compare(stretch: Stretches, now: number): void {
    const { width, height, mask } = this
    const { block } = stretch
    const size = width * height
    const before = stretch.sums[0]!
    const after = stretch.sums[2]!
    const noise = Math.max(0.35, this.middleChange(before, after) / block / 0.6745)
    const least = Math.max(9, 5 * noise) * block
    // The top third of a picture holds no ball at rest.
    for (let i = Math.floor(0.33 * height) * width; i < size; i++) {
      mask[i] = before[i]! - after[i]! > least ? 1 : 0
    }
    const widest = Math.max(width, height) / 13
    const spots: Spot[] = []
    for (const blob of blobsOf(mask, width, height, 4 * widest * widest, this.stack)) {
      const w = blob.right - blob.left + 1
      const h = blob.bottom - blob.top + 1
      if (blob.pixels.length < 2 || Math.max(w, h) > widest) continue
      if (Math.max(w, h) > 2.6 * Math.min(w, h) + 1 || blob.pixels.length < 0.4 * w * h) continue
      const spot = this.describe(blob, noise, stretch, now)
      if (spot) spots.push(spot)
    }
    spots.sort((a, b) => b.partial.clarity * b.partial.standsOut - a.partial.clarity * a.partial.standsOut)
    for (const spot of spots.slice(0, 12)) {
      if (this.active.length >= maxActive) break
      this.active.push(spot)
    }
  }

  /** The median of how much two sums differ, of some of the pixels. */
  private middleChange(before: Uint16Array, after: Uint16Array): number {
    const counts = this.counts.fill(0)
    let sampled = 0
    for (let i = 0; i < before.length; i += noiseStep) {
      counts[Math.abs(before[i]! - after[i]!)]!++
      sampled++
    }
    const wanted = Math.floor(sampled / 2)
    let change = 0
    for (let seen = counts[0]!; seen <= wanted; seen += counts[++change]!);
    return change
  }

  private describe(blob: Blob, noise: number, stretch: Stretches, now: number): Spot | null {
    const { block } = stretch
    const sumsBefore = stretch.sums[0]!
    const sumsAfter = stretch.sums[2]!
    const before = (i: number) => sumsBefore[i]! / block
    const after = (i: number) => sumsAfter[i]! / block
    const { width, height } = this
    const w = blob.right - blob.left + 1
    const h = blob.bottom - blob.top + 1
    const sizePx = Math.max(w, h)
    let contrast = 0
    let inside = 0
    for (const i of blob.pixels) {
      contrast += before(i) - after(i)
      inside += before(i)
    }
    contrast /= blob.pixels.length
    inside /= blob.pixels.length
    const reach = Math.max(2, Math.ceil(sizePx * 0.7))
    const wide = reach + Math.ceil(sizePx * 0.6)
    const ring: number[] = []
    const ringBefore: number[] = []
    let appeared = 0
    for (let y = blob.top - wide; y <= blob.bottom + wide; y++) {
      for (let x = blob.left - wide; x <= blob.right + wide; x++) {
        if (x < 0 || y < 0 || x >= width || y >= height) continue
        const i = y * width + x
        if (after(i) - before(i) > contrast / 2) appeared++
        if (
          x < blob.left - reach ||
          x > blob.right + reach ||
          y < blob.top - reach ||
          y > blob.bottom + reach
        ) {
          continue
        }
        // A rim about what the threshold cut off belongs to neither.
        if (x >= blob.left - 1 && x <= blob.right + 1 && y >= blob.top - 1 && y <= blob.bottom + 1) continue
        ring.push(i)
        ringBefore.push(before(i))
      }
    }
    if (ring.length < 6) return null
    const meanRing = (m: (i: number) => number) => ring.reduce((sum, i) => sum + m(i), 0) / ring.length
    const rb = meanRing(before)
    const ra = meanRing(after)
    const changes = ring.map((i) => Math.abs(before(i) - after(i)))
    // Brighter than most of what lies round it; a shoe may stand close by. Counted first: few blobs are worth sorting.
    const countOf = (values: number[], test: (v: number) => boolean) =>
      values.reduce((n, v) => (test(v) ? n + 1 : n), 0)
    const isAbove = (v: number) => (inside - v) / contrast >= minStandsOut
    if (countOf(ringBefore, isAbove) <= Math.floor(ring.length * 0.68)) return null
    if (countOf(changes, (c) => c / contrast <= maxSurroundings) <= Math.floor(ring.length * 0.5)) return null
    const sortedRing = sortedOf(ringBefore)
    const standsOut = (inside - quantileOf(sortedRing, 0.68)) / contrast
    const surroundings = quantileOf(sortedOf(changes), 0.5) / contrast
    const members = blob.pixels
    const levelsBefore = Float32Array.from(members, (i) => before(i) - rb)
    const levelsAfter = Float32Array.from(members, (i) => after(i) - ra)
    let weight = 0
    for (let k = 0; k < members.length; k++) weight += (levelsBefore[k]! - levelsAfter[k]!) ** 2
    if (weight < 1) return null
    const fromFrame = Math.max(0, now - this.recent.length + 1, stretch.starts[0]! - longestBefore)
    const lastFrame = stretch.starts[2]! + block - 1 + Math.max(10, block)
    return {
      inside: Int32Array.from(members),
      ring: Int32Array.from(ring),
      left: Float32Array.from(members, (i) => after(i)),
      before: levelsBefore,
      after: levelsAfter,
      weight,
      contrast,
      x: (blob.left + blob.right) / 2,
      y: (blob.top + blob.bottom) / 2,
      sizePx,
      block,
      fromFrame,
      changeFrom: stretch.starts[0]!,
      changeTo: stretch.starts[2]! + block - 1,
      lastFrame,
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
        uneven: (quantileOf(sortedRing, 0.85) - quantileOf(sortedRing, 0.15)) / contrast,
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
    const usual = quantileOf(sortedOf(quiet), 0.5)
    const most = Math.max(2 * usual + 3, 0.12 * spot.contrast)
    let frame = after
    while (frame - after < longestCover && this.unlike(spot, frame) > most) frame++
    return frame
  }

  /** How much of a spot each frame from its first on shows, reckoned where it is asked for. */
  private sharesOf(spot: Spot): { count: number; at: (k: number) => number } {
    const count = Math.min(spot.lastFrame, this.count - 1) - spot.fromFrame + 1
    const known = new Float32Array(count).fill(NaN)
    const held = this.recent.length - this.count + spot.fromFrame
    const at = (k: number): number => {
      if (Number.isNaN(known[k]!)) known[k] = shareOf(spot, this.recent[held + k]!)
      return known[k]!
    }
    return { count, at }
  }

  /** Finds the frame at which the spot went, from how much of it every frame shows. */
  private settle(spot: Spot): void {
    const shares = this.sharesOf(spot)
    const isThere = (k: number) => Math.abs(shares.at(k) - 1) < spot.tolerance
    const isGone = (k: number) => Math.abs(shares.at(k)) < 0.5
    const from = spot.changeFrom - spot.fromFrame
    const to = Math.min(shares.count - 2, spot.changeTo - spot.fromFrame)
    // What came before the change counts for every frame of it alike.
    let gone = 0
    for (let k = from; k < shares.count; k++) if (isGone(k)) gone++
    let there = 0
    let most = -Infinity
    let split = -1
    for (let k = from; k <= to; k++) {
      if (isGone(k)) gone--
      if (!isThere(k)) continue
      there++
      // The club may pass over the ball just before it leaves: what is seen again was not gone.
      const seenAgain = split >= 0 && k - split <= longestCover && there + gone >= most - (k - split)
      if (there + gone >= most || seenAgain) {
        most = Math.max(most, there + gone)
        split = k
      }
    }
    if (split < 0) return
    let after = split + 1
    while (after < shares.count && !isGone(after)) after++
    if (after >= shares.count) return
    const changing = after - split - 1
    const uncovered = this.uncovered(spot, spot.fromFrame + after)
    // Lately counts most; a club that waggled before it, or a person walking by, hides it for a while.
    const window = Math.max(12, 2 * spot.block)
    const share = (a: number, b: number, test: (k: number) => boolean) => {
      let n = 0
      for (let k = a; k < b; k++) if (test(k)) n++
      return b > a ? n / (b - a) : 0
    }
    const layFor = () => {
      let first = split
      for (let k = split, away = 0; k >= 0 && away < 3; k--) {
        if (isThere(k)) {
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
        gone: share(after, shares.count, isGone),
        changing,
        framesBefore: split + 1 - start,
        framesAfter: shares.count - after,
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
