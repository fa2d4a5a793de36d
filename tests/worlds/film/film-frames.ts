import { camera, project, toCamera } from '../../../demo-media/camera.ts'
import { ballRadiusM } from '../../../demo-media/swing-motion.ts'
import type { Joints, Posture, SwingMotion } from '../../../demo-media/swing-motion.ts'
import { add, along, mix } from '../../../demo-media/vector.ts'
import type { Vec3 } from '../../../demo-media/vector.ts'
import type { GreyFrame } from '../../../shared-core/moments/motion-curve.ts'
import { chanceFrom, normal } from '../../shared-core/moments/synthetic-sound.ts'
import type { FilmSpec, FilmedSwing } from './film-spec.ts'

/** One frame's two clocks: when it was taken, and when the file shows it. Seconds. */
export type FrameTime = { realSeconds: number; fileSeconds: number }

/** When every frame of the film was taken and is shown. */
export const frameTimes = (spec: FilmSpec): FrameTime[] => {
  const chance = chanceFrom(spec.seed + 77)
  const all = Array.from(
    { length: Math.floor(spec.seconds * spec.captureRate) },
    (_, i) => i / spec.captureRate,
  )
  const slow = spec.captureRate / spec.playbackRate
  if (spec.timeBase === 'slowed') return all.map((t) => ({ realSeconds: t, fileSeconds: t * slow }))
  const isSlow = (t: number) => t >= spec.slowFromSeconds && t < spec.slowToSeconds
  if (spec.timeBase === 'ramp-variable') {
    let at = 0
    return all.map((t) => {
      const frame = { realSeconds: t, fileSeconds: at }
      at += (isSlow(t) ? slow : 1) / spec.captureRate
      return frame
    })
  }
  if (spec.timeBase === 'ramp-baked') {
    const kept = all.filter((t, i) => isSlow(t) || i % Math.round(slow) === 0)
    return kept.map((t, i) => ({ realSeconds: t, fileSeconds: i / spec.playbackRate }))
  }
  const { missing, doubledEvery } = spec
  if (doubledEvery > 0) {
    const out: FrameTime[] = []
    for (let i = 0; i < all.length; i++) {
      const source = all[i - (i % doubledEvery === 0 ? 1 : 0)] ?? all[i]!
      out.push({ realSeconds: source, fileSeconds: all[i]! })
    }
    return out
  }
  return all
    .filter((_, i) => (missing === 'none' ? true : missing === 'half' ? i % 2 === 0 : chance() >= missing))
    .map((t) => ({ realSeconds: t, fileSeconds: t }))
}

type Picture = { pixels: Float32Array; width: number; height: number }
type Stroke = {
  x0: number
  y0: number
  r0: number
  x1: number
  y1: number
  r1: number
  level: number
  depth: number
}

/** A thick line with round ends, lighter towards its upper left edge; anti-aliased. */
const stroke = (p: Picture, s: Stroke, alpha = 1, multiply = false): void => {
  const { pixels, width, height } = p
  const most = Math.max(s.r0, s.r1) + 1
  const xa = Math.max(0, Math.floor(Math.min(s.x0, s.x1) - most))
  const xb = Math.min(width - 1, Math.ceil(Math.max(s.x0, s.x1) + most))
  const ya = Math.max(0, Math.floor(Math.min(s.y0, s.y1) - most))
  const yb = Math.min(height - 1, Math.ceil(Math.max(s.y0, s.y1) + most))
  const ax = s.x1 - s.x0
  const ay = s.y1 - s.y0
  const aa = ax * ax + ay * ay || 1e-9
  for (let y = ya; y <= yb; y++) {
    for (let x = xa; x <= xb; x++) {
      const px = x - s.x0
      const py = y - s.y0
      const f = Math.min(1, Math.max(0, (px * ax + py * ay) / aa))
      const r = s.r0 + (s.r1 - s.r0) * f
      const dx = px - ax * f
      const dy = py - ay * f
      const d = Math.sqrt(dx * dx + dy * dy)
      // Thinner than a pixel: covers its share of it.
      const cover = Math.min(1, Math.max(0, r + 0.5 - d)) * Math.min(1, 2 * r + 0.15) * alpha
      if (cover <= 0) continue
      const at = y * width + x
      if (multiply) pixels[at]! *= 1 - cover
      else {
        const shade = s.level * (0.86 - (0.2 * (dx * 0.5 + dy)) / (r + 1))
        pixels[at] = pixels[at]! * (1 - cover) + shade * cover
      }
    }
  }
}

