import { beforeCare, silenceOdds, toldCarefully } from '../moments/impact-chance.ts'
import { framesAllowed } from '../moments/strike-frame.ts'
import { frameAfter, realClock, realSecondsBetween, type ClipTimes } from '../timing/clip-clock.ts'
import { isCoachs, type ViewMoment } from './body-marks.ts'
import { BodySeries, type PlayingSide } from './body-series.ts'
import type { BodyTrack } from './body-track.ts'
import { handsReturn, type HandsReturn } from './impact-return.ts'

/** An impact as it was told before the body was looked at. */
export interface ToldImpact extends ViewMoment {
  readonly confidence: number
}

/** What ball and sound told as surely as this is left to them. */
const wellTold = 0.75

/** Whether the body may say something of an impact: none told, or told unsurely, and no coach has marked it; once, for it is one witness. */
export const isOpenToHands = (impact: ToldImpact | undefined): boolean =>
  !impact || (!isCoachs(impact) && impact.how !== 'body' && impact.confidence < wellTold)

/** A return in a clip: its seconds count from the first frame of the view, at a pace so many times faster than the clip's own. */
export interface SeenReturn extends HandsReturn {
  readonly times: ClipTimes
  readonly fromFrame: number
}

/** Where nobody knows how fast was filmed, a swing may be shown so many times slower than life. */
const slownesses = [1, 2, 4, 8]
/** From about the top the hands come down in 0.27 s, at 6 m/s; factors by which players differ, and our finding the top (logarithms). */
const usual = { downSeconds: 0.27, downSpread: 0.35, speedMps: 6, speedSpread: 0.4 }

/** The hands' return in a view's part of a clip, at whatever pace it may be shown; null where none is seen. */
export const returnInView = (
  input: { track: BodyTrack; times: ClipTimes; side: PlayingSide; tiltDeg: number; isRateGuessed: boolean },
  view: { fromFrame: number; toFrame: number },
): SeenReturn | null => {
  const { track, fromFrame } = { ...input, ...view }
  const own = Array.from(track.frames, (frame, k) => ({ frame, k })).filter(
    ({ frame }) => frame >= fromFrame && frame <= view.toFrame,
  )
  const width = track.points.length / Math.max(1, track.frames.length)
  const within: BodyTrack = {
    frames: Int32Array.from(own, (one) => one.frame),
    points: Float32Array.from(
      own.flatMap(({ k }) => Array.from(track.points.subarray(k * width, (k + 1) * width))),
    ),
  }
  if (own.length < 8) return null
  const found = (input.isRateGuessed ? slownesses : [1]).flatMap((slowness) => {
    const times = { ...input.times, captureRate: input.times.captureRate * slowness }
    const seen = handsReturn(new BodySeries(within, times, fromFrame, input))
    if (!seen || seen.atSeconds <= seen.topSeconds) return []
    const off = [
      Math.log((seen.atSeconds - seen.topSeconds) / usual.downSeconds) / usual.downSpread,
      Math.log(seen.speedMps / usual.speedMps) / usual.speedSpread,
    ]
    return [{ ...seen, times, fromFrame, far: Math.hypot(...off) }]
  })
  return found.reduce<(typeof found)[number] | null>((one, f) => (one && one.far <= f.far ? one : f), null)
}

/** Pictures of a first look for the return, at most, and real seconds between them where the pace is known. */
const mostLooks = 150
const lookSeconds = 0.065
const leastLooks = 48

/** The frames of a first look at a view whose impact is not known: evenly over it, near enough for a downswing to be met three times. */
export const framesToLook = (view: { fromFrame: number; toFrame: number }, times: ClipTimes): Int32Array => {
  const { fromFrame, toFrame } = view
  const span = realSecondsBetween(times, fromFrame, toFrame)
  const most = Math.min(mostLooks, Math.max(leastLooks, Math.ceil(span / lookSeconds)))
  const n = Math.min(most, toFrame - fromFrame + 1)
  return Int32Array.from(
    new Set(
      Array.from(
        { length: n },
        (_, i) => fromFrame + Math.round((i * (toFrame - fromFrame)) / Math.max(1, n - 1)),
      ),
    ),
  )
}

