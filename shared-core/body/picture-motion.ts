/** A square grey picture, one byte a pixel. */
export interface GreySquare {
  readonly side: number
  readonly pixels: ArrayLike<number>
}

/** How a patch moves from one picture to the next, pixels, and one standard deviation of each. */
export interface PatchMotion {
  readonly x: number
  readonly y: number
  readonly sdX: number
  readonly sdY: number
}

/** Rounds of refining at most. */
const rounds = 6

/** Pictures are smoothed over a pixel: noise and the blocks of the coding have no gradient that means anything. */
const smoothed = ({ side, pixels }: GreySquare): Float32Array => {
  const pass = (from: ArrayLike<number>, step: number): Float32Array => {
    const to = new Float32Array(side * side)
    for (let y = 0; y < side; y++) {
      for (let x = 0; x < side; x++) {
        const at = y * side + x
        const place = step === 1 ? x : y
        const low = place > 0 ? from[at - step]! : from[at]!
        const high = place < side - 1 ? from[at + step]! : from[at]!
        to[at] = (low + 2 * from[at]! + high) / 4
      }
    }
    return to
  }
  let now: ArrayLike<number> = pixels
  for (let i = 0; i < 2; i++) now = pass(pass(now, 1), side)
  return now as Float32Array
}

const halved = (from: Float32Array, side: number): Float32Array => {
  const half = side >> 1
  const to = new Float32Array(half * half)
  for (let y = 0; y < half; y++) {
    for (let x = 0; x < half; x++) {
      const at = 2 * y * side + 2 * x
      to[y * half + x] = (from[at]! + from[at + 1]! + from[at + side]! + from[at + side + 1]!) / 4
    }
  }
  return to
}

/** A picture made ready for {@link patchMotion}: smoothed, and again at half the size. */
export interface Ready {
  readonly levels: readonly { readonly side: number; readonly values: Float32Array }[]
}

/** A picture made ready for being laid on another: smoothed, and at half and a quarter of its size. */
export const readyFor = (picture: GreySquare): Ready => {
  const values = smoothed(picture)
  const half = halved(values, picture.side)
  const quarter = halved(half, picture.side >> 1)
  return {
    levels: [
      { side: picture.side, values },
      { side: picture.side >> 1, values: half },
      { side: picture.side >> 2, values: quarter },
    ],
  }
}

const sample = (values: Float32Array, side: number, x: number, y: number): number => {
  const cx = Math.max(0, Math.min(side - 1.001, x))
  const cy = Math.max(0, Math.min(side - 1.001, y))
  const [i, j] = [Math.floor(cx), Math.floor(cy)]
  const [s, t] = [cx - i, cy - j]
  const at = j * side + i
  return (
    (1 - t) * ((1 - s) * values[at]! + s * values[at + 1]!) +
    t * ((1 - s) * values[at + side]! + s * values[at + side + 1]!)
  )
}

/** Neighbouring pixels of a smoothed picture err alike: so many count as one; our own choice. */
const alikePixels = 12
/** What a pixel errs by at least, grey values squared: pictures are whole numbers. */
const leastRest = 0.25

/**
 * How what lies in a disc moves from one picture to the next: one shift for all of it, by least squares (Lucas and Kanade, IJCAI 1981), coarse to
 * fine, half of it taken back in the first picture and half in the second, so that neither direction of time is preferred. What stands still
 * behind it makes the shift smaller, never turns it round.
 *
 * @param at middle of the disc, pixels
 * @param radius of the disc, pixels
 */
export const patchMotion = (
  before: Ready,
  after: Ready,
  at: { readonly x: number; readonly y: number },
  radius: number,
): PatchMotion | null => {
  let [ux, uy] = [0, 0]
  let [sdX, sdY] = [NaN, NaN]
  for (let level = before.levels.length - 1; level >= 0; level--) {
    const { side, values: a } = before.levels[level]!
    const b = after.levels[level]!.values
    const shrink = 2 ** level
    const [cx, cy] = [(at.x + 0.5) / shrink - 0.5, (at.y + 0.5) / shrink - 0.5]
    const r = radius / shrink
    let [vx, vy] = [ux / shrink, uy / shrink]
    for (let round = 0; round < rounds; round++) {
      let [xx, xy, yy, ex, ey, rest, all] = [0, 0, 0, 0, 0, 0, 0]
      for (let y = Math.ceil(cy - r); y <= cy + r; y++) {
        for (let x = Math.ceil(cx - r); x <= cx + r; x++) {
          const far = ((x - cx) ** 2 + (y - cy) ** 2) / r ** 2
          if (far >= 1) continue
          const w = (1 - far) ** 2
          const [ax, ay, bx, by] = [x - vx / 2, y - vy / 2, x + vx / 2, y + vy / 2]
          const gx =
            (sample(a, side, ax + 1, ay) -
              sample(a, side, ax - 1, ay) +
              sample(b, side, bx + 1, by) -
              sample(b, side, bx - 1, by)) /
            4
          const gy =
            (sample(a, side, ax, ay + 1) -
              sample(a, side, ax, ay - 1) +
              sample(b, side, bx, by + 1) -
              sample(b, side, bx, by - 1)) /
            4
          const off = sample(a, side, ax, ay) - sample(b, side, bx, by)
          xx += w * gx * gx
          xy += w * gx * gy
          yy += w * gy * gy
          ex += w * gx * off
          ey += w * gy * off
          rest += w * off * off
          all += w
        }
      }
      const det = xx * yy - xy * xy
      if (all === 0 || det <= 1e-6 * (xx + yy) ** 2 || xx + yy <= 0) return null
      const [dx, dy] = [(yy * ex - xy * ey) / det, (xx * ey - xy * ex) / det]
      vx += dx
      vy += dy
      if (Math.hypot(vx, vy) > r) return null
      const variance = alikePixels * Math.max(rest / all, leastRest)
      sdX = Math.sqrt((variance * yy) / det) * shrink
      sdY = Math.sqrt((variance * xx) / det) * shrink
      if (Math.hypot(dx, dy) < 0.005) break
    }
    ux = vx * shrink
    uy = vy * shrink
  }
  return { x: ux, y: uy, sdX, sdY }
}
