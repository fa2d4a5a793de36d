import { spawn } from 'node:child_process'
import { once } from 'node:events'
import path from 'node:path'
import { camera, project } from '../../../demo-media/camera.ts'
import type { Camera } from '../../../demo-media/camera.ts'
import { capturedSwing } from '../../../demo-media/captured-swing.ts'
import { chance, type Chance } from '../../../demo-media/chance.ts'
import { findFfmpeg } from '../../../demo-media/encode.ts'
import { ballVolume, bodyVolumes, clubVolumes, matVolumes } from '../../../demo-media/figure.ts'
import type { Colour, Outfit } from '../../../demo-media/figure.ts'
import { Painter } from '../../../demo-media/painter.ts'
import { swingMotion } from '../../../demo-media/swing-motion.ts'
import type { Joints, SwingMoments } from '../../../demo-media/swing-motion.ts'
import type { Vec3 } from '../../../demo-media/vector.ts'
import { framesToRead } from '../../../shared-core/body/frames-to-read.ts'
import type { ClipTimes } from '../../../shared-core/timing/clip-clock.ts'

/** One swing to be filmed: its true joints, and how it is filmed. */
export interface BodyFilm {
  readonly name: string
  readonly moments: SwingMoments
  readonly jointsAt: (t: number) => Joints
  readonly view: 'face-on' | 'down-the-line'
  readonly camera: Camera
  readonly isLeftHanded: boolean
  readonly captureRate: number
  readonly outfit: Outfit
  readonly brightness: number
  readonly noise: number
  readonly crf: number
  readonly club: 'driver' | '7-iron'
  readonly ballAt: ((t: number) => Vec3) | null
  /** What the motion alone would say, seconds: off by as much as it is on made films (tests/worlds/moments.md). */
  readonly found: { readonly takeaway: number; readonly top: number; readonly finish: number }
  /** When the strike is heard, and what is known of how late its sound comes (`strikeInstant`); null without sound. */
  readonly heard: HeardStrike | null
}

/** Seconds from the takeaway; the delay is known from the lesson's other clips where it has an `sdSeconds`. */
export interface HeardStrike {
  readonly atSeconds: number
  readonly delay: { readonly delaySeconds: number; readonly sdSeconds?: number }
}

const size = (height: number) => (height === 1080 ? { w: 1920, h: 1080 } : { w: 854, h: 480 })

const viewFrom = (
  view: BodyFilm['view'],
  height: number,
  off: { along: number; up: number; far: number },
): Camera => {
  const { w, h } = size(height)
  return view === 'face-on'
    ? camera([0.06 + off.along, 1.1 + off.up, 3 + off.far], [0.04, 0.86, -0.6], w, h, 38)
    : camera([-3 - off.far, 1.3 + off.up, -0.5 + off.along], [0, 0.92, -0.62], w, h, 46)
}

const colour = (uniform: () => number, low: number, high: number): Colour => [
  low + (high - low) * uniform(),
  low + (high - low) * uniform(),
  low + (high - low) * uniform(),
]

/** Chances that start near each other begin alike: the start is mixed first (the finaliser of MurmurHash3). */
const mixedChance = (seed: number, index: number): Chance => {
  let mixed = Math.imul(seed, 131) + Math.imul(index, 7919)
  mixed = Math.imul(mixed ^ (mixed >>> 16), 0x85ebca6b)
  mixed = Math.imul(mixed ^ (mixed >>> 13), 0xc2b2ae35)
  return chance(mixed ^ (mixed >>> 16))
}

/** Hands slower than this along the way they go next stand still, m/s. */
const standingMps = 0.05

/**
 * When the hands of a motion leave rest for the way back: the last time before the top that the middle of both stands still or goes the other
 * way. The capture's own mark is later: there the hands already go at 0.2 m/s, and its way from here on is one steady acceleration.
 */