/** The figure's joints with only a share of the arc: towards setup and impact, which stay as they are. */
const arcAt = (motion: SwingMotion, t: number, share: number): Joints => {
  if (share === 1) return motion.jointsAt(t)
  const full = motion.postureAt(t)
  const [setup, struck] = [motion.postureAt(0), motion.postureAt(motion.moments.impact)]
  const { top, impact } = motion.moments
  const x = Math.max(0, Math.min(1, (t - top) / (impact - top)))
  const late = x * x * (3 - 2 * x)
  return motion.jointsOf(
    Object.fromEntries(
      (Object.keys(full) as (keyof Posture)[]).map((key) => {
        const rest = setup[key] + (struck[key] - setup[key]) * late
        return [key, rest + share * (full[key] - rest)]
      }),
    ) as Posture,
  )
}

/** Grey frames of a made film, one at a time, with their own file timestamps. */
export class Film {
  readonly spec: FilmSpec
  readonly times: FrameTime[]
  private readonly view: ReturnType<typeof camera>
  private readonly margin = 28
  private readonly ground: Picture
  private readonly noise: Float32Array
  private readonly sines: { hz: number; phase: number; dx: number; dy: number }[]

  constructor(spec: FilmSpec) {
    this.spec = spec
    this.times = frameTimes(spec)
    const chance = chanceFrom(spec.seed * 31 + 5)
    const { width, height, azimuthDeg, cameraHeightM } = spec
    const a = (azimuthDeg * Math.PI) / 180
    const distance = 4.2
    const middle: Vec3 = [0, 0.92, -0.35]
    const position: Vec3 = [-Math.sin(a) * distance, cameraHeightM, Math.cos(a) * distance - 0.35]
    const deg = (2 * Math.atan(spec.pictureM / 2 / distance) * 180) / Math.PI
    this.view = camera(position, middle, width, height, deg)
    this.view = {
      ...this.view,
      centreX: this.view.centreX + spec.offCentre[0] * width,
      centreY: this.view.centreY + spec.offCentre[1] * height,
    }
    this.noise = new Float32Array(1 << 16)
    for (let i = 0; i < this.noise.length; i++) this.noise[i] = normal(chance)
    this.sines = Array.from({ length: 5 }, () => ({
      hz: 0.5 + 6 * chance() ** 2,
      phase: 6.28 * chance(),
      dx: chance() - 0.5,
      dy: chance() - 0.5,
    }))
    this.ground = this.background()
  }

  /** Real seconds of each strike of a ball that lies within the film. */
  get impactsSeconds(): number[] {
    return this.spec.swings
      .filter((s) => s.isStruck)
      .map((s) => s.takeawaySeconds + this.spec.motion.moments.impact)
      .filter((t) => t < this.times.at(-1)!.realSeconds)
  }

  /** Index of the last frame taken at or before a real instant, first of its doubles. */
  frameAt(realSeconds: number): number {
    let best = 0
    this.times.forEach((t, i) => {
      if (t.realSeconds <= realSeconds + 1e-9) best = i
    })
    return best
  }

  /** Where the ball lies in the picture of the first frame, pixels. */
  get ballPlace(): { x: number; y: number } {
    const [x, y] = project(this.view, this.spec.motion.ballRest)
    const [dx, dy] = this.shiftAt(this.times[0]!.realSeconds)
    return { x: this.spec.isMirrored ? this.spec.width - 1 - x - dx : x + dx, y: y + dy }
  }

