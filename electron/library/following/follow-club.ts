import type { Carrier } from '../../../shared-core/body/carrier.ts'
import { curveOn } from '../../../shared-core/following/carry.ts'
import type { SeenHead } from '../../../shared-core/following/club-claims.ts'
import { clubSwing, rays } from '../../../shared-core/following/club-swing.ts'
import type { FollowMark } from '../../../shared-core/following/followed-track.ts'
import { distance, type Point } from '../../../shared-core/geometry/point.ts'
import { backgroundOf, CameraShift, type Background } from './background.ts'
import type { Eye } from './eye.ts'
import type { Frames } from './follow-point.ts'
import type { Grey } from './grey-store.ts'
import { besidePx, Foreground, raySamples, shaftSight, sightHalf } from './shaft-sight.ts'

/** The club seen from the hands outward, frame by frame. */
export interface SeenClub {
  readonly heads: readonly SeenHead[]
  /** The club's seen length on its marked frame, pixels. */
  readonly lengthPx: number
}

/** Frames for the standing picture. */
const backgroundFrames = 25
/** A club is looked at no larger than this, pixels: its shaft is still two or three pixels wide. */
const largestClubPx = 240
/** The far end of a club head lies so far beyond its middle, club lengths (4 cm of 1 m). */
const headBeyond = 0.04

/** A frame made smaller by a whole number, each pixel the mean of those it covers. */
const shrunk = (grey: Grey, by: number): Grey => {
  if (by === 1) return grey
  const [width, height] = [Math.floor(grey.width / by), Math.floor(grey.height / by)]
  const pixels = new Uint8Array(width * height)
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      let sum = 0
      for (let v = 0; v < by; v++) {
        for (let u = 0; u < by; u++) sum += grey.pixels[(y * by + v) * grey.width + x * by + u]!
      }
      pixels[y * width + x] = Math.round(sum / (by * by))
    }
  }
  return { pixels, width, height }
}

/**
 * Frames by equal steps of the hands' way, so that the long rest at the setup counts no more than any other place: what stands
 * still through most of them is background, and the club is not.
 */
const framesByWay = (hands: readonly (Point & { frame: number })[]): Set<number> => {
  const way = [0]
  hands.forEach((place, i) => i > 0 && way.push(way[i - 1]! + distance(place, hands[i - 1]!)))
  const whole = way.at(-1)!
  return new Set(
    Array.from({ length: backgroundFrames }, (_, k) => {
      const at = way.findIndex((w) => w >= (whole * k) / (backgroundFrames - 1))
      return hands[Math.max(0, at)]!.frame
    }),
  )
}

/** Looks for the club from the hands outward on every frame on which the body tells where they are. */
export const seeClub = async (
  eye: Eye,
  frames: Frames,
  task: {
    readonly marks: readonly FollowMark[]
    readonly first: number
    readonly last: number
    readonly captureRate: number
  },
  carrier: Carrier,
  options: { signal?: AbortSignal; onProgress?: (share: number) => void } = {},
): Promise<SeenClub | null> => {
  const hints = { frames: Int32Array.from(carrier.places, (p) => p.frame), places: carrier.places }
  const whole = Array.from({ length: task.last - task.first + 1 }, (_, i) => task.first + i).flatMap(
    (frame) => {
      const place = curveOn(hints, frame, task.captureRate)
      return place ? [{ x: place.x, y: place.y, frame }] : []
    },
  )
  const lengths = task.marks.flatMap((mark) => {
    const near = [...whole].sort((a, b) => Math.abs(a.frame - mark.frame) - Math.abs(b.frame - mark.frame))[0]
    return near ? [distance(mark, near)] : []
  })
  if (whole.length < 3 || lengths.length === 0) return null
  const lengthWhole = Math.max(...lengths)
  const by = Math.max(1, Math.ceil(lengthWhole / largestClubPx))
  const lengthPx = lengthWhole / by
  if (lengthPx < 12) return null
  const hands = whole.map((p) => ({ frame: p.frame, x: p.x / by, y: p.y / by }))
  const total = 2 * (task.last - task.first + 1)
  let done = 0
  const step = () => {
    options.signal?.throwIfAborted()
    options.onProgress?.(Math.min(1, ++done / total))
  }
  // The standing picture first: it is laid right by the camera's shift on every frame.
  const wanted = framesByWay(hands)
  const shifts = new Map<number, Point>()
  const kept: { grey: Grey; shift: Point }[] = []
  let camera: CameraShift | null = null
  for (let frame = hands[0]!.frame; frame <= hands.at(-1)!.frame; frame++) {
    step()
    const picture = await frames.frame(frame, 1)
    if (!picture) continue
    const grey = shrunk(picture, by)
    camera ??= new CameraShift(eye, grey)
    const shift = camera.on(grey, 5)
    shifts.set(frame, shift)
    if (wanted.has(frame)) kept.push({ grey, shift })
  }
  if (kept.length < 5) return null
  const background = backgroundOf(kept)
  const heads: SeenHead[] = []
  for (const stretch of stretchesOf(hands)) {
    heads.push(
      ...(await seeOn(frames, { ...task, stretch, background, shifts, lengthPx, by }, step)).map((head) => ({
        ...head,
        x: head.x * by,
        y: head.y * by,
      })),
    )
  }
  return { heads, lengthPx: lengthWhole }
}

