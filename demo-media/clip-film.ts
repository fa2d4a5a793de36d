import { camera } from './camera.ts'
import type { Camera } from './camera.ts'
import { chance } from './chance.ts'
import { ballVolume, bodyVolumes, clubVolumes, matVolumes } from './figure.ts'
import type { Outfit, Volume } from './figure.ts'
import { Painter } from './painter.ts'
import type { ClipKind, DemoSwing } from './scenario.ts'
import { swingMotion } from './swing-motion.ts'
import type { Joints, Posture, SwingMotion } from './swing-motion.ts'
import { length, mix, scale } from './vector.ts'
import type { Vec3 } from './vector.ts'

const outfit: Outfit = {
  shirt: [0.72, 0.2, 0.2],
  trousers: [0.21, 0.23, 0.31],
  cap: [0.92, 0.92, 0.89],
  shoes: [0.26, 0.22, 0.2],
}

export type FilmedSwing = { swing: DemoSwing; motion: SwingMotion; takeawayAtSeconds: number }

/** Everything about one clip but its pixels: who swings when, the camera, and when each frame is taken. */
export type Film = {
  kind: ClipKind
  filmed: FilmedSwing[]
  view: Camera
  /** Real seconds of every frame from the first. */
  captureTimes: number[]
  /** Seconds of every frame in the file. */
  fileTimes: number[]
  startsAtMs: number
  seconds: number
  draw: number
}

const viewOf = (kind: ClipKind): Camera => {
  const tall = kind.heightPx > kind.widthPx
  // The microphone is the phone's: the camera stands as far from the ball as the clip says.
  const from: Vec3 = kind.view === 'face-on' ? [0.06, 1.1, 3] : [-3, 1.3, -0.5]
  const position = scale(from, kind.microphoneM / length(from))
  return kind.view === 'face-on'
    ? camera(position, [0.04, 0.86, -0.6], kind.widthPx, kind.heightPx, tall ? 50 : 38)
    : camera(position, [0, 0.92, -0.62], kind.widthPx, kind.heightPx, tall ? 58 : 46)
}

export const planFilm = (kind: ClipKind, swings: readonly DemoSwing[]): Film => {
  const first = swings[0]!
  const draw = first.number * 1009 + (kind.view === 'face-on' ? 1 : 2)
  const filmed: FilmedSwing[] = []
  for (const swing of swings) {
    const motion = swingMotion(swing.spec)
    const before = filmed[0]
    const impactAt = before
      ? before.takeawayAtSeconds + before.motion.moments.impact + (swing.impactAtMs - first.impactAtMs) / 1000
      : kind.leadInSeconds + motion.moments.impact
    filmed.push({ swing, motion, takeawayAtSeconds: impactAt - motion.moments.impact })
  }
  const last = filmed[filmed.length - 1]!
  const seconds = last.takeawayAtSeconds + last.motion.moments.finish + 0.12
  const captureTimes: number[] = []
  if (kind.variableRate) {
    const { uniform } = chance(draw * 7)
    // The phone's clock jitters, and now and then a frame is dropped.
    for (let t = 0; t < seconds;) {
      captureTimes.push(Math.round(t * 90_000) / 90_000)
      t += ((uniform() < 0.07 ? 2 : 1) * (0.88 + 0.24 * uniform())) / kind.captureRate
    }
  } else {
    for (let i = 0; i < seconds * kind.captureRate; i++) captureTimes.push(i / kind.captureRate)
  }
  const slow = kind.captureRate / kind.playbackRate
  const startsAtMs =
    first.impactAtMs - (filmed[0]!.takeawayAtSeconds + filmed[0]!.motion.moments.impact) * 1000
  return {
    kind,
    filmed,
    view: viewOf(kind),
    captureTimes,
    fileTimes: captureTimes.map((t) => t * slow),
    startsAtMs,
    seconds,
    draw,
  }
}

const mixPosture = (a: Posture, b: Posture, s: number): Posture =>
  Object.fromEntries(
    (Object.keys(a) as (keyof Posture)[]).map((key) => [key, a[key] + (b[key] - a[key]) * s]),
  ) as Posture

const mixJoints = (a: Joints, b: Joints, s: number): Joints =>
  Object.fromEntries(
    (Object.keys(a) as (keyof Joints)[]).map((key) => [key, mix(a[key], b[key], s)]),
  ) as Joints

/** The figure at a clip's time; between two swings of a long take it walks its posture back to the setup. */
export const jointsIn = (film: Film, t: number): Joints => {
  const [one, two] = film.filmed
  const own = t - one!.takeawayAtSeconds
  if (!two) return one!.motion.jointsAt(own)
  const rest = one!.motion.moments.finish + 1.1
  const back = rest + 2.6
  if (own <= rest) return one!.motion.jointsAt(own)
  if (own >= back) return two.motion.jointsAt(t - two.takeawayAtSeconds)
  const x = (own - rest) / (back - rest)
  const s = x * x * (3 - 2 * x)
  const posture = mixPosture(
    one!.motion.postureAt(one!.motion.moments.finish),
    two.motion.postureAt(two.motion.moments.setup),
    s,
  )
  return mixJoints(one!.motion.jointsOf(posture), two.motion.jointsOf(posture), s)
}

/** The balls to see: the struck one until it is far, the next one as it is teed up. */
const ballsIn = (film: Film, t: number): Volume[] => {
  const balls: Volume[] = []
  film.filmed.forEach((f, k) => {
    const own = t - f.takeawayAtSeconds
    const before = film.filmed[k - 1]
    const teed = before ? before.takeawayAtSeconds + before.motion.moments.finish + 3.2 : -Infinity
    if (t < teed || own > f.motion.moments.impact + 1.2) return
    const at = f.motion.ballAt(own)
    const rise = before ? Math.min(1, (t - teed) / 0.4) : 1
    balls.push(ballVolume([at[0], at[1] - (1 - rise) * 0.08, at[2]]))
  })
  return balls
}

/** All frames as RGB bytes, in display orientation. The exposure of a frame ends at its time. */
export function* framesOf(film: Film, onFrame: (done: number) => void): Generator<Buffer> {
  const { kind } = film
  const { between } = chance(film.draw * 13)
  const painter = new Painter(film.view, between(0.95, 1.04))
  const exposure = kind.captureRate >= 240 ? 1 / 1200 : 1 / 800
  const club = film.filmed[0]!.swing.spec.club
  const mat = matVolumes(club, film.filmed[0]!.motion.ballRest)
  for (const [index, t] of film.captureTimes.entries()) {
    const joints = jointsIn(film, t)
    const moved = length([
      joints.face[0] - jointsIn(film, t - exposure).face[0],
      joints.face[1] - jointsIn(film, t - exposure).face[1],
      joints.face[2] - jointsIn(film, t - exposure).face[2],
    ])
    const samples = Math.max(1, Math.min(6, Math.ceil(moved / 0.01)))
    const moving = Array.from({ length: samples }, (_, k) => {
      const instant = t - (exposure * k) / samples
      return [...clubVolumes(k === 0 ? joints : jointsIn(film, instant), club), ...ballsIn(film, instant)]
    })
    yield painter.frame([...bodyVolumes(joints, outfit), ...mat], moving)
    onFrame(index + 1)
  }
}