  /** Real seconds when the hands have come to rest: slower than 0.3 m/s from there on. */
  handsAtRest(swing: FilmedSwing): number {
    const impact = swing.takeawaySeconds + this.spec.motion.moments.impact
    const step = 0.01
    for (let t = impact + this.spec.followSeconds; t > impact; t -= step) {
      const a = this.jointsAt(t).leadHand
      const b = this.jointsAt(t - step).leadHand
      if (Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]) / step > 0.3) return t
    }
    return impact
  }

  private background(): Picture {
    const { spec, view, margin } = this
    const width = spec.width + 2 * margin
    const height = spec.height + 2 * margin
    const pixels = new Float32Array(width * height)
    const chance = chanceFrom(spec.seed * 17 + 3)
    const lattice = Float32Array.from({ length: 4096 }, () => chance() * 2 - 1)
    const soft = (x: number, y: number) => {
      const i = Math.floor(x)
      const k = Math.floor(y)
      const at = (m: number, n: number) => lattice[(((m * 73 + n * 151) % 4096) + 4096) % 4096]!
      const u = x - i
      const v = y - k
      return (
        (at(i, k) * (1 - u) + at(i + 1, k) * u) * (1 - v) +
        (at(i, k + 1) * (1 - u) + at(i + 1, k + 1) * u) * v
      )
    }
    for (let y = 0; y < height; y++) {
      for (let x = 0; x < width; x++) {
        const u = (x - margin - view.centreX) / view.focalPx
        const v = (y - margin - view.centreY) / view.focalPx
        const d: Vec3 = [0, 1, 2].map(
          (k) => view.right[k]! * u + view.down[k]! * v + view.forward[k]!,
        ) as unknown as Vec3
        let level: number
        const s = d[1] < -0.02 ? -view.position[1] / d[1] : Infinity
        if (s < 14) {
          const gx = view.position[0] + d[0] * s
          const gz = view.position[2] + d[2] * s
          level =
            spec.ground.level + spec.ground.texture * (soft(gx * 9, gz * 9) + 0.6 * soft(gx * 43, gz * 43))
          if (spec.ground.mat !== 'none' && Math.abs(gx) < 0.8 && gz > -1.4 && gz < 0.35) {
            level = (spec.ground.mat === 'light' ? 165 : 62) + 0.4 * (level - spec.ground.level)
            if (gx < -0.76 || gx > 0.76 || gz > 0.31) level *= 0.7
          }
        } else {
          level = spec.wall.level + spec.wall.texture * (soft(u * 14, v * 22) + 0.5 * soft(u * 60, v * 60))
        }
        pixels[y * width + x] = level
      }
    }
    const picture = { pixels, width, height }
    const spot = (at: Vec3, radiusM: number, level: number) => {
      const s = this.place(at, at, radiusM, radiusM, level)
      if (s) {
        stroke(picture, { ...s, x0: s.x0 + margin, x1: s.x1 + margin, y0: s.y0 + margin, y1: s.y1 + margin })
      }
    }
    for (let i = 0; i < spec.ground.clutter; i++) {
      spot([chance() * 5 - 2.5, 0.02, chance() * 4 - 3], 0.02 + 0.04 * chance(), 120 + 130 * chance())
    }
    if (spec.hasMarker) {
      const [bx, , bz] = spec.motion.ballRest
      spot([bx + 0.1 + 0.15 * chance(), 0.004, bz + 0.1 * (chance() - 0.5)], 0.016, 240)
      const a: Vec3 = [bx - 0.4, 0.005, bz + 0.14]
      const stick = this.place(a, [bx + 0.5, 0.005, bz + 0.14], 0.006, 0.006, 230)
      if (stick) {
        const { x0, y0, x1, y1 } = stick
        stroke(picture, { ...stick, x0: x0 + margin, y0: y0 + margin, x1: x1 + margin, y1: y1 + margin })
      }
    }
    for (let i = 0; i < spec.ball.others; i++) {
      spot([(chance() - 0.5) * 1.6, ballRadiusM, 0.25 + 0.6 * chance()], ballRadiusM, spec.ball.level)
    }
    return picture
  }

  private place(a: Vec3, b: Vec3, ra: number, rb: number, level: number): Stroke | null {
    const ca = toCamera(this.view, a)
    const cb = toCamera(this.view, b)
    if (ca[2] < 0.3 || cb[2] < 0.3) return null
    const [x0, y0] = project(this.view, a)
    const [x1, y1] = project(this.view, b)
    return {
      x0,
      y0,
      x1,
      y1,
      r0: (ra / ca[2]) * this.view.focalPx,
      r1: (rb / cb[2]) * this.view.focalPx,
      level,
      depth: (ca[2] + cb[2]) / 2,
    }
  }

  /** The figure at a real instant. */
  jointsAt(t: number): Joints {
    const { spec } = this
    const { motion, followSeconds, swings } = spec
    const { impact, finish } = motion.moments
    let swing = swings[0]!
    for (const s of swings) if (t > s.takeawaySeconds - 1.1) swing = s
    const own = t - swing.takeawaySeconds
    let at = own
    if (own > impact) {
      const u = Math.min(followSeconds, own - impact)
      const full = finish - impact
      at = impact + u + (full - followSeconds) * (u / followSeconds) ** 2
    } else if (own < 0) {
      at = 0
      const w = own + 1.05
      if (spec.waggles && w > 0 && w < 0.7) {
        at = 0.22 * motion.moments.top * Math.sin((Math.PI * w) / 0.7) ** 2
      }
    }
    const joints = arcAt(motion, at, spec.arcShare)
    const next = swings[swings.indexOf(swing) + 1]
    const back = !swing.isStruck && !swing.isMissed ? -0.4 : 0
    if (next && own > impact + followSeconds + 0.2) {
      // Back to the ball, ready for the next one.
      const from = swing.takeawaySeconds + impact + followSeconds + 0.2
      const x = Math.min(1, (t - from) / Math.max(0.3, next.takeawaySeconds - 1.1 - from))
      const s = x * x * (3 - 2 * x)
      const ready = motion.jointsAt(0)
      return Object.fromEntries(
        (Object.keys(joints) as (keyof Joints)[]).map((key) => [
          key,
          mix(moved(joints, back)[key], ready[key], s),
        ]),
      ) as Joints
    }
    return moved(joints, back)

    function moved(j: Joints, z: number): Joints {
      if (z === 0) return j
      const free = new Set<keyof Joints>([
        'spine',
        'pelvisLead',
        'chestLead',
        'chestForward',
        'headForward',
        'shaft',
        'clubToe',
      ])
      return Object.fromEntries(
        (Object.keys(j) as (keyof Joints)[]).map((key) => [
          key,
          free.has(key) ? j[key] : add(j[key], [0, 0, z]),
        ]),
      ) as Joints
    }
  }

  private figure(j: Joints): Stroke[] {
    const { outfit, motion } = this.spec
    const out: (Stroke | null)[] = []
    for (const side of ['lead', 'trail'] as const) {
      const at = <K extends string>(name: K) => j[`${side}${name}` as keyof Joints]
      out.push(
        this.place(at('Hip'), at('Knee'), 0.095, 0.065, outfit.trousers),
        this.place(at('Knee'), at('Ankle'), 0.062, 0.045, outfit.trousers * 0.95),
        this.place(add(at('Ankle'), [0, -0.04, -0.02]), at('Toe'), 0.045, 0.035, outfit.shoes),
        this.place(j.pelvis, at('Shoulder'), 0.13, 0.08, outfit.shirt),
        this.place(at('Shoulder'), at('Elbow'), 0.062, 0.045, outfit.shirt * 0.97),
        this.place(at('Elbow'), at('Hand'), 0.042, 0.034, outfit.skin),
      )
    }
    out.push(
      this.place(j.pelvis, j.hub, 0.14, 0.15, outfit.shirt),
      this.place(j.head, along(j.head, [0, 1, 0], 0.02), 0.1, 0.1, outfit.skin * 0.9),
      this.place(
        along(j.head, [0, 1, 0], 0.05),
        along(j.head, j.headForward, 0.1),
        0.095,
        0.03,
        outfit.shirt * 0.6,
      ),
    )
    out.push(this.place(j.leadHand, j.face, 0.011, 0.008, outfit.club))
    const r = motion.spec.club === 'driver' ? 0.05 : 0.03
    out.push(this.place(along(j.face, j.clubToe, -0.03), along(j.face, j.clubToe, 0.03), r, r, outfit.head))
    return out.filter((s) => s !== null)
  }

  private balls(t: number): Stroke[] {
    const { spec } = this
    const out: Stroke[] = []
    const { impact } = spec.motion.moments
    spec.swings.forEach((swing, k) => {
      const before = spec.swings[k - 1]
      // The next ball is put down well after the first has gone.
      const putDown = before?.isStruck ? before.takeawaySeconds + impact + spec.followSeconds + 1 : -Infinity
      const gone = spec.swings[k + 1] !== undefined && !swing.isStruck
      if (t < putDown || gone || spec.ball.isHidden) return
      let at = spec.motion.ballAt(swing.isStruck ? t - swing.takeawaySeconds : 0)
      if (spec.net && at[0] > 2.6) {
        const since = t - swing.takeawaySeconds - impact - 2.6 / spec.motion.spec.ballSpeedMps
        at = [2.6 - Math.min(1.2, since), Math.max(ballRadiusM, 0.5 - 4.9 * since * since), at[2]]
      }
      const s = this.place(at, at, ballRadiusM, ballRadiusM, spec.ball.level)
      if (s && Math.abs(s.x0) < 4000) out.push(s)
    })
    return out
  }

  private shiftAt(t: number): [number, number] {
    const { shakePx, tapPx } = this.spec
    let dx = 0
    let dy = 0
    for (const s of this.sines) {
      dx += s.dx * Math.sin(6.28 * s.hz * t + s.phase)
      dy += s.dy * Math.sin(6.28 * s.hz * t + 1.7 * s.phase)
    }
    const tap = tapPx * Math.exp(-t / 0.12) * Math.sin(40 * t)
    const clamp = (v: number) => Math.max(-26, Math.min(26, v))
    const part = Math.min(1, t / this.spec.seconds) - 0.5
    const [panX, panY] = this.spec.panPx
    const { follow } = this.spec
    const struckAt = this.spec.swings[0]!.takeawaySeconds + this.spec.motion.moments.impact
    const turned = follow ? Math.max(0, t - struckAt - follow.afterSeconds) : 0
    const [followX, followY] = follow?.pxPerSecond ?? [0, 0]
    return [
      clamp(shakePx * dx * 1.4 + tap * 0.3 + 2 * panX * part + followX * turned),
      clamp(shakePx * dy * 1.4 + tap + 2 * panY * part + followY * turned),
    ]
  }

  /** Grey levels of frame `index`, row by row. */
  private pixelsOf(index: number): Uint8Array<ArrayBuffer> {
    const { spec, margin } = this
    const { width, height } = spec
    const { realSeconds: t } = this.times[index]!
    const exposure = spec.exposureShare / spec.captureRate
    const joints = this.jointsAt(t)
    const earlier = this.jointsAt(t - exposure)
    const [fx, fy] = project(this.view, joints.face)
    const [ex, ey] = project(this.view, earlier.face)
    const samples = Math.max(1, Math.min(7, Math.ceil(Math.hypot(fx - ex, fy - ey) / 2)))
    const [dx, dy] = this.shiftAt(t)
    const base = new Float32Array(width * height)
    const ix = Math.floor(-dx)
    const iy = Math.floor(-dy)
    const u = -dx - ix
    const v = -dy - iy
    const g = this.ground
    for (let y = 0; y < height; y++) {
      let at = (y + margin + iy) * g.width + margin + ix
      for (let x = 0; x < width; x++, at++) {
        base[y * width + x] =
          (g.pixels[at]! * (1 - u) + g.pixels[at + 1]! * u) * (1 - v) +
          (g.pixels[at + g.width]! * (1 - u) + g.pixels[at + g.width + 1]! * u) * v
      }
    }
    const ground = { pixels: base, width, height }
    const move = (s: Stroke): Stroke => ({ ...s, x0: s.x0 + dx, x1: s.x1 + dx, y0: s.y0 + dy, y1: s.y1 + dy })
    if (spec.shadow > 0) this.shadows(ground, joints, move)
    if (spec.mess && this.impactsSeconds.some((at) => t > at)) {
      // A divot, or the tee that flew: the ground by the ball is not as before.
      const dark = this.place([0.06, 0, 0], [0.14, 0, 0], 0.02, 0.015, 0)
      if (dark) stroke(ground, move(dark), 0.4, true)
    }
    const behind = (w: FilmSpec['walkers'][number]) => w.depth === 'behind'
    for (const walker of spec.walkers.filter(behind)) this.walker(ground, walker, t)
    const sum = samples === 1 ? ground.pixels : new Float32Array(width * height)
    for (let k = 0; k < samples; k++) {
      const instant = t - (exposure * k) / samples
      const picture = samples === 1 ? ground : { pixels: base.slice(), width, height }
      const strokes = [...this.balls(instant), ...this.figure(k === 0 ? joints : this.jointsAt(instant))]
      strokes.sort((a, b) => b.depth - a.depth)
      for (const s of strokes) stroke(picture, move(s))
      if (samples > 1) for (let i = 0; i < sum.length; i++) sum[i]! += picture.pixels[i]! / samples
    }
    const picture = { pixels: sum, width, height }
    for (const walker of spec.walkers.filter((w) => !behind(w))) this.walker(picture, walker, t)
    if (spec.band) shade(picture, spec.band, t)
    if (spec.softness > 0) soften(picture, spec.softness)
    const gain =
      spec.contrast *
      (1 + spec.flicker * Math.sin(2 * Math.PI * 100.3 * t)) *
      (1 + spec.drift * Math.sin(0.9 * t + spec.seed))
    if (spec.isMirrored) for (let y = 0; y < height; y++) sum.subarray(y * width, (y + 1) * width).reverse()
    if (spec.zoom > 1) zoom(picture, 1 + ((spec.zoom - 1) * t) / spec.seconds)
    const pixels = new Uint8Array(width * height)
    let n = (Math.imul(index + 1, 0x9e3779b1) >>> 0) % this.noise.length
    for (let i = 0; i < pixels.length; i++) {
      const value = 128 + (sum[i]! - 128) * gain + spec.noise * this.noise[n]!
      if (++n === this.noise.length) n = 0
      pixels[i] = value < 0 ? 0 : value > 255 ? 255 : value
    }
    const [barY, barX] = [Math.round(spec.bars[0] * height), Math.round(spec.bars[1] * width)]
    if (barX + barY > 0) {
      for (let y = 0; y < height; y++) {
        for (let x = 0; x < width; x++) {
          if (y < barY || y >= height - barY || x < barX || x >= width - barX) pixels[y * width + x] = 16
        }
      }
    }
    if (spec.hasCaption) caption(pixels, width, height)
    return pixels
  }

  /** The frames in order; the second of two doubles is the same picture again. */
  *frames(): Generator<GreyFrame> {
    let pixels = new Uint8Array(0)
    for (const [index, { realSeconds, fileSeconds }] of this.times.entries()) {
      if (index === 0 || this.times[index - 1]!.realSeconds !== realSeconds) {
        const { compression, width, height } = this.spec
        const now = this.pixelsOf(index)
        pixels = compression > 0 ? compressed(pixels, now, width, height, compression, index % 48 === 0) : now
      }
      yield { index, atSeconds: fileSeconds, pixels, width: this.spec.width, height: this.spec.height }
    }
  }

  private shadows(picture: Picture, j: Joints, move: (s: Stroke) => Stroke): void {
    const [lx, lz] = this.spec.shadowLean
    const fall = (p: Vec3): Vec3 => [p[0] + lx * p[1], 0, p[2] + lz * p[1]]
    const parts: [Vec3, Vec3, number][] = [
      [j.leadHip, j.leadAnkle, 0.08],
      [j.trailHip, j.trailAnkle, 0.08],
      [j.pelvis, j.hub, 0.17],
      [j.head, j.hub, 0.1],
      [j.leadShoulder, j.leadHand, 0.05],
      [j.leadHand, j.face, 0.012],
    ]
    for (const [a, b, r] of parts) {
      const s = this.place(fall(a), fall(b), r, r, 0)
      if (s) stroke(picture, move(s), this.spec.shadow, true)
    }
  }

  private walker(picture: Picture, w: FilmSpec['walkers'][number], t: number): void {
    const x = (t - w.fromSeconds) / (w.toSeconds - w.fromSeconds)
    if (x < 0 || x > 1) return
    const h = picture.height * (w.depth === 'front' ? 0.95 : 0.5)
    const px = (x * 1.3 - 0.15) * picture.width
    const py = picture.height * (w.depth === 'front' ? 0.1 : 0.25)
    const part = (x0: number, y0: number, x1: number, y1: number, r: number) =>
      stroke(picture, {
        x0: px + x0 * h,
        y0: py + y0 * h,
        x1: px + x1 * h,
        y1: py + y1 * h,
        r0: r * h,
        r1: r * h * 0.8,
        level: w.level,
        depth: 0,
      })
    const step = 0.12 * Math.sin(t * 8)
    part(0, 0.08, 0, 0.1, 0.06)
    part(0, 0.22, 0, 0.5, 0.09)
    part(0, 0.52, step, 0.97, 0.045)
    part(0, 0.52, -step, 0.97, 0.045)
    part(0, 0.24, -step, 0.5, 0.03)
  }
}

