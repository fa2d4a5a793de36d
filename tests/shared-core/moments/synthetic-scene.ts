import type { GreyFrame } from '../../../shared-core/moments/motion-curve.ts'
import { chanceFrom, normal } from './synthetic-sound.ts'

/** A stick figure that swings at a ball, drawn small and grey. All instants in real seconds. */
export type Scene = {
  width: number
  height: number
  takeawaySeconds: number
  topSeconds: number
  impactSeconds: number
  finishSeconds: number
  /** Radius of the ball, pixels. */
  ballRadius: number
  /** The ball is struck; false for a practice swing beside a ball that stays. */
  struck: boolean
  hasBall: boolean
  mirrored: boolean
  noise: number
  ground: number
  /** Somebody walks about behind, from one instant to another. */
  walker?: { from: number; to: number }
  start: number
}

export const usualScene = (changes: Partial<Scene> = {}): Scene => {
  const impactSeconds = changes.impactSeconds ?? 2.4
  const topSeconds = changes.topSeconds ?? impactSeconds - 0.27
  return {
    width: 240,
    height: 320,
    takeawaySeconds: topSeconds - 0.85,
    topSeconds,
    impactSeconds,
    finishSeconds: impactSeconds + 0.75,
    ballRadius: 2.5,
    struck: true,
    hasBall: true,
    mirrored: false,
    noise: 2.5,
    ground: 95,
    start: 1,
    ...changes,
  }
}

const clamp01 = (x: number) => Math.max(0, Math.min(1, x))
const ease = (x: number) => x * x * (3 - 2 * x)

/** Angle of the arms from hanging down, radians, + towards the trail side. */
const armAngle = (s: Scene, t: number): number => {
  if (t < s.takeawaySeconds) return 0
  if (t < s.topSeconds) return 2.3 * ease((t - s.takeawaySeconds) / (s.topSeconds - s.takeawaySeconds))
  if (t < s.impactSeconds) {
    return 2.3 * (1 - clamp01((t - s.topSeconds) / (s.impactSeconds - s.topSeconds)) ** 2.2)
  }
  const u = clamp01((t - s.impactSeconds) / (s.finishSeconds - s.impactSeconds))
  return -2.5 * (1 - (1 - u) ** 2.4)
}

/** Wrist hinge: the club lags the arms in the downswing and meets them at impact. */
const wristAngle = (s: Scene, t: number): number => {
  if (t < s.takeawaySeconds) return 0
  if (t < s.topSeconds) return 1.4 * ease((t - s.takeawaySeconds) / (s.topSeconds - s.takeawaySeconds))
  if (t < s.impactSeconds) {
    return 1.4 * (1 - clamp01((t - s.topSeconds) / (s.impactSeconds - s.topSeconds)) ** 4)
  }
  const u = clamp01((t - s.impactSeconds) / (s.finishSeconds - s.impactSeconds))
  return -1.5 * (1 - (1 - u) ** 2)
}