const leavesRest = (jointsAt: BodyFilm['jointsAt'], before: number): number => {
  const step = 0.01
  const hands = (t: number): Vec3 => {
    const { leadHand, trailHand } = jointsAt(t)
    return [0, 1, 2].map((i) => (leadHand[i]! + trailHand[i]!) / 2) as unknown as Vec3
  }
  const minus = (a: Vec3, b: Vec3) => a.map((v, i) => v - b[i]!)
  for (let t = before; t > before - 1; t -= 0.002) {
    const way = minus(hands(t + 0.25), hands(t))
    const moved = minus(hands(t + step), hands(t - step))
    const along = moved.reduce((sum, v, i) => sum + v * way[i]!, 0) / Math.hypot(...way)
    if (along / (2 * step) < standingMps) return t
  }
  throw new Error('the hands of this motion never stand still')
}

/**
 * The strike of a film as its sound tells it: most have one, and four in five of those a lesson that has told how late its camera's sound is
 * (tests/worlds/sound-delay.md).
 */
const heardStrike = (seed: number, index: number, impact: number): HeardStrike | null => {
  const { uniform, between } = mixedChance(seed + 77, index)
  // Sum of four: near enough to a normal error, standard deviation one.
  const error = () => Math.sqrt(3) * (between(-1, 1) + between(-1, 1) + between(-1, 1) + between(-1, 1)) * 0.5
  const [hasSound, isKnown] = [uniform() < 0.85, uniform() < 0.8]
  const metres = between(1.5, 8)
  const late = metres / 343
  if (!hasSound) return null
  const atSeconds = impact + late + 0.002 * error()
  return isKnown
    ? { atSeconds, delay: { delaySeconds: late + 0.002 * error(), sdSeconds: 0.002 } }
    : { atSeconds, delay: { delaySeconds: 3 / 343 } }
}

const ramp = (share: number): number => {
  const s = Math.min(1, Math.max(0, share))
  return s * s * (3 - 2 * s)
}

/** A swing whose motion after impact runs `through` times as fast, from 20 ms after it on; and its moments then. */
const goneThrough = (moments: SwingMoments, through: number) => {
  const change = 0.02
  const bodyTime = (t: number): number => {
    const s = t - moments.impact
    const own = Math.min(s, change)
    return (
      moments.impact + own + ((through - 1) * own * own) / (2 * change) + through * Math.max(0, s - change)
    )
  }
  const filmTime = (of: number): number => {
    let [low, high] = [moments.impact, moments.impact + 3]
    for (let i = 0; i < 40; i++) {
      const middle = (low + high) / 2
      if (bodyTime(middle) < of) low = middle
      else high = middle
    }
    return low
  }
  return {
    bodyTime,
    moments: { ...moments, release: filmTime(moments.release), finish: filmTime(moments.finish) },
  }
}

