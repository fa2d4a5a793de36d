import { blobsOf } from './blobs.ts'
import type { Blob } from './blobs.ts'
import { framesAllowed } from './strike-frame.ts'
import { longestCover } from './vanished-spots.ts'

/** Something small that lay on the ground before a burst of fast motion and not after it, brighter or darker than the ground. */
export type SweptSpot = {
  /** The last frame that shows it, and the first that does not. */
  lastSeen: number
  goneBy: number
  /** Place in the picture that was searched, pixels. */
  x: number
  y: number
  sizePx: number
  signs: SweptSigns
}

/** What speaks for such a spot being a ball that was struck away, without units or in frames. */
export type SweptSigns = {
  /** How far one single frame tells it from the bare ground, in standard deviations of that frame's noise. */
  clarity: number
  /** How much brighter it was than its surroundings, share of how much it changed; and +1 where all of it was brighter than what it left, −1 darker. */
  standsOut: number
  polarity: number
  /** How much its surroundings changed meanwhile, share of its own change. */
  surroundings: number
  /** What changed the other way close by, share of its area: a thing that was pushed, not struck away. */
  appeared: number
  /** Share of its surroundings that clearly differ from it: a ball lies alone, a shoe's tip has a shoe beside it. */
  alone: number
  /** Spread of the levels round it, share of how much it changed. */
  uneven: number
  /** Share of the frames before in which it is there, and after in which it is gone. */
  there: number
  gone: number
  /** Frames up to the change in which it lay there; frames in which it is neither; how much of it went from the frames just before to those just after. */
  lay: number
  changing: number
  jump: number
  /** How much its surroundings still move soon after it has gone, share of the most that they did when it went: a club passes once. */
  restless: number
  /** Its width over the picture's height; longer over shorter side; share of its box that it fills; area in pixels. */
  sizeShare: number
  aspect: number
  filled: number
  area: number
  /** Height in the picture: 0 top, 1 bottom. */
  low: number
}

/** Frames before the fastest motion and after it between which the ground is compared: `far` and `near` from it. */
type Reach = { back: { far: number; near: number }; on: { near: number; far: number } }

/**
 * In frames, for the rate may be unknown: the nearest for some 15 to 60 frames/s, where the club lies at the ball half a second before; the
 * widest for 240, where the picture may change most 40 frames before the strike.
 */
const reaches: Reach[] = [
  { back: { far: 18, near: 2 }, on: { near: 3, far: 18 } },
  { back: { far: 64, near: 4 }, on: { near: 4, far: 40 } },
  { back: { far: 160, near: 30 }, on: { near: 30, far: 130 } },
]

/** Frames on each side of a peak that its search asks for. */
export const sweptReach = { back: 160, on: 130 }

/** Of how many stretches a median is taken, and of how many frames each is the mean: whoever walks by covers less than half of them. */
const parts = 5
const framesOfPart = 4

/** The top third of a picture holds no ball at rest. */
const topShare = 0.33
/** The least difference that is looked at, grey levels, and in standard deviations of what differs anyway. */
const leastLevels = 2.5
const leastSds = 4.5
/** The differences at which patches are cut out, times the least: a ball beside a foot is a patch of its own only where its own is greater. */
const cuts = [16, 8, 4, 2, 1]
const noiseStep = 37
/** Frames about the change in which its surroundings' movement is looked at. */
const restFrames = 40
/** What is seen again was not gone, but somebody may stand before it for a while: a frame that shows it counts as much as so many that do not. */
const seenAgain = 2
/** Frames before and after the change that count. */
const countedFrames = 60

/** The middle of five. */
export const middleOfFive = (a: number, b: number, c: number, d: number, e: number): number => {
  const { min, max } = Math
  // The least and the greatest of the first four are not it.
  const low = max(min(a, b), min(c, d))
  const high = min(max(a, b), max(c, d))
  return max(min(low, high), min(max(low, high), e))
}

type FrameOf = (index: number) => Uint8Array