/** The moments of a view whose impact is open, as far as its return tells them: what its frames are chosen by for the closer look. */
export const momentsByReturn = (
  moments: readonly ViewMoment[],
  seen: SeenReturn,
): { name: string; frame: number }[] => {
  const at = (seconds: number) => frameAfter(seen.times, seen.fromFrame, seconds)
  return [
    ...moments.filter(isCoachs),
    { name: 'impact', frame: at(seen.atSeconds) },
    { name: 'top', frame: at(seen.topSeconds) },
    ...(seen.restSeconds === null ? [] : [{ name: 'takeaway', frame: at(seen.restSeconds) }]),
  ].filter((m, i, all) => all.findIndex((o) => o.name === m.name) === i)
}

/**
 * How likely a whole swing in a coach's clip struck a ball where neither ball nor sound tells it: drills with a swish are filmed, too (our own
 * guess; no body tells a swish from a strike). Where the film's sound holds no strike its odds are `silenceOdds` of that.
 */
const struckUsually = 0.85
/** The model sometimes follows something else than the hands for a while: share and spread. */
const strays = { share: 0.06, sdSeconds: 0.08 }
/** A strike that was told in the wrong place lies anywhere in the swing: chance a second. */
const elsewherePerSecond = 1.5
/**
 * The fastest motion is at best so likely to lie within the frames that count as right, and where frames lie close it is spread over a tenth of
 * a second (tests/worlds/moments.md; our own guess from it).
 */
const motionThere = 0.5
const motionSpread = 0.1
/** No program knows better by the body alone. */
const surest = 0.9
const stepSeconds = 0.001

/** An impact by the hands and what was told before. */
export interface WeighedImpact {
  readonly frame: number
  readonly confidence: number
  readonly how: 'body'
}

/**
 * Joins the hands' return with what was told before (Bayes on a grid of instants, evidence taken as independent).
 *
 * A sound or a ball that was surely seen to go is a witness of its own: told right, its instant meets the return's; told wrong, it lies
 * anywhere. Where only the motion told, the return says which instant it was, and nothing of whether a ball was struck: a swish moves and
 * returns alike, so that stays as likely as it was, or as swings in a coach's clips are. Null where the return was not seen to go through and nothing
 * was told, or where the chance of a new one is below a half.
 */