type Hand = Point & { readonly frame: number }

/** Runs of frames without a gap. */
const stretchesOf = (hands: readonly Hand[]): Hand[][] => {
  const runs: Hand[][] = []
  for (const hand of hands) {
    if (runs.at(-1)?.at(-1)?.frame === hand.frame - 1) runs.at(-1)!.push(hand)
    else runs.push([hand])
  }
  return runs
}

const seeOn = async (
  frames: Frames,
  from: {
    readonly marks: readonly FollowMark[]
    readonly captureRate: number
    readonly stretch: readonly Hand[]
    readonly background: Background
    readonly shifts: ReadonlyMap<number, Point>
    readonly lengthPx: number
    readonly by: number
  },
  step: () => void,
): Promise<SeenHead[]> => {
  const { stretch, background, shifts, lengthPx, by, captureRate } = from
  /** What moves so far round a place of a frame; null where the frame can't be read. */
  const foregroundRound = async (frame: number, at: Point, reachPx: number): Promise<Foreground | null> => {
    const picture = await frames.frame(frame, 1)
    const shift = shifts.get(frame) ?? { x: 0, y: 0 }
    return picture && new Foreground(shrunk(picture, by), background, shift, at, reachPx)
  }
  const frameBytes = rays * raySamples
  const looks = new Uint8Array(stretch.length * frameBytes)
  const beside = new Float32Array(stretch.length * rays)
  for (const [i, hand] of stretch.entries()) {
    step()
    const foreground = await foregroundRound(hand.frame, hand, Math.ceil(sightHalf * lengthPx) + besidePx + 2)
    if (!foreground) continue
    const sight = shaftSight(foreground, hand, lengthPx)
    looks.set(sight.looks, i * frameBytes)
    beside.set(sight.besidePx, i * rays)
  }
  const marks = from.marks.flatMap((mark) => {
    const i = stretch.findIndex((hand) => hand.frame === mark.frame)
    if (i < 0) return []
    const [dx, dy] = [mark.x / by - stretch[i]!.x, mark.y / by - stretch[i]!.y]
    return [{ i, angle: Math.atan2(dy, dx), share: Math.hypot(dx, dy) / lengthPx }]
  })
  const sight = { frames: stretch.length, samples: raySamples, looks }
  const pins = new Map(
    marks.map(({ i, angle, share }) => [i, { angle, endShare: share + headBeyond }] as const),
  )
  const sightings = clubSwing(sight, captureRate, pins)
  const heads: SeenHead[] = []
  for (const [i, sighting] of sightings.entries()) {
    const hand = stretch[i]!
    const ray = ((Math.round((sighting.angle * rays) / (2 * Math.PI)) % rays) + rays) % rays
    const [c, s] = [Math.cos(sighting.angle), Math.sin(sighting.angle)]
    const off = beside[i * rays + ray]!
    const r = (sighting.endShare - headBeyond) * lengthPx
    const start = { x: hand.x - off * s + r * c, y: hand.y + off * c + r * s }
    const foreground = await foregroundRound(hand.frame, start, Math.ceil(0.35 * lengthPx))
    if (!foreground) continue
    const place = headNear(foreground, start, sighting.angle, lengthPx)
    if ([start, place].some((p) => isAtEdge(p, background, borderShare * lengthPx))) continue
    heads.push({ ...place, frame: hand.frame, seen: sighting.seen, margin: sighting.margin })
  }
  return heads
}

/** So near to the picture's edge the end of what is seen may be the picture's, not the club's; club lengths. */
const borderShare = 0.06

const isAtEdge = (p: Point, { width, height }: Background, border: number): boolean =>
  p.x < border || p.y < border || p.x > width - 1 - border || p.y > height - 1 - border

/** A club head fills such a disc, club lengths (a driver's is 12 cm wide, of 1.1 m). */
const headRadius = 0.075

/**
 * So far along and across the shaft a head's middle may lie from where the shaft's end says, club lengths (a driver's hosel lies 6 cm beside its
 * middle): farther off it is a shadow or a foot.
 */
const headOff = { along: 0.09, across: 0.07 }

/** The middle of what moves at the shaft's end. */
const headNear = (foreground: Foreground, start: Point, angle: number, lengthPx: number): Point => {
  const [c, s] = [Math.cos(angle), Math.sin(angle)]
  const within = (value: number, most: number) => Math.max(-most * lengthPx, Math.min(most * lengthPx, value))
  let at = start
  for (let i = 0; i < 6; i++) {
    const middle = foreground.middleWithin(at, headRadius * lengthPx)
    if (!middle) break
    const [dx, dy] = [middle.x - start.x, middle.y - start.y]
    const along = within(dx * c + dy * s, headOff.along)
    const across = within(dy * c - dx * s, headOff.across)
    at = { x: start.x + along * c - across * s, y: start.y + along * s + across * c }
  }
  return at
}