/** Room for the pictures of one search, used again by the next: new memory takes as long as the sums. */
type Room = {
  sums: Uint16Array[]
  was: Float32Array
  is: Float32Array
  change: Float32Array
  mask: Uint8Array
  stack: Int32Array
}

const roomFor = (size: number): Room => ({
  sums: Array.from({ length: parts }, () => new Uint16Array(size)),
  was: new Float32Array(size),
  is: new Float32Array(size),
  change: new Float32Array(size),
  mask: new Uint8Array(size),
  stack: new Int32Array(size),
})

/** Writes the picture of the frames from `from` up to `to` (left out), median of the means of five stretches; only from pixel `start` on. */
const groundOf = (
  frameOf: FrameOf,
  { from, to, start }: { from: number; to: number; start: number },
  sums: Uint16Array[],
  still: Float32Array,
): void => {
  const count = to - from
  const each = Math.max(1, Math.min(framesOfPart, Math.floor(count / parts)))
  sums.forEach((sum, part) => {
    const begin = Math.floor((part * count) / parts)
    const length = Math.max(each, Math.floor(((part + 1) * count) / parts) - begin)
    for (let k = 0; k < each; k++) {
      const pixels = frameOf(Math.min(to - 1, from + begin + Math.floor((k * length) / each)))
      if (k === 0) for (let i = start; i < sum.length; i++) sum[i] = pixels[i]!
      else for (let i = start; i < sum.length; i++) sum[i]! += pixels[i]!
    }
  })
  const [a, b, c, d, e] = sums as [Uint16Array, Uint16Array, Uint16Array, Uint16Array, Uint16Array]
  for (let i = start; i < still.length; i++) {
    still[i] = middleOfFive(a[i]!, b[i]!, c[i]!, d[i]!, e[i]!) / each
  }
}

const middleOf = (values: number[]): number => values.sort((x, y) => x - y)[values.length >> 1] ?? 0

/** A normal distribution's standard deviation over the median of its absolute values. */
const sdOfMedian = 1 / 0.6745

/**
 * What lay on the ground before the fastest motion about frame `peak` and not after it. Medians over many frames bring the noise down,
 * so that a ball shows on a mat nearly as bright as itself, and whoever walked through the picture does not; then every frame tells how
 * much of it is there. The camera's own movement is to be taken out before.
 *
 * @param frames `of(index)` gives the pixels of any frame from `first` up to `end` (left out), row by row.
 */
export const sweptSpots = (
  frames: { first: number; end: number; of: FrameOf; width: number; height: number },
  peak: number,
  room: Room = roomFor(frames.width * frames.height),
): SweptSpot[] => reaches.flatMap((reach) => sweptWithin(frames, peak, reach, room))

