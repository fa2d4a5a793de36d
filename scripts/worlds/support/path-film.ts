import { spawn } from 'node:child_process'
import { once } from 'node:events'
import path from 'node:path'
import { chance } from '../../../demo-media/chance.ts'
import { findFfmpeg } from '../../../demo-media/encode.ts'
import { ballVolume, bodyVolumes, clubVolumes, matVolumes } from '../../../demo-media/figure.ts'
import { Painter } from '../../../demo-media/painter.ts'
import type { Joints } from '../../../demo-media/swing-motion.ts'
import { along, cross, unit, type Vec3 } from '../../../demo-media/vector.ts'
import type { Point } from '../../../shared-core/geometry/point.ts'
import { inPicture, inventedBody, pixelsPerMeterAt, type BodyFilm } from './body-film.ts'

export const followedThings = ['club head', 'hands', 'belt', 'head', 'ball'] as const
export type FollowedThing = (typeof followedThings)[number]

/** Where a thing is on one frame, and whether it can be seen; null where it is gone or out of the picture. */
export type TruePlace = (Point & { readonly isSeen: boolean }) | null

export interface PathFilm {
  readonly name: string
  readonly file: string
  readonly width: number
  readonly height: number
  readonly captureRate: number
  readonly shake: 'tripod' | 'by hand'
  readonly isCrossed: boolean
  readonly frames: number
  readonly takeawayFrame: number
  readonly impactFrame: number
  /** At the depth of the hands at setup, and of the ball. */
  readonly pixelsPerMeter: number
  readonly ballPixelsPerMeter: number
  readonly truth: Record<FollowedThing, TruePlace[]>
  /** True speed of the middle of the club head in space, metres a second, on every frame. */
  readonly clubHeadMps: number[]
}

const clubHeadOf = (j: Joints, club: BodyFilm['club']): Vec3 => {
  const faceNormal = unit(cross(j.shaft, j.clubToe))
  return club === 'driver'
    ? along(along(j.face, faceNormal, 0.042), j.clubToe, 0.008)
    : along(j.face, faceNormal, 0.012)
}

const mid = (a: Vec3, b: Vec3): Vec3 => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2]

/** How far off a place may be and still be right, metres in the picture: within the thing. */
export const withinM: Record<FollowedThing, number> = {
  'club head': 0.06,
  hands: 0.09,
  belt: 0.09,
  head: 0.09,
  ball: 0.03,
}