export const weighImpact = (
  seen: SeenReturn,
  told: ToldImpact | undefined,
  film: { readonly isBallSeen: boolean; readonly isSoundRecorded: boolean },
): WeighedImpact | null => {
  const { times, fromFrame } = seen
  const clock = realClock(times)
  const zero = clock[fromFrame]!
  const last = clock.length - 1
  const frameSeconds = clock[Math.min(last, fromFrame + 1)]! - zero || 1 / times.captureRate
  const allowed = framesAllowed(frameSeconds)
  /** Seconds at which a frame begins; the last one lasts as long as the first. */
  const begins = (frame: number) =>
    (frame > last ? clock[last]! + (frame - last) * frameSeconds : clock[Math.max(0, frame)]!) - zero
  const normal = (off: number, sd: number) => Math.exp(-0.5 * (off / sd) ** 2) / (sd * Math.sqrt(2 * Math.PI))
  const byHands = (t: number) =>
    (1 - strays.share) * normal(t - seen.atSeconds, seen.sdSeconds) +
    strays.share * normal(t - seen.atSeconds, Math.hypot(seen.sdSeconds, strays.sdSeconds))

  const chance = told ? beforeCare(told.confidence) : 0
  const isWitness = told !== undefined && (film.isBallSeen || told.how !== 'motion')
  const isSilent = film.isSoundRecorded && !isWitness
  const odds = (struckUsually / (1 - struckUsually)) * (isSilent ? silenceOdds.nothing : 1)
  const usually = odds / (1 + odds)
  // How likely it was struck where it was told, if it was struck at all.
  const struck = Math.max(chance, usually)
  const wide = told ? begins(told.frame + 1 + allowed) - begins(told.frame - allowed) : 0
  const there = isWitness ? chance : Math.min(motionThere, wide / motionSpread, chance / struck)
  const [from, to] = told ? [begins(told.frame - allowed), begins(told.frame + 1 + allowed)] : [0, 0]
  const elsewhere = (1 - there) * elsewherePerSecond * (isWitness ? struckUsually : 1)

  const reach = Math.max(0.35, 4 * seen.sdSeconds)
  const grid: { t: number; weight: number }[] = []
  let atTold = 0
  for (let t = seen.atSeconds - reach; t <= seen.atSeconds + reach; t += stepSeconds) {
    const hands = byHands(t) * stepSeconds
    const own = t >= from && t < to ? (there / (to - from)) * hands : 0
    atTold += own
    grid.push({ t, weight: own + elsewhere * hands })
  }
  const sum = grid.reduce((total, g) => total + g.weight, 0)
  // A swish returns like a strike, as far off what was told as where it was told wrong.
  const swish = (1 - there) * elsewherePerSecond * (1 - struckUsually)
  const isStruck = isWitness ? sum / (sum + swish) : struck
  const massOf = (frame: number, reachFrames: number) =>
    grid.reduce(
      (total, g) =>
        g.t >= begins(frame - reachFrames) && g.t < begins(frame + 1 + reachFrames)
          ? total + g.weight
          : total,
      0,
    ) / sum
  const mean = grid.reduce((total, g) => total + g.t * g.weight, 0) / sum
  const middle = frameAfter(times, fromFrame, mean)
  let best = { frame: middle, mass: massOf(middle, 1) }
  const near = frameAfter(times, fromFrame, seen.atSeconds - 0.1)
  const until = frameAfter(times, fromFrame, seen.atSeconds + 0.1)
  for (let frame = near; frame <= until; frame++) {
    const mass = massOf(frame, 1)
    if (mass > best.mass + 1e-6) best = { frame, mass }
  }
  // What was told within the frames that count as right by a witness stays where it is: a ball tells its frame better than hands.
  const frame =
    isWitness && atTold > 0.5 * sum && Math.abs(best.frame - told.frame) <= allowed ? told.frame : best.frame
  const confidence = Math.min(surest, toldCarefully(isStruck * massOf(frame, allowed)))
  if (!told && (!seen.isThrough || confidence < 0.5)) return null
  return { frame, confidence: Math.round(100 * confidence) / 100, how: 'body' }
}

/** The model places hands that hang over the ball above the middle of the trunk so seldom (our own guess). */
const handsMisplaced = 0.1

/**
 * An impact that was told where the hands are above the middle of the trunk, and no return is seen: nobody strikes a ball there, and the film may
 * end before the strike. Null where the hands hang lower, or were not seen on the frames about it.
 */
export const doubtedImpact = (
  { track, times, ...how }: { track: BodyTrack; times: ClipTimes; side: PlayingSide; tiltDeg: number },
  told: ToldImpact,
): WeighedImpact | null => {
  const body = new BodySeries(track, times, told.frame, how)
  const heights = (part: 'Wrist' | 'Shoulder' | 'Hip') => {
    const ways = [body.joint(part, 'lead'), body.joint(part, 'trail')]
    return (k: number) => {
      const seen = ways.map((way) => way.y.values[k]!).filter((y) => Number.isFinite(y))
      return seen.reduce((sum, y) => sum + y, 0) / seen.length
    }
  }
  const [hands, shoulders, hips] = [heights('Wrist'), heights('Shoulder'), heights('Hip')]
  const offs = Array.from(track.frames, (frame, k) => ({
    frame,
    off: hands(k) - (shoulders(k) + hips(k)) / 2,
  })).filter(
    ({ frame, off }) =>
      Math.abs(frame - told.frame) <= framesAllowed(body.frameSeconds) && Number.isFinite(off),
  )
  // y runs down.
  if (offs.length === 0 || offs.some(({ off }) => off > 0)) return null
  const chance = beforeCare(told.confidence) * handsMisplaced
  const left = chance / (chance + 1 - beforeCare(told.confidence))
  return { frame: told.frame, confidence: Math.round(100 * toldCarefully(left)) / 100, how: 'body' }
}