const sweptWithin = (
  frames: { first: number; end: number; of: FrameOf; width: number; height: number },
  peak: number,
  reach: Reach,
  { sums, was, is, change, mask, stack }: Room,
): SweptSpot[] => {
  const { width, height, of } = frames
  const size = width * height
  const from = Math.max(frames.first, peak - reach.back.far)
  const before = { from, to: peak - reach.back.near }
  const after = { from: peak + reach.on.near, to: Math.min(frames.end, peak + reach.on.far) }
  if (before.to - before.from < 5 || after.to - after.from < 3) return []
  const start = Math.floor(topShare * height) * width
  groundOf(of, { ...before, start }, sums, was)
  groundOf(of, { ...after, start }, sums, is)
  const sampled: number[] = []
  const frameByFrame: number[] = []
  const [a, b] = [of(before.to - 1), of(before.to - 2)]
  for (let i = start; i < size; i++) {
    change[i] = was[i]! - is[i]!
    if (i % noiseStep === 0) {
      sampled.push(Math.abs(change[i]!))
      frameByFrame.push(Math.abs(a[i]! - b[i]!))
    }
  }
  const noise = Math.max(0.35, middleOf(sampled) * sdOfMedian)
  const frameNoise = Math.max(0.7, (middleOf(frameByFrame) * sdOfMedian) / Math.SQRT2, noise)
  const widest = Math.max(width, height) / 13
  const spots: SweptSpot[] = []
  const met: { x: number; y: number; area: number }[] = []
  for (const cut of cuts) {
    const least = Math.max(leastLevels, leastSds * noise) * cut
    mask.fill(0)
    for (let i = start; i < size; i++) mask[i] = change[i]! > least || change[i]! < -least ? 1 : 0
    for (const patch of blobsOf(mask, width, height, 4 * widest * widest, stack)) {
      const x = (patch.left + patch.right) / 2
      const y = (patch.top + patch.bottom) / 2
      const area = patch.pixels.length
      const wide = patch.right - patch.left + 1
      const high = patch.bottom - patch.top + 1
      const sizePx = Math.max(wide, high)
      if (area < 2 || sizePx > widest || sizePx > 2.6 * Math.min(wide, high) + 1) continue
      if (area < 0.4 * wide * high) continue
      // Hardly larger than where the cut was higher: the same once more.
      if (met.some((o) => Math.abs(o.x - x) <= 1 && Math.abs(o.y - y) <= 1 && o.area > 0.6 * area)) continue
      const spot = described({ patch, x, y, wide, high })
      if (spot) spots.push(spot)
    }
  }
  return spots

  function described(found: {
    patch: Blob
    x: number
    y: number
    wide: number
    high: number
  }): SweptSpot | null {
    const { patch, x, y, wide, high } = found
    const { pixels } = patch
    const sizePx = Math.max(wide, high)
    const ring = ringOf(patch, Math.max(2, Math.ceil(sizePx * 0.7)), width, height)
    if (ring.length < 6) return null
    let energy = 0
    let sum = 0
    let inside = 0
    for (const i of pixels) {
      energy += change[i]! ** 2
      sum += change[i]!
      inside += was[i]!
    }
    const rms = Math.sqrt(energy / pixels.length)
    const surroundings = middleOf(ring.map((i) => Math.abs(change[i]!))) / rms
    if (surroundings > 0.6) return null
    met.push({ x, y, area: pixels.length })
    const isDarker = sum < 0
    const level = inside / pixels.length
    const isUnlike = (i: number) => (isDarker ? was[i]! - level : level - was[i]!) > 0.5 * rms
    const ringLevels = ring.map((i) => was[i]!).sort((p, q) => p - q)
    const ringAt = (share: number) => ringLevels[Math.floor(share * ringLevels.length)]!
    const about = ringOf(patch, Math.ceil(sizePx * 1.3) + 1, width, height)
    const appeared = about.filter((i) => (isDarker ? change[i]! : -change[i]!) > rms / 2).length
    const meanOf = (of: ArrayLike<number>) => ring.reduce((total, i) => total + of[i]!, 0) / ring.length
    const ringWas = meanOf(was)
    const ringIs = meanOf(is)
    const pattern = pixels.map((i) => was[i]! - ringWas - (is[i]! - ringIs))
    const left = pixels.map((i) => is[i]! - ringIs)
    const weight = pattern.reduce((total, v) => total + v * v, 0)
    if (weight < 1) return null
    const shares = Float32Array.from({ length: after.to - from }, (_, k) => {
      const frame = of(from + k)
      const round = meanOf(frame)
      let total = 0
      for (let n = 0; n < pixels.length; n++) total += (frame[pixels[n]!]! - round - left[n]!) * pattern[n]!
      return total / weight
    })
    const clarity = Math.sqrt(weight) / frameNoise
    const split = splitOf(shares, clarity, {
      from: Math.max(0, before.to - from - 2 * reach.back.near - 4),
      to: after.from - from + 2 * reach.on.near + 4,
    })
    if (!split) return null
    const lastSeen = from + split.lastSeen
    const goneBy = uncovered(pixels, from + split.goneBy, rms)
    return {
      ...{ lastSeen, goneBy, x, y, sizePx },
      signs: {
        clarity,
        standsOut: (level - ringWas) / rms,
        polarity: sum / pixels.length / rms,
        surroundings,
        appeared: appeared / pixels.length,
        alone: ring.filter(isUnlike).length / ring.length,
        uneven: (ringAt(0.85) - ringAt(0.15)) / rms,
        ...split.signs,
        restless: restless(ring, lastSeen, goneBy),
        sizeShare: Math.sqrt(wide * high) / height,
        aspect: sizePx / Math.min(wide, high),
        filled: pixels.length / (wide * high),
        area: pixels.length,
        low: y / height,
      },
    }
  }

  /** The first frame from `after` on in which the club does not stand over the place any more: it is as bare as afterwards. */
  function uncovered(pixels: readonly number[], first: number, rms: number): number {
    const unlike = (frame: number) => {
      const now = of(frame)
      return pixels.reduce((total, i) => total + Math.abs(now[i]! - is[i]!), 0) / pixels.length
    }
    const quiet = Array.from({ length: Math.min(8, after.to - first) }, (_, k) => unlike(after.to - 1 - k))
    // A codec leaves a faint ball there for some frames.
    const most = Math.max(2 * middleOf(quiet) + 3, 0.12 * rms)
    let frame = first
    while (frame < after.to - 1 && frame - first < longestCover && unlike(frame) > most) frame++
    return frame
  }

  function restless(ring: readonly number[], lastSeen: number, goneBy: number): number {
    const moved = (frame: number) => {
      const [now, then] = [of(frame), of(frame - 1)]
      return ring.reduce((total, i) => total + Math.abs(now[i]! - then[i]!), 0) / ring.length
    }
    const most = (begin: number, end: number) => {
      let top = 0
      for (let f = Math.max(frames.first + 1, begin); f < Math.min(frames.end, end); f++) {
        top = Math.max(top, moved(f))
      }
      return top
    }
    return most(goneBy + 4, goneBy + restFrames) / (most(lastSeen - 1, goneBy + 2) + 0.3)
  }
}

