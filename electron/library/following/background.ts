import { median } from '../../../shared-core/statistics/median.ts'
import { madToSd } from '../../../shared-core/statistics/scaled-mad.ts'
import type { Point } from '../../../shared-core/geometry/point.ts'
import type { Eye, Patch } from './eye.ts'
import type { Grey } from './grey-store.ts'

/** A clip's standing picture, and how much each of its pixels wavers by itself. */
export interface Background {
  readonly width: number
  readonly height: number
  readonly middle: Uint8Array
  /** One over a pixel's own standard deviation, a grey level. */
  readonly perSpread: Float32Array
}

/** A pixel's noise is never taken for less, grey levels: coding smooths it away where nothing moves. */
const leastSpread = 2
/** The camera's shift is told in whole pixels: what is left of it, one sigma in each direction, moves every edge of the picture. */
const shiftErrorPx = 0.3

/** How far the picture of a frame lies beside that of the first one, whole pixels: what the camera moved. */
export class CameraShift {
  readonly #eye: Eye
  readonly #patches: { readonly at: Point; readonly patch: Patch }[]
  #last: Point = { x: 0, y: 0 }

  constructor(eye: Eye, first: Grey) {
    this.#eye = eye
    const half = Math.max(8, Math.round(Math.min(first.width, first.height) / 30))
    // Round the picture's edge, where the player is not.
    const places = [0.08, 0.3, 0.7, 0.92].flatMap((across) =>
      [0.1, 0.3, 0.5, 0.7, 0.9].map((down) => ({ x: across * first.width, y: down * first.height })),
    )
    this.#patches = places.map((at) => ({ at, patch: eye.patch(first, at, half) }))
  }

  /** The frames must come one after another: a hand's camera wanders far, but not at once. */
  on(frame: Grey, reach: number): Point {
    const found = this.#patches.flatMap(({ at, patch }) => {
      const near = { x: at.x + this.#last.x, y: at.y + this.#last.y }
      const [best, next] = this.#eye.match(patch, frame, near, reach, 2)
      // A bare sky or lawn fits everywhere.
      return best && best.score > 0.6 && best.score - (next?.score ?? 0) > 0.15
        ? [{ x: best.x - at.x, y: best.y - at.y }]
        : []
    })
    if (found.length >= 3) {
      this.#last = {
        x: Math.round(median(found.map((p) => p.x))),
        y: Math.round(median(found.map((p) => p.y))),
      }
    }
    return this.#last
  }
}

/** The standing picture of some frames, each laid back by its shift: the middle value of every pixel. */
export const backgroundOf = (
  frames: readonly { readonly grey: Grey; readonly shift: Point }[],
): Background => {
  const { width, height } = frames[0]!.grey
  const middle = new Uint8Array(width * height)
  const perSpread = new Float32Array(width * height)
  const own = new Uint8Array(frames.length)
  const half = frames.length >> 1
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      frames.forEach(({ grey, shift }, i) => {
        const column = Math.max(0, Math.min(width - 1, x + shift.x))
        const row = Math.max(0, Math.min(height - 1, y + shift.y))
        own[i] = grey.pixels[row * width + column]!
      })
      own.sort()
      const value = own[half]!
      for (let i = 0; i < own.length; i++) own[i] = Math.abs(own[i]! - value)
      own.sort()
      middle[y * width + x] = value
      perSpread[y * width + x] = 1 / Math.max(leastSpread, madToSd * own[half]!)
    }
  }
  for (let y = 1; y < height - 1; y++) {
    for (let x = 1; x < width - 1; x++) {
      const at = y * width + x
      const across = (middle[at + 1]! - middle[at - 1]!) / 2
      const down = (middle[at + width]! - middle[at - width]!) / 2
      perSpread[at] = 1 / Math.hypot(1 / perSpread[at]!, shiftErrorPx * across, shiftErrorPx * down)
    }
  }
  return { width, height, middle, perSpread }
}