const soften = (p: Picture, sigma: number): void => {
  const { width, height, pixels } = p
  const k = Math.min(0.32, sigma / 5)
  const pass = (step: number, from: Float32Array) => {
    const out = from.slice()
    for (let i = step; i < from.length - step; i++) {
      out[i] = from[i]! * (1 - 2 * k) + k * (from[i - step]! + from[i + step]!)
    }
    return out
  }
  let q = pixels
  for (let n = 0; n < 2; n++) q = pass(width, pass(1, q))
  pixels.set(q.subarray(0, width * height))
}

/** The picture magnified about its middle. */
const zoom = (p: Picture, factor: number): void => {
  const { width, height, pixels } = p
  const from = pixels.slice()
  for (let y = 0; y < height; y++) {
    const v = height / 2 + (y - height / 2) / factor
    const iy = Math.min(height - 2, Math.floor(v))
    for (let x = 0; x < width; x++) {
      const u = width / 2 + (x - width / 2) / factor
      const ix = Math.min(width - 2, Math.floor(u))
      const at = iy * width + ix
      const top = from[at]! + (from[at + 1]! - from[at]!) * (u - ix)
      const low = from[at + width]! + (from[at + width + 1]! - from[at + width]!) * (u - ix)
      pixels[y * width + x] = top + (low - top) * (v - iy)
    }
  }
}