/** Pixels about a patch and its rim, which belongs to neither. */
const ringOf = (patch: Blob, reach: number, width: number, height: number): number[] => {
  const ring: number[] = []
  for (let y = Math.max(0, patch.top - reach); y <= Math.min(height - 1, patch.bottom + reach); y++) {
    const isRow = y >= patch.top - 1 && y <= patch.bottom + 1
    for (let x = Math.max(0, patch.left - reach); x <= Math.min(width - 1, patch.right + reach); x++) {
      if (!isRow || x < patch.left - 1 || x > patch.right + 1) ring.push(y * width + x)
    }
  }
  return ring
}

/** The frame at which a thing went, from how much of it every frame shows, looked for between two of them. */
const splitOf = (
  shares: Float32Array,
  clarity: number,
  within: { from: number; to: number },
): {
  lastSeen: number
  goneBy: number
  signs: Pick<SweptSigns, 'there' | 'gone' | 'lay' | 'changing' | 'jump'>
} | null => {
  const count = shares.length
  const tolerance = Math.min(0.45, 0.25 + 2.5 / clarity)
  const isThere = (k: number) => Math.abs(shares[k]! - 1) < tolerance
  const isGone = (k: number) => Math.abs(shares[k]!) < Math.min(0.5, Math.max(0.4, tolerance + 0.1))
  let gone = 0
  let there = 0
  for (let k = within.from; k < count; k++) if (isGone(k)) gone++
  let most = -Infinity
  let lastSeen = -1
  for (let k = within.from; k <= Math.min(count - 2, within.to); k++) {
    if (isGone(k)) gone--
    if (!isThere(k)) continue
    there++
    const speaks = seenAgain * there + gone
    if (speaks < most) continue
    most = speaks
    lastSeen = k
  }
  if (lastSeen < 0) return null
  let goneBy = lastSeen + 1
  while (goneBy < count && !isGone(goneBy)) goneBy++
  if (goneBy >= count) return null
  const share = (from: number, to: number, test: (k: number) => boolean) => {
    let met = 0
    for (let k = from; k < to; k++) if (test(k)) met++
    return met / (to - from)
  }
  const mean = (from: number, to: number) => {
    const some = shares.subarray(Math.max(0, from), Math.min(count, to))
    return some.reduce((total, v) => total + v, 0) / Math.max(1, some.length)
  }
  let lay = 0
  for (let k = lastSeen, away = 0; k >= 0 && away < 3; k--) {
    if (isThere(k)) {
      lay = lastSeen + 1 - k
      away = 0
    } else away++
  }
  return {
    ...{ lastSeen, goneBy },
    signs: {
      there: share(Math.max(0, lastSeen + 1 - countedFrames), lastSeen + 1, isThere),
      gone: share(goneBy, Math.min(count, goneBy + countedFrames), isGone),
      lay,
      changing: goneBy - lastSeen - 1,
      jump: mean(lastSeen - 3, lastSeen + 1) - mean(goneBy, goneBy + 4),
    },
  }
}