/** Films from just before the takeaway to just after impact; club and ball are blurred as by a shutter. */
export const filmPath = async (
  seed: number,
  index: number,
  height: 480 | 1080,
  folder: string,
): Promise<PathFilm> => {
  // Every third of the invented bodies has no ball; the others have all five things.
  const body = inventedBody(seed, index + Math.floor(index / 2), height)
  const { uniform, between } = chance(seed * 977 + index * 313)
  const captureRate = [240, 120, 60, 30][index % 4]!
  const film: BodyFilm = { ...body, captureRate }
  const isShaken = index % 3 === 1
  const isCrossed = index % 5 === 3
  const exposure = captureRate >= 240 ? 1 / 1200 : 1 / between(500, 1000)
  const { impact } = film.moments
  const start = -0.15
  const end = impact + 0.12
  const n = Math.floor((end - start) * captureRate)
  const timeOf = (frame: number) => start + frame / captureRate
  const { widthPx: w, heightPx: h } = film.camera
  const painter = new Painter(film.camera, film.brightness)
  const name = `path-${seed}-${index}-${height}`
  const file = path.join(folder, `${name}.mp4`)
  const child = spawn(
    findFfmpeg(),
    ['-hide_banner', '-loglevel', 'error', '-y', '-f', 'rawvideo', '-pix_fmt', 'rgb24'].concat(
      ['-s', `${w}x${h}`, '-r', String(captureRate), '-i', 'pipe:0'],
      ['-vf', `${film.noise > 0 ? `noise=alls=${film.noise}:allf=t,` : ''}format=yuv420p`],
      ['-c:v', 'libx264', '-preset', 'veryfast', '-crf', String(film.crf), file],
    ),
    { stdio: ['pipe', 'ignore', 'inherit'] },
  )
  const ended = once(child, 'close')
  const truth = Object.fromEntries(followedThings.map((t) => [t, [] as TruePlace[]])) as PathFilm['truth']
  const clubHeadMps: number[] = []
  const ballRest: Vec3 = film.ballAt?.(0) ?? [0, 0.03, 0]
  /** A hand's shake: two slow waves, the picture's whole pixels. */
  const waves = [between(2, 4), between(5, 8), between(2, 4), between(5, 8)]
  const phases = [uniform(), uniform(), uniform(), uniform()].map((u) => u * 6.28)
  const most = isShaken ? h / 160 : 0
  const shakeAt = (t: number) => ({
    x: Math.round(
      most *
        (Math.sin(waves[0]! * t * 6.28 + phases[0]!) + 0.5 * Math.sin(waves[1]! * t * 6.28 + phases[1]!)),
    ),
    y: Math.round(
      most *
        (Math.sin(waves[2]! * t * 6.28 + phases[2]!) + 0.5 * Math.sin(waves[3]! * t * 6.28 + phases[3]!)),
    ),
  })
  /** Somebody who walks through in front: a dark upright, a twelfth of the picture wide. */
  const postAt = (t: number) => ({ x: w * (0.2 + 0.5 * ((t - start) / (end - start))), wide: w / 16 })
  for (let frame = 0; frame < n; frame++) {
    const t = timeOf(frame)
    const joints = film.jointsAt(t)
    const ball = film.ballAt?.(t) ?? ballRest
    const moving = Array.from({ length: 8 }, (_, k) => {
      const instant = t - (exposure * k) / 8
      return [
        ...clubVolumes(film.jointsAt(instant), film.club),
        ballVolume(film.ballAt?.(instant) ?? ballRest),
      ]
    })
    const rgb = painter.frame(
      [...bodyVolumes(joints, film.outfit), ...matVolumes(film.club, ballRest)],
      moving,
    )
    // The exposure ends at the frame's time: what is seen lies in its middle.
    const middle = film.jointsAt(t - exposure / 2)
    const at: Record<FollowedThing, [Vec3, number]> = {
      'club head': [clubHeadOf(middle, film.club), 0.09],
      hands: [mid(joints.leadHand, joints.trailHand), 0.12],
      head: [joints.head, 0.2],
      // The middle of the pelvis lies behind the belt that is marked.
      belt: [joints.pelvis, 0.3],
      ball: [ball, 0.06],
    }
    const shake = shakeAt(t)
    const post = postAt(t)
    for (const thing of followedThings) {
      const [place, nearM] = at[thing]
      const p = inPicture(film, place)
      const seen = { x: p.x + shake.x, y: p.y + shake.y }
      const isHidden = painter.hides(place, nearM) || (isCrossed && Math.abs(seen.x - post.x) < post.wide / 2)
      const isGone = thing === 'ball' && t > impact
      const isOut = seen.x < 2 || seen.y < 2 || seen.x > w - 3 || seen.y > h - 3
      truth[thing].push(isGone || isOut ? null : { ...seen, isSeen: !isHidden })
    }
    const [a, b] = [
      clubHeadOf(film.jointsAt(t - 1e-3), film.club),
      clubHeadOf(film.jointsAt(t + 1e-3), film.club),
    ]
    clubHeadMps.push(Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]) / 2e-3)
    const out = asFilmed(rgb, w, h, { isMirrored: film.isLeftHanded, shake, post: isCrossed ? post : null })
    if (!child.stdin.write(out)) await once(child.stdin, 'drain')
  }
  child.stdin.end()
  await ended
  return {
    name,
    file,
    width: w,
    height: h,
    captureRate,
    shake: isShaken ? 'by hand' : 'tripod',
    isCrossed,
    frames: n,
    takeawayFrame: Math.round(-start * captureRate),
    impactFrame: Math.round((impact - start) * captureRate),
    pixelsPerMeter: pixelsPerMeterAt(film, film.jointsAt(0).leadHand),
    ballPixelsPerMeter: pixelsPerMeterAt(film, ballRest),
    truth,
    clubHeadMps,
  }
}

const asFilmed = (
  rgb: Uint8Array,
  w: number,
  h: number,
  how: { isMirrored: boolean; shake: Point; post: { x: number; wide: number } | null },
): Buffer => {
  const { isMirrored, shake, post } = how
  const out = Buffer.alloc(rgb.length)
  for (let y = 0; y < h; y++) {
    const row = Math.max(0, Math.min(h - 1, y - shake.y)) * w
    for (let x = 0; x < w; x++) {
      const to = (y * w + x) * 3
      if (post && Math.abs(x - post.x) < post.wide / 2) {
        const tone = 50 + 12 * Math.sin(y / 9)
        out[to] = tone
        out[to + 1] = tone + 6
        out[to + 2] = tone + 14
        continue
      }
      const still = Math.max(0, Math.min(w - 1, x - shake.x))
      const from = (row + (isMirrored ? w - 1 - still : still)) * 3
      out[to] = rgb[from]!
      out[to + 1] = rgb[from + 1]!
      out[to + 2] = rgb[from + 2]!
    }
  }
  return out
}