/** A band of shade with soft edges, on its way from left to right. */
const shade = (p: Picture, band: NonNullable<FilmSpec['band']>, t: number): void => {
  const { width, height, pixels } = p
  const way = (t - band.fromSeconds) / (band.toSeconds - band.fromSeconds)
  if (way < 0 || way > 1) return
  const middle = (way * (1 + band.wide) - band.wide / 2) * width
  for (let x = 0; x < width; x++) {
    const inside = Math.max(0, Math.min(1, ((band.wide * width) / 2 - Math.abs(x - middle)) / 4 + 0.5))
    const light = 1 - band.depth * inside
    for (let y = 0; y < height; y++) pixels[y * width + x]! *= light
  }
}

/** A caption's bar with bright marks low in the picture, and a logo in the upper corner. */
const caption = (pixels: Uint8Array, width: number, height: number): void => {
  const [top, bottom] = [Math.round(0.93 * height), Math.round(0.99 * height)]
  for (let y = top; y < bottom; y++) {
    for (let x = Math.round(0.05 * width); x < 0.6 * width; x++) {
      const isMark = y > top + 1 && y < bottom - 2 && (x * 7 + ((x >> 2) * 13 + y)) % 5 < 2
      pixels[y * width + x] = isMark ? 235 : 40
    }
  }
  for (let y = 4; y < 0.1 * height; y++) {
    for (let x = Math.round(0.86 * width); x < width - 4; x++) {
      pixels[y * width + x] = (x + y) % 6 < 3 ? 240 : 120
    }
  }
}

