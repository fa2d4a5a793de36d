import {
  placeOn,
  trackOf,
  type FollowedPlace,
  type FollowedTrack,
  type FollowMark,
  type Lost,
  type LostReason,
} from '../../../shared-core/following/followed-track.ts'
import { distance, type Point } from '../../../shared-core/geometry/point.ts'
import type { Eye, Match, Patch } from './eye.ts'
import type { Grey } from './grey-store.ts'

/** Frames by index, in the pixels that are searched. */
export interface Frames {
  readonly width: number
  readonly height: number
  frame(index: number, direction: 1 | -1): Promise<Grey | null>
}

export interface FollowTask {
  /** At least one, in pixels of the frames. */
  readonly marks: readonly FollowMark[]
  readonly first: number
  readonly last: number
  /** Half the side of the patch that is looked for, pixels of the frames. */
  readonly half: number
  /**
   * Whether what is found must go on looking like what was marked, however it turns: for things that lie on or beside something
   * else which moves off with the patch (hands on arms, a ball beside the club head).
   */
  readonly keepsLook: boolean
  /** How far from its mark it may be found, pixels: a ball lies still until it is gone, what carries it away is the club head. */
  readonly staysWithin: number
  /** Frames that may be missing in between before the point counts as lost. */
  readonly maxMissing: number
}

export interface Followed {
  readonly track: FollowedTrack
  /** Where it was lost, one for each direction and mark that did not reach the next one. */
  readonly lost: readonly Lost[]
}

/** A patch counts as the same thing from this correlation up. Set on the tuning seeds of scripts/worlds/path.ts. */
const sameScore = 0.62
/** Correlations that differ by no more say nothing about which place is the right one. */
const alikeScore = 0.06
/** The way back ends so near where it came from, pixels; farther for what moves fast, which is blurred. */
const backMostPx = 1
/** The look on the marked frame is trusted over the last one from this correlation up. */
const firstLookScore = 0.8
/** The marked look is also tried turned, in so many steps round. */
const turns = 24
/** What looks no more like the marked thing than that, however turned, has been slid off. Set on the tuning seeds of scripts/worlds/path.ts. */
const stillTheSame = 0.5
/** Half a patch as a share of the picture's height: as wide as a club head or two hands where the player fills the picture. */
const patchShare = 0.018
const patchOf: Readonly<Record<string, number>> = { head: 1.6, ball: 0.6 }

/** Half the side of the patch for what is followed, pixels of the frames. */
export const patchHalf = (name: string, height: number, width: number): number =>
  Math.max(5, Math.min(32, Math.round(patchShare * Math.min(height, width * 1.2) * (patchOf[name] ?? 1))))

/** What is off by itself in finding a patch, one sigma, pixels. */
const findingErrorPx = 0.25

interface Step extends FollowedPlace {
  readonly frame: number
}

/**
 * Follows a marked point both ways from every mark. Each step looks for the patch of the frame before near where the movement
 * so far leads, by correlation and by flow, and believes a place only if the way back from it ends where it came from
 * (Z. Kalal, K. Mikolajczyk, J. Matas, "Forward-backward error", ICPR 2010), it still looks alike, and no jump was needed.
 * The patch is renewed at every frame and laid right by the marked one as long as that is seen (I. Matthews, T. Ishikawa,
 * S. Baker, "The template update problem", PAMI 2004), so that it does not creep away.
 */
