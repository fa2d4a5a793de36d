import { halfSeen, innerShare, outerShare, rays } from '../../../shared-core/following/club-swing.ts'
import type { Point } from '../../../shared-core/geometry/point.ts'
import type { Background } from './background.ts'
import type { Grey } from './grey-store.ts'

/** Samples along a ray from the grip to the farthest end of the club. */
export const raySamples = 80
/** The hands' middle is off by so much, club lengths (4 cm of 1 m, twice): the shaft is looked for beside it too. */
const besideHands = [0, -0.025, 0.025, -0.05, 0.05]
/**
 * The mean of nine pixels' differences from the background, each in its own standard deviations: their noise falls to a third (to a half where coding
 * has smeared it), a shaft of two or three pixels keeps most of its own. From so many on it differs, for sure from as many more.
 */
const differsFrom = 1
const differsSurely = 2
/**
 * A shaft is thin: beside it, farther than half its own width and half the arc that it turns through while the shutter is open (2,500 degrees in 1/500 s: 5°),
 * there is background. What does not fall off to the sides is an arm or a leg, and speaks the less for a shaft.
 */
export const besidePx = 4
const besideTurn = 0.09
const wideCosts = 0.8

/** Where a shaft lay on a frame: how much each ray looks like one, and how far beside the hands' middle it passes, pixels. */
export interface FrameSight {
  /** rays × raySamples, 0 to 255 */
  readonly looks: Uint8Array
  readonly besidePx: Float32Array
}

/** How sure each pixel of a square round a point is not the background, 0 to 1. */
export class Foreground {
  readonly values: Float32Array
  readonly left: number
  readonly top: number
  readonly side: number

  constructor(frame: Grey, background: Background, shift: Point, middle: Point, half: number) {
    const { width, height } = background
    const side = 2 * half + 1
    const [left, top] = [Math.round(middle.x) - half, Math.round(middle.y) - half]
    this.left = left
    this.top = top
    this.side = side
    const off = new Float32Array(side * side)
    const [from, to] = [
      Math.max(0, -left, shift.x - left),
      Math.min(side, width - left, width + shift.x - left),
    ]
    for (let j = 0; j < side; j++) {
      const [y, v] = [top + j, top + j - shift.y]
      if (y < 0 || y >= height || v < 0 || v >= height) continue
      for (let i = from; i < to; i++) {
        const at = v * width + left + i - shift.x
        off[j * side + i] =
          (frame.pixels[y * width + left + i]! - background.middle[at]!) * background.perSpread[at]!
      }
    }
    const across = new Float32Array(side * side)
    for (let i = 1; i < off.length - 1; i++) across[i] = off[i - 1]! + off[i]! + off[i + 1]!
    this.values = new Float32Array(side * side)
    for (let i = side; i < off.length - side; i++) {
      const mean = Math.abs(across[i - side]! + across[i]! + across[i + side]!) / 9
      if (mean > differsFrom) this.values[i] = Math.min(1, (mean - differsFrom) / differsSurely)
    }
  }

  at(x: number, y: number): number {
    const [i, j] = [Math.round(x) - this.left, Math.round(y) - this.top]
    return i < 0 || j < 0 || i >= this.side || j >= this.side ? 0 : this.values[j * this.side + i]!
  }

  /** Where the foreground's middle lies within a disc, and how much of the disc it fills; null where there is none. */
  middleWithin(at: Point, radius: number): (Point & { filled: number }) | null {
    let [sum, x, y, n] = [0, 0, 0, 0]
    const most = Math.ceil(radius)
    for (let j = -most; j <= most; j++) {
      for (let i = -most; i <= most; i++) {
        if (i * i + j * j > radius * radius) continue
        const value = this.at(at.x + i, at.y + j)
        sum += value
        x += value * i
        y += value * j
        n += 1
      }
    }
    return sum > 0 ? { x: at.x + x / sum, y: at.y + y / sum, filled: sum / n } : null
  }
}

/** Half the side of the square that is looked at, club lengths: the farthest end, and what lies beside it. */
export const sightHalf = outerShare * (1 + besideTurn) + 0.15

/** Looks for a shaft along every ray from the hands; the foreground reaches `sightHalf` club lengths round them. */
export const shaftSight = (foreground: Foreground, hands: Point, lengthPx: number): FrameSight => {
  const looks = new Uint8Array(rays * raySamples)
  const beside = new Float32Array(rays)
  const own = new Float32Array(raySamples)
  const step = ((outerShare - innerShare) * lengthPx) / raySamples
  const { values, side } = foreground
  // From the square's corner, and half a pixel on, so that cutting off rounds.
  const [x0, y0] = [hands.x - foreground.left + 0.5, hands.y - foreground.top + 0.5]
  for (let ray = 0; ray < rays; ray++) {
    const angle = (ray * 2 * Math.PI) / rays
    const [c, s] = [Math.cos(angle), Math.sin(angle)]
    let most = -1
    for (const share of besideHands) {
      const off = share * lengthPx
      let [sum, best] = [0, 0]
      for (let k = 0; k < raySamples; k++) {
        const r = innerShare * lengthPx + (k + 0.5) * step
        const [x, y] = [x0 - off * s + r * c, y0 + off * c + r * s]
        const on = values[Math.floor(y) * side + Math.floor(x)]!
        if (on === 0) {
          own[k] = 0
        } else {
          const w = besidePx + besideTurn * r
          const [dx, dy] = [w * s, w * c]
          const sides =
            values[Math.floor(y + dy) * side + Math.floor(x - dx)]! +
            values[Math.floor(y - dy) * side + Math.floor(x + dx)]!
          own[k] = on * (1 - (wideCosts * sides) / 2)
        }
        sum += own[k]! - halfSeen
        if (sum > best) best = sum
      }
      if (best <= most) continue
      most = best
      beside[ray] = off
      for (let k = 0; k < raySamples; k++) looks[ray * raySamples + k] = Math.round(255 * own[k]!)
    }
  }
  return { looks, besidePx: beside }
}