/** A varied swing of the figure, or (every third) the captured one at its own or a faster speed. */
export const inventedBody = (seed: number, index: number, height: 480 | 1080): BodyFilm => {
  const { uniform, between } = mixedChance(seed, index)
  const isCaptured = index % 3 === 2
  const view = index % 5 === 4 ? 'down-the-line' : 'face-on'
  const isLeftHanded = uniform() < 0.3
  const captureRate = [30, 60, 120, 240][Math.floor(uniform() * 4)]!
  const off = { along: between(-0.25, 0.25), up: between(-0.2, 0.25), far: between(-0.1, 0.9) }
  const look = {
    outfit: {
      shirt: colour(uniform, 0.15, 0.9),
      trousers: colour(uniform, 0.1, 0.7),
      cap: colour(uniform, 0.1, 0.9),
      shoes: colour(uniform, 0.1, 0.6),
    },
    brightness: between(0.75, 1.15),
    noise: Math.round(between(0, 14)),
    crf: Math.round(between(20, 30)),
  }
  const wild = (usual: number, seldom: number) => between(-1, 1) * (uniform() < 0.75 ? usual : seldom)
  const off3 = { takeaway: 0.012 + wild(0.045, 0.25), top: wild(0.035, 0.12), finish: wild(0.16, 0.45) }
  const foundBy = (m: SwingMoments) => ({
    takeaway: m.takeaway + off3.takeaway,
    top: m.top + off3.top,
    finish: m.finish + off3.finish,
  })
  const rest = { view, isLeftHanded, captureRate, ...look, camera: viewFrom(view, height, off) } as const
  if (isCaptured) {
    const { moments: marked, jointsAt } = capturedSwing(between(1, 1.6))
    const moments = { ...marked, takeaway: leavesRest(jointsAt, 0.1) }
    return {
      name: `captured ${index}`,
      moments,
      jointsAt,
      club: '7-iron',
      ballAt: null,
      found: foundBy(moments),
      heard: heardStrike(seed, index, moments.impact),
      ...rest,
    }
  }
  const club = uniform() < 0.5 ? 'driver' : '7-iron'
  const braceBefore = between(-0.01, 0.12)
  const motion = swingMotion({
    club,
    clubSpeedMps: club === 'driver' ? between(36, 46) : between(31, 38),
    backswingSeconds: between(0.62, 1.05),
    downswingSeconds: between(0.21, 0.32),
    leadKneeAtImpactDeg: between(148, 174),
    braceBeforeImpactSeconds: braceBefore,
    pelvisShiftM: between(0.05, 0.12),
    // Braced means slower from there on: at most 0.15 m/s until just after impact.
    pelvisSlideM: Math.min(between(0.003, 0.03), 0.15 * (braceBefore + 0.02)),
    upperBodyDriftM: between(-0.03, 0.06),
    shoulderTension: uniform(),
    ballSpeedMps: 60,
    launchDeg: 13,
    launchDirectionDeg: 0,
  })
  // Nobody stands like a statue: the body sways, and some waggle before they go.
  const [sway, phase] = [between(0, 0.004), between(0, 6)]
  const waggle = uniform() < 0.5 ? between(3, 12) : 0
  const still = between(0.25, 0.5)
  // Some press their hands toward the target before they take them away.
  const pressDeg = uniform() < 0.4 ? between(2, 6) : 0
  const pressed = between(0.06, 0.2)
  const pressAt = (t: number) => {
    const on = ramp((t + pressed + 0.25) / 0.25)
    return t < 0 ? on : 1 - ramp(t / 0.25)
  }
  // Clubs go round faster or slower after the strike: so many times as fast, 20 ms after it and from there on.
  const { impact } = motion.moments
  const through = between(0.65, 1.3)
  const { moments, bodyTime } = goneThrough(motion.moments, through)
  const jointsAt = (time: number): Joints => {
    const t = time <= impact ? time : bodyTime(time)
    const posture = motion.postureAt(t)
    const lift = t < -still ? waggle * Math.sin(Math.PI * 1.6 * (t + still)) ** 2 : 0
    const x = sway * Math.sin(3 * t + phase)
    return motion.jointsOf({
      ...posture,
      pelvisXM: posture.pelvisXM + x,
      hubXM: posture.hubXM + x,
      armDeg: posture.armDeg + 0.3 * lift - pressDeg * pressAt(t),
      cockDeg: posture.cockDeg + lift,
    })
  }
  return {
    name: `figure ${index}`,
    moments,
    jointsAt,
    found: foundBy(moments),
    heard: heardStrike(seed, index, moments.impact),
    club,
    ballAt: motion.ballAt,
    ...rest,
  }
}

/** A whole clip of a film as a library would know it. */
export interface BodyClip {
  readonly times: ClipTimes
  readonly moments: { name: string; frame: number }[]
  /** The same as the motion alone would have found them. */
  readonly motion: { name: string; frame: number; how: 'motion' | 'sound+motion'; isConfirmed: boolean }[]
  /** Seconds from the takeaway of the clip's first frame. */
  readonly startSeconds: number
}

/** A film of just the frames that a library would read, and what a library would know of the whole clip. */
export interface FilmedBody extends BodyClip {
  readonly file: string
  /** Frames of the file, and the frames of the whole clip that they are. */
  readonly frames: Int32Array
  readonly clipFrames: Int32Array
}

/** Seconds of a clip before the takeaway that a film's times count from. */
const leadIn = 1