export const followPoint = async (
  eye: Eye,
  frames: Frames,
  task: FollowTask,
  options: { signal?: AbortSignal; onProgress?: (share: number) => void } = {},
): Promise<Followed> => {
  const marks = [...task.marks].sort((a, b) => a.frame - b.frame)
  const ways = marks.flatMap((mark, i) => [
    { mark, direction: -1 as const, end: i === 0 ? task.first : marks[i - 1]!.frame + 1 },
    { mark, direction: 1 as const, end: i === marks.length - 1 ? task.last : marks[i + 1]!.frame - 1 },
  ])
  const total = ways.reduce((sum, w) => sum + Math.max(0, (w.end - w.mark.frame) * w.direction), 0)
  let done = 0
  const steps: { way: (typeof ways)[number]; steps: Step[]; lost: Lost | null }[] = []
  for (const way of ways) {
    const walked = await walk(eye, frames, task, way, () => {
      options.signal?.throwIfAborted()
      options.onProgress?.(Math.min(1, ++done / Math.max(1, total)))
    })
    steps.push({ way, ...walked })
  }
  const places: Step[] = marks.map(({ frame, x, y }) => ({ frame, x, y, errorPx: findingErrorPx }))
  const lost: Lost[] = []
  steps.forEach((own, i) => {
    const { way } = own
    // Between two marks both ways meet.
    const other = way.direction === 1 ? steps[i + 1] : steps[i - 1]
    if (!other) {
      places.push(...own.steps)
      if (own.lost) lost.push(own.lost)
      return
    }
    if (way.direction === -1) return
    const { kept, isJoined } = joined(own.steps, other.steps)
    places.push(...kept)
    if (!isJoined) lost.push(...[own.lost, other.lost].filter((l) => l !== null))
  })
  return { track: trackOf(places), lost: lost.sort((a, b) => a.frame - b.frame) }
}

/**
 * Two ways that come towards each other from two marks. One that slid off is right up to where it slid, so they are joined
 * where they are nearest; a frame on which both agree is sure.
 */
const joined = (forth: readonly Step[], back: readonly Step[]): { kept: Step[]; isJoined: boolean } => {
  const theirs = trackOf(back)
  let best: { frame: number; px: number } | null = null
  for (const step of forth) {
    const there = placeOn(theirs, step.frame)
    const px = there && distance(step, there)
    if (px !== null && (!best || px < best.px)) best = { frame: step.frame, px }
  }
  if (!best) return { kept: [...forth, ...back], isJoined: false }
  const { frame } = best
  return {
    kept: [...forth.filter((s) => s.frame <= frame), ...back.filter((s) => s.frame > frame)],
    isJoined: true,
  }
}

const walk = async (
  eye: Eye,
  frames: Frames,
  task: FollowTask,
  way: { mark: FollowMark; direction: 1 | -1; end: number },
  onStep: () => void,
): Promise<{ steps: Step[]; lost: Lost | null }> => {
  const { half } = task
  const { mark, direction, end } = way
  const steps: Step[] = []
  const start = await frames.frame(mark.frame, direction)
  if (!start) return { steps, lost: { frame: mark.frame, why: 'out-of-picture' } }
  const looks = task.keepsLook ? eye.turned(start, mark, half, turns) : [eye.patch(start, mark, half)]
  let turn = 0
  const seen: Step[] = [{ ...mark, errorPx: findingErrorPx }]
  let before = start
  let missing = 0
  let lost: Lost | null = null
  let crept = 0
  for (let frame = mark.frame + direction; (end - frame) * direction >= 0; frame += direction) {
    onStep()
    const picture = await frames.frame(frame, direction)
    if (!picture) break
    const found = stepTo(eye, { before, picture, seen, frame, half, looks, turn, frames })
    if ('why' in found) {
      lost ??= { frame, why: found.why }
      missing += 1
      if (missing > task.maxMissing || found.why === 'out-of-picture') break
      continue
    }
    if (distance(found, mark) > task.staysWithin) {
      lost = { frame, why: 'jumped' }
      break
    }
    lost = null
    missing = 0
    turn = found.turn
    crept = found.isByFirstLook ? 0 : crept + 1
    const errorPx = Math.hypot(findingErrorPx, found.backPx / 2, 0.05 * Math.sqrt(crept))
    const step = { frame, x: found.x, y: found.y, errorPx }
    steps.push(step)
    seen.push(step)
    before = picture
  }
  return { steps, lost }
}