const waves = Float32Array.from({ length: 64 }, (_, i) => {
  const [k, n] = [i >> 3, i & 7]
  return Math.cos(((2 * n + 1) * k * Math.PI) / 16) * (k === 0 ? Math.sqrt(1 / 8) : 0.5)
})

/**
 * A picture as a codec of that coarseness leaves it: 8 × 8 blocks, what changed since the last picture as cosine waves (ITU-T T.81's)
 * rounded to whole steps, the finer the wave the coarser; a block that hardly changed is left as it was.
 */
const compressed = (
  before: Uint8Array,
  now: Uint8Array,
  width: number,
  height: number,
  step: number,
  isKey: boolean,
): Uint8Array<ArrayBuffer> => {
  const out = new Uint8Array(now)
  const [block, half] = [new Float32Array(64), new Float32Array(64)]
  for (let y0 = 0; y0 + 8 <= height; y0 += 8) {
    for (let x0 = 0; x0 + 8 <= width; x0 += 8) {
      for (let i = 0; i < 64; i++) {
        const at = (y0 + (i >> 3)) * width + x0 + (i & 7)
        block[i] = now[at]! - (isKey ? 128 : (before[at] ?? 128))
      }
      for (let k = 0; k < 8; k++) {
        for (let y = 0; y < 8; y++) {
          let sum = 0
          for (let n = 0; n < 8; n++) sum += waves[k * 8 + n]! * block[y * 8 + n]!
          half[y * 8 + k] = sum
        }
      }
      for (let k = 0; k < 8; k++) {
        for (let x = 0; x < 8; x++) {
          let sum = 0
          for (let n = 0; n < 8; n++) sum += waves[k * 8 + n]! * half[n * 8 + x]!
          const coarse = step * (0.6 + 0.15 * (k + x))
          block[k * 8 + x] = coarse * Math.round(sum / coarse)
        }
      }
      for (let y = 0; y < 8; y++) {
        for (let x = 0; x < 8; x++) {
          let sum = 0
          for (let k = 0; k < 8; k++) sum += waves[k * 8 + y]! * block[k * 8 + x]!
          half[y * 8 + x] = sum
        }
      }
      for (let y = 0; y < 8; y++) {
        for (let x = 0; x < 8; x++) {
          let sum = 0
          for (let k = 0; k < 8; k++) sum += waves[k * 8 + x]! * half[y * 8 + k]!
          const at = (y0 + y) * width + x0 + x
          out[at] = Math.max(0, Math.min(255, Math.round((isKey ? 128 : before[at]!) + sum)))
        }
      }
    }
  }
  return out
}