/** A fastest frame is worth a look from this share of the film's fastest on, and is the fastest for so many frames on each side. */
const peakShare = 0.3
const peakApart = 12
/** Looks among so many neighbours at most: the fastest. */
const mostPeaks = 5

/** Looks at the ground about each burst of fast motion of a film, as soon as the frames after it are there. */
export class SweptGround {
  private readonly frames: { first: number; end: number; of: FrameOf; width: number; height: number }
  /** How much the picture changes about each frame, over five. */
  private readonly speeds: number[] = []
  private readonly changes: number[] = []
  private fastest = 0
  private readonly room: Room
  private firstAtSeconds = 0
  private frameSeconds = 0
  private readonly looks: { speed: number; spots: SweptSpot[] }[] = []

  /** @param frames The frames held; `first`, `end` and `of` are read anew each time. */
  constructor(frames: { first: number; end: number; of: FrameOf; width: number; height: number }) {
    this.frames = frames
    this.room = roomFor(frames.width * frames.height)
  }

  /** Takes how much the picture changed to the frame that was added last, and its timestamp in the file, seconds. */
  push(change: number, atSeconds: number): void {
    if (this.changes.length === 0) this.firstAtSeconds = atSeconds
    this.changes.push(change)
    this.frameSeconds = (atSeconds - this.firstAtSeconds) / Math.max(1, this.changes.length - 1)
    const middle = this.changes.length - 3
    if (middle >= 0) this.reckon(middle)
    this.look(this.speeds.length - 1 - sweptReach.on)
  }

  finish(): SweptSpot[] {
    for (const left of [2, 1]) {
      if (this.changes.length >= left) this.reckon(this.changes.length - left)
    }
    const last = this.speeds.length - 1
    for (let peak = Math.max(0, last - sweptReach.on - 1); peak <= last; peak++) this.look(peak)
    const least = peakShare * this.fastest
    return this.looks.filter((l) => l.speed > least).flatMap((l) => l.spots)
  }

  private reckon(frame: number): void {
    let sum = 0
    for (let k = frame - 2; k <= frame + 2; k++) sum += this.changes[k] ?? 0
    this.speeds[frame] = sum
    this.fastest = Math.max(this.fastest, sum)
  }

  private isPeak(frame: number): boolean {
    const speed = this.speeds[frame]!
    for (let k = frame - peakApart; k <= frame + peakApart; k++) {
      // Of two alike the first.
      if ((this.speeds[k] ?? 0) > speed || (k < frame && this.speeds[k] === speed)) return false
    }
    return true
  }

  private look(frame: number): void {
    const speed = this.speeds[frame]
    // Frames as close as that are followed one by one (`swingsOfFilm`), and there are many of them.
    if (this.frameSeconds > 0 && framesAllowed(this.frameSeconds) > 1) return
    if (speed === undefined || speed <= peakShare * this.fastest || !this.isPeak(frame)) return
    let faster = 0
    for (let k = frame - sweptReach.on; k <= frame + sweptReach.on; k++) {
      if ((this.speeds[k] ?? 0) > speed && this.isPeak(k)) faster++
    }
    if (faster < mostPeaks) this.looks.push({ speed, spots: sweptSpots(this.frames, frame, this.room) })
  }
}