/** Where the movement so far leads: on at the speed and turn of the last three places. */
const expected = (seen: readonly Step[], frame: number): { at: Point; perFrame: number } => {
  const last = seen.at(-1)!
  const one = seen.at(-2)
  if (!one) return { at: last, perFrame: 0 }
  const n = frame - last.frame
  const gap = last.frame - one.frame
  const v = { x: (last.x - one.x) / gap, y: (last.y - one.y) / gap }
  const two = seen.at(-3)
  const bend = { x: 0, y: 0 }
  if (two) {
    const own = one.frame - two.frame
    bend.x = (v.x - (one.x - two.x) / own) / ((gap + own) / 2)
    bend.y = (v.y - (one.y - two.y) / own) / ((gap + own) / 2)
  }
  const away = (speed: number, turn: number) => speed * n + (turn * n * (n + gap)) / 2
  return {
    at: { x: last.x + away(v.x, bend.x), y: last.y + away(v.y, bend.y) },
    perFrame: Math.hypot(v.x, v.y),
  }
}

/** Of places that look as good the one nearest to where it is awaited: checks and stripes look alike at every step. */
const likeliest = (places: readonly Match[], awaited: Point): Match | undefined => {
  const highest = Math.max(...places.map((p) => p.score))
  return places
    .filter((p) => p.score >= highest - alikeScore)
    .sort((a, b) => distance(a, awaited) - distance(b, awaited))[0]
}

const stepTo = (
  eye: Eye,
  from: {
    before: Grey
    picture: Grey
    seen: readonly Step[]
    frame: number
    half: number
    looks: readonly Patch[]
    turn: number
    frames: Frames
  },
): { x: number; y: number; backPx: number; isByFirstLook: boolean; turn: number } | { why: LostReason } => {
  const { before, picture, seen, frame, half, looks, turn, frames } = from
  const last = seen.at(-1)!
  const { at: guess, perFrame } = expected(seen, frame)
  const n = Math.abs(frame - last.frame)
  const isOutside = (p: Point) => p.x < 0 || p.y < 0 || p.x > frames.width - 1 || p.y > frames.height - 1
  // How far off the expectation a real thing can be: its speed may change by half from frame to frame, hardly by more.
  const room = seen.length === 1 ? 4 * half : (0.6 * half + 0.5 * perFrame) * n
  const reach = Math.min(160, Math.ceil(room + 2))
  const look = eye.patch(before, last, half)
  const flowed = eye.flow(before, last, picture, guess, half)
  const matched = eye.match(look, picture, guess, reach)
  const alike = flowed ? eye.match(look, picture, flowed, 1, 1)[0] : undefined
  const places = [...matched, ...(flowed && alike ? [{ ...flowed, score: alike.score }] : [])]
  const likely = places.filter((p) => distance(p, guess) <= room + 1)
  const best = likeliest(likely, guess)
  if (!best) return { why: isOutside(guess) ? 'out-of-picture' : 'jumped' }
  if (best.score < sameScore) return { why: isOutside(guess) ? 'out-of-picture' : 'changed' }
  // The way back from the place must end where it came from.
  const there = eye.patch(picture, best, half)
  const backReach = Math.max(4, Math.ceil(Math.min(reach, distance(best, last) + 4)))
  const back = likeliest(eye.match(there, before, last, backReach), last)
  const backPx = back ? distance(back, last) : Infinity
  if (backPx > backMostPx + 0.03 * perFrame * n) return { why: 'unsure' }
  if (isOutside(best)) return { why: 'out-of-picture' }
  // The marked look, as it was or turned a little further than before.
  let marked: (Match & { turn: number }) | null = null
  const tried = looks.length === 1 ? [0] : [-2, -1, 0, 1, 2].map((off) => (turn + off + turns) % turns)
  for (const own of tried) {
    const [found] = eye.match(looks[own]!, picture, best, Math.max(2, Math.round(half / 5)), 1)
    if (found && found.score > (marked?.score ?? 0)) marked = { ...found, turn: own }
  }
  if (looks.length > 1 && (marked?.score ?? 0) < stillTheSame) return { why: 'changed' }
  const isByFirstLook = marked !== null && marked.score >= firstLookScore
  const place = marked !== null && isByFirstLook ? marked : best
  return { x: place.x, y: place.y, backPx, isByFirstLook, turn: marked?.turn ?? turn }
}