/** The picture at real second `t`, sensor noise of frame `index` included. */
export const drawScene = (s: Scene, t: number, index: number): Uint8Array => {
  const { width: w, height: h } = s
  const pixels = new Float32Array(w * h)
  const horizon = h * 0.55
  for (let y = 0; y < h; y++) {
    for (let x = 0; x < w; x++) {
      const texture = 9 * Math.sin(x * 0.37 + y * 0.11) * Math.sin(y * 0.53 - x * 0.07)
      pixels[y * w + x] = y < horizon ? 165 - y * 0.08 : s.ground + texture
    }
  }
  const stamp = (cx: number, cy: number, r: number, value: number) => {
    for (let y = Math.max(0, Math.floor(cy - r - 1)); y <= Math.min(h - 1, cy + r + 1); y++) {
      for (let x = Math.max(0, Math.floor(cx - r - 1)); x <= Math.min(w - 1, cx + r + 1); x++) {
        const a = clamp01(r + 0.5 - Math.hypot(x - cx, y - cy))
        pixels[y * w + x] = pixels[y * w + x]! * (1 - a) + value * a
      }
    }
  }
  const line = (x0: number, y0: number, x1: number, y1: number, r: number, value: number) => {
    const n = Math.ceil(Math.hypot(x1 - x0, y1 - y0) / Math.max(0.5, r * 0.6)) + 1
    for (let i = 0; i <= n; i++) stamp(x0 + ((x1 - x0) * i) / n, y0 + ((y1 - y0) * i) / n, r, value)
  }
  const side = s.mirrored ? -1 : 1
  const unit = h / 320
  const x = (px: number) => w / 2 + side * px * unit
  const y = (py: number) => py * unit

  if (s.walker && t > s.walker.from && t < s.walker.to) {
    const u = (t - s.walker.from) / (s.walker.to - s.walker.from)
    const wx = u * w
    line(wx, y(90), wx, y(170), 9 * unit, 60)
    line(wx, y(170), wx + 10 * unit * Math.sin(t * 9), y(215), 4 * unit, 50)
    line(wx, y(170), wx - 10 * unit * Math.sin(t * 9), y(215), 4 * unit, 50)
  }
  const arm = armAngle(s, t)
  const wrist = wristAngle(s, t)
  const turn = arm / 2.4
  const shift = 6 * Math.sin(Math.max(-1.2, Math.min(1.2, arm * 0.6)))
  const hub = { px: shift * 0.5, py: 110 }
  const hip = { px: -shift * 0.6, py: 180 }
  line(x(hip.px - 10), y(hip.py), x(-22), y(272), 6 * unit, 40)
  line(
    x(hip.px + 10),
    y(hip.py),
    x(24 - 4 * Math.max(0, -turn)),
    y(272 - 8 * Math.max(0, -turn)),
    6 * unit,
    40,
  )
  stamp(x(-25), y(276), 5 * unit, 225)
  stamp(x(26 - 4 * Math.max(0, -turn)), y(276 - 8 * Math.max(0, -turn)), 5 * unit, 225)
  line(x(hip.px), y(hip.py), x(hub.px), y(hub.py), 13 * unit, 130 + 15 * turn)
  stamp(x(hub.px), y(hub.py - 28), 11 * unit, 190)
  const hand = { px: hub.px + 68 * Math.sin(arm), py: hub.py + 68 * Math.cos(arm) }
  line(x(hub.px), y(hub.py), x(hand.px), y(hand.py), 5 * unit, 200)
  const club = arm + wrist
  // At address the head stands just behind the ball, on its trail side.
  const head = { px: hand.px + 95 * Math.sin(club) + 3, py: hand.py + 95 * Math.cos(club) }
  line(x(hand.px), y(hand.py), x(head.px), y(head.py), 1.1 * unit, 70)
  stamp(x(head.px), y(head.py), 3.5 * unit, 55)
  if (s.hasBall) {
    const flown = s.struck && t > s.impactSeconds ? (t - s.impactSeconds) * 55 * 140 : 0
    const ballAt = { px: -3.5 - s.ballRadius / unit - flown, py: 275 - flown * 0.2 }
    if (Math.abs(ballAt.px) < w * 2) stamp(x(ballAt.px), y(ballAt.py), s.ballRadius, 245)
  }

  const chance = chanceFrom(s.start * 7919 + index)
  const out = new Uint8Array(w * h)
  for (let i = 0; i < out.length; i += 2) {
    const n = s.noise * normal(chance)
    out[i] = Math.max(0, Math.min(255, Math.round(pixels[i]! + n)))
    // The second draw of a pair would cost a quarter of the time: shifted and turned it is noise enough.
    if (i + 1 < out.length) {
      out[i + 1] = Math.max(
        0,
        Math.min(255, Math.round(pixels[i + 1]! + s.noise * 2 * (chance() - 0.5) * 1.7)),
      )
    }
  }
  return out
}

/** Frames of a scene at the given real instants; their file timestamps are `stretch` times slower. */
export function* sceneFrames(s: Scene, realSeconds: number[], stretch = 1): Generator<GreyFrame> {
  for (const [index, t] of realSeconds.entries()) {
    yield { index, atSeconds: t * stretch, pixels: drawScene(s, t, index), width: s.width, height: s.height }
  }
}

export const evenTimes = (rate: number, seconds: number, from = 0): number[] =>
  Array.from({ length: Math.floor((seconds - from) * rate) }, (_, i) => from + i / rate)