/** What is known of a film's whole clip before its pictures are read. */
export const clipOf = (film: BodyFilm): BodyClip => {
  const all = Math.ceil((leadIn + film.moments.finish + 0.35) * film.captureRate)
  const times: ClipTimes = {
    atSeconds: Float64Array.from({ length: all }, (_, i) => i / film.captureRate),
    playbackRate: film.captureRate,
    captureRate: film.captureRate,
  }
  const frameOf = (t: number) => Math.min(all - 1, Math.max(0, Math.round((t + leadIn) * film.captureRate)))
  const named = (['setup', 'takeaway', 'top', 'impact', 'finish'] as const).map((name) => ({
    name,
    // As the library marks it: the last frame before the ball moves.
    frame:
      name === 'impact'
        ? Math.floor((film.moments.impact + leadIn) * film.captureRate)
        : frameOf(film.moments[name]),
  }))
  const impact = named.find((m) => m.name === 'impact')!
  const { found } = film
  return {
    times,
    moments: named,
    motion: [
      ...(['takeaway', 'top', 'finish'] as const).map((name) => ({
        name,
        frame: frameOf(found[name]),
        how: 'motion' as const,
        isConfirmed: false,
      })),
      { ...impact, how: 'sound+motion', isConfirmed: false },
    ],
    startSeconds: -leadIn,
  }
}

/** Renders the frames that matter; the reading itself is told the frames' true times, as of a whole clip. */
export const filmBody = async (
  film: BodyFilm,
  folder: string,
  plan: typeof framesToRead = framesToRead,
): Promise<FilmedBody> => {
  const clip = clipOf(film)
  // The library only knows what the motion says; the true frames are read, too, for the measures at them.
  const planned = plan(
    { fromFrame: 0, toFrame: clip.times.atSeconds.length - 1, moments: clip.motion },
    clip.times,
  )
  const wanted = Int32Array.from(new Set([...planned, ...clip.moments.map((m) => m.frame)])).sort()
  const at = Array.from(wanted, (f) => f / film.captureRate - leadIn)
  const { widthPx: w, heightPx: h } = film.camera
  const file = path.join(folder, `${film.name.replace(/ /g, '-')}-${h}.mp4`)
  const painter = new Painter(film.camera, film.brightness)
  const child = spawn(
    findFfmpeg(),
    [
      ...[
        '-hide_banner',
        '-loglevel',
        'error',
        '-y',
        '-f',
        'rawvideo',
        '-pix_fmt',
        'rgb24',
        '-s',
        `${w}x${h}`,
      ],
      ...[
        '-r',
        '30',
        '-i',
        'pipe:0',
        '-vf',
        `${film.noise > 0 ? `noise=alls=${film.noise}:allf=t,` : ''}format=yuv420p`,
      ],
      ...['-c:v', 'libx264', '-preset', 'veryfast', '-crf', String(film.crf), file],
    ],
    { stdio: ['pipe', 'ignore', 'inherit'] },
  )
  const ended = once(child, 'close')
  const ballRest: Vec3 = [0, 0.03, 0]
  for (const t of at) {
    const joints = film.jointsAt(t)
    const moving = [...clubVolumes(joints, film.club), ...(film.ballAt ? [ballVolume(film.ballAt(t))] : [])]
    const frame = painter.frame(
      [...bodyVolumes(joints, film.outfit), ...matVolumes(film.club, ballRest)],
      [moving],
    )
    if (!child.stdin.write(film.isLeftHanded ? flipped(frame, w) : frame)) await once(child.stdin, 'drain')
  }
  child.stdin.end()
  await ended
  return { ...clip, file, frames: Int32Array.from(at, (_, i) => i), clipFrames: wanted }
}

const flipped = (rgb: Uint8Array, width: number): Buffer => {
  const turned = Buffer.alloc(rgb.length)
  const row = width * 3
  for (let y = 0; y < rgb.length; y += row) {
    for (let x = 0; x < width; x++) {
      const from = y + x * 3
      const to = y + (width - 1 - x) * 3
      turned[to] = rgb[from]!
      turned[to + 1] = rgb[from + 1]!
      turned[to + 2] = rgb[from + 2]!
    }
  }
  return turned
}

/** A true joint in the picture. */
export const inPicture = (film: BodyFilm, p: Vec3): { x: number; y: number } => {
  const [x, y] = project(film.camera, p)
  return { x: film.isLeftHanded ? film.camera.widthPx - x : x, y }
}

/** Pixels a metre at the depth of a point. */
export const pixelsPerMeterAt = (film: BodyFilm, p: Vec3): number => {
  const a = inPicture(film, p)
  const b = inPicture(film, [p[0], p[1] + 0.1, p[2]])
  return Math.hypot(a.x - b.x, a.y - b.y) / 0.1
}
