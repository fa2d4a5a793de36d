import type { Point } from '../../../shared-core/geometry/point.ts'
import type { Grey } from './grey-store.ts'
import type { Mat, OpenCv } from './open-cv.ts'

/** A place where a patch looks alike, and how much: normalised cross-correlation, −1 to 1. */
export interface Match extends Point {
  readonly score: number
}

/** A small square of a frame, kept for later; `off` is how far the point lies from its middle pixel. */
export interface Patch {
  readonly pixels: Uint8Array
  readonly half: number
  readonly off: Point
}

/**
 * Looks for a small patch in frames. Correlation: J. P. Lewis, "Fast normalized cross-correlation", Vision Interface 1995, with
 * a parabola through the peak. Flow: J.-Y. Bouguet, "Pyramidal implementation of the affine Lucas Kanade feature tracker",
 * Intel 2001. Both as OpenCV has them. Pixels' middles are at whole numbers.
 */
export class Eye {
  readonly #cv: OpenCv
  readonly #result: Mat
  readonly #status: Mat
  readonly #errors: Mat
  readonly #found: Mat
  readonly #criteria: object

  constructor(cv: OpenCv) {
    this.#cv = cv
    this.#result = new cv.Mat()
    this.#status = new cv.Mat()
    this.#errors = new cv.Mat()
    this.#found = new cv.Mat()
    // 3: as many steps, or until the step is so small.
    this.#criteria = new cv.TermCriteria(3, 30, 0.01)
  }

  #cut(frame: Grey, left: number, top: number, width: number, height: number): Mat {
    const mat = new this.#cv.Mat(height, width, this.#cv.CV_8UC1)
    const { data } = mat
    for (let y = 0; y < height; y++) {
      const row = Math.max(0, Math.min(frame.height - 1, top + y)) * frame.width
      if (left >= 0 && left + width <= frame.width) {
        data.set(frame.pixels.subarray(row + left, row + left + width), y * width)
      } else {
        for (let x = 0; x < width; x++) {
          data[y * width + x] = frame.pixels[row + Math.max(0, Math.min(frame.width - 1, left + x))]!
        }
      }
    }
    return mat
  }

  patch(frame: Grey, at: Point, half: number): Patch {
    const [x, y] = [Math.round(at.x), Math.round(at.y)]
    const mat = this.#cut(frame, x - half, y - half, 2 * half + 1, 2 * half + 1)
    const pixels = mat.data.slice()
    mat.delete()
    return { pixels, half, off: { x: at.x - x, y: at.y - y } }
  }

  /** A patch as it looks when the thing turns in the picture, in so many steps round; the first is not turned. */
  turned(frame: Grey, at: Point, half: number, turns: number): Patch[] {
    const { width, height, pixels } = frame
    const side = 2 * half + 1
    const value = (x: number, y: number) =>
      pixels[Math.max(0, Math.min(height - 1, y)) * width + Math.max(0, Math.min(width - 1, x))]!
    return Array.from({ length: turns }, (_, turn) => {
      if (turn === 0) return this.patch(frame, at, half)
      const angle = (turn * 2 * Math.PI) / turns
      const [cos, sin] = [Math.cos(angle), Math.sin(angle)]
      const own = new Uint8Array(side * side)
      for (let v = -half; v <= half; v++) {
        for (let u = -half; u <= half; u++) {
          const [x, y] = [at.x + cos * u + sin * v, at.y - sin * u + cos * v]
          const [i, j] = [Math.floor(x), Math.floor(y)]
          const [s, t] = [x - i, y - j]
          own[(v + half) * side + u + half] = Math.round(
            (1 - t) * ((1 - s) * value(i, j) + s * value(i + 1, j)) +
              t * ((1 - s) * value(i, j + 1) + s * value(i + 1, j + 1)),
          )
        }
      }
      return { pixels: own, half, off: { x: 0, y: 0 } }
    })
  }

  /** The likest places within `reach` pixels of `near`, best first, at least `half` apart. */
  match(patch: Patch, frame: Grey, near: Point, reach: number, most = 3): Match[] {
    const { half, off } = patch
    const side = 2 * half + 1
    const [cx, cy] = [Math.round(near.x - off.x), Math.round(near.y - off.y)]
    const width = side + 2 * reach
    const image = this.#cut(frame, cx - half - reach, cy - half - reach, width, width)
    const template = new this.#cv.Mat(side, side, this.#cv.CV_8UC1)
    template.data.set(patch.pixels)
    this.#cv.matchTemplate(image, template, this.#result, this.#cv.TM_CCOEFF_NORMED)
    const scores = this.#result.data32F.slice()
    image.delete()
    template.delete()
    const n = 2 * reach + 1
    const found: Match[] = []
    while (found.length < most) {
      let best = -1
      for (let i = 0; i < scores.length; i++) {
        // A patch without any texture correlates with nothing.
        if (Number.isFinite(scores[i]!) && (best < 0 || scores[i]! > scores[best]!)) best = i
      }
      if (best < 0 || scores[best]! <= 0) break
      const [bx, by] = [best % n, Math.floor(best / n)]
      const score = scores[best]!
      const bend = (before: number, after: number) => {
        const curve = before - 2 * score + after
        return curve < -1e-9 ? Math.max(-0.5, Math.min(0.5, (0.5 * (before - after)) / curve)) : 0
      }
      const at = (x: number, y: number) => this.#result.data32F[y * n + x]!
      const dx = bx > 0 && bx < n - 1 ? bend(at(bx - 1, by), at(bx + 1, by)) : 0
      const dy = by > 0 && by < n - 1 ? bend(at(bx, by - 1), at(bx, by + 1)) : 0
      found.push({ x: cx + bx - reach + dx + off.x, y: cy + by - reach + dy + off.y, score })
      const apart = Math.max(2, half)
      for (let y = Math.max(0, by - apart); y <= Math.min(n - 1, by + apart); y++) {
        for (let x = Math.max(0, bx - apart); x <= Math.min(n - 1, bx + apart); x++) scores[y * n + x] = -2
      }
    }
    return found
  }

  /** Where the point of one frame has gone in another, begun at `guess`; null where the flow gives up. */
  flow(from: Grey, at: Point, to: Grey, guess: Point, half: number): Point | null {
    const cv = this.#cv
    const room = 6 * half
    const side = 2 * room + 1
    const [fx, fy] = [Math.round(at.x), Math.round(at.y)]
    const [gx, gy] = [Math.round(guess.x), Math.round(guess.y)]
    const before = this.#cut(from, fx - room, fy - room, side, side)
    const after = this.#cut(to, gx - room, gy - room, side, side)
    const start = new cv.Mat(1, 1, cv.CV_32FC2)
    start.data32F.set([at.x - fx + room, at.y - fy + room])
    const window = new cv.Size(2 * half + 1, 2 * half + 1)
    cv.calcOpticalFlowPyrLK(
      before,
      after,
      start,
      this.#found,
      this.#status,
      this.#errors,
      window,
      2,
      this.#criteria,
    )
    const isFound = this.#status.data[0] === 1
    const [x, y] = this.#found.data32F
    for (const mat of [before, after, start]) mat.delete()
    return isFound && Number.isFinite(x) && Number.isFinite(y)
      ? { x: x! - room + gx, y: y! - room + gy }
      : null
  }
}
