const across = 8
const down = 6

const medianOf = (values: number[]): number => values.sort((a, b) => a - b)[values.length >> 1] ?? 0

/**
 * How far the whole picture moved from `before` to `after`, in pixels (+ right, + down): the camera's own movement.
 * Each tile of the picture votes with the shift that explains its change best (Lucas and Kanade 1981, one tile one
 * step, repeated about the shift found); the median of the tiles is the camera's, for a player and people passing by
 * cover the smaller part. Every tile with some texture has one vote, or the player's strong edges would win. `start` is where to begin. Good to about a tenth of a pixel, for shifts of up to
 * about three pixels around the start.
 */
export const cameraShift = (
  before: Uint8Array,
  after: Uint8Array,
  width: number,
  height: number,
  start: { x: number; y: number } = { x: 0, y: 0 },
): { x: number; y: number } => {
  let x = start.x
  let y = start.y
  for (let round = 0; round < 4; round++) {
    const xs: number[] = []
    const ys: number[] = []
    const ix = Math.round(x)
    const iy = Math.round(y)
    for (let tile = 0; tile < across * down; tile++) {
      const column = tile % across
      const row = (tile - column) / across
      const x0 = Math.max(1 + Math.max(0, -ix), Math.floor((column * width) / across))
      const x1 = Math.min(width - 1 - Math.max(0, ix), Math.floor(((column + 1) * width) / across))
      const y0 = Math.max(1 + Math.max(0, -iy), Math.floor((row * height) / down))
      const y1 = Math.min(height - 1 - Math.max(0, iy), Math.floor(((row + 1) * height) / down))
      let xx = 0
      let xy = 0
      let yy = 0
      let xt = 0
      let yt = 0
      for (let py = y0; py < y1; py++) {
        for (let px = x0; px < x1; px++) {
          const at = py * width + px
          const to = at + iy * width + ix
          const gx = (before[at + 1]! - before[at - 1]!) / 2
          const gy = (before[at + width]! - before[at - width]!) / 2
          const gt = after[to]! - before[at]!
          xx += gx * gx
          xy += gx * gy
          yy += gy * gy
          xt += gx * gt
          yt += gy * gt
        }
      }
      const noise = 1.5 * Math.max(1, (x1 - x0) * (y1 - y0))
      const det = xx * yy - xy * xy
      if (det < noise * noise) continue
      const sx = -(yy * xt - xy * yt) / det
      const sy = -(xx * yt - xy * xt) / det
      if (Math.abs(sx) > 4 || Math.abs(sy) > 4) continue
      xs.push(ix + sx)
      ys.push(iy + sy)
    }
    if (xs.length < 4) return { x: 0, y: 0 }
    x = medianOf(xs)
    y = medianOf(ys)
    if (Math.round(x) === ix && Math.round(y) === iy) break
  }
  return { x, y }
}

/** The picture moved by a shift, between pixels too, written into `out`; what comes in from outside repeats the edge. */
export const shifted = (
  pixels: Uint8Array,
  width: number,
  height: number,
  shift: { x: number; y: number },
  out: Uint8Array = new Uint8Array(pixels.length),
): Uint8Array => {
  const ix = Math.floor(shift.x)
  const iy = Math.floor(shift.y)
  const u = shift.x - ix
  const v = shift.y - iy
  const clampX = (x: number) => (x < 0 ? 0 : x >= width ? width - 1 : x)
  const clampY = (y: number) => (y < 0 ? 0 : y >= height ? height - 1 : y)
  const w00 = (1 - u) * (1 - v)
  const w10 = u * (1 - v)
  const w01 = (1 - u) * v
  const w11 = u * v
  for (let y = 0; y < height; y++) {
    const row0 = clampY(y + iy) * width
    const row1 = clampY(y + iy + 1) * width
    const to = y * width
    // Within, each pixel has its right neighbour, which is the next one's left.
    const from = Math.max(0, Math.min(width, -ix))
    const end = Math.max(from, Math.min(width, width - 1 - ix))
    let a = pixels[row0 + clampX(from + ix)]!
    let b = pixels[row1 + clampX(from + ix)]!
    for (let x = from; x < end; x++) {
      const c = pixels[row0 + x + ix + 1]!
      const d = pixels[row1 + x + ix + 1]!
      out[to + x] = w00 * a + w10 * c + w01 * b + w11 * d + 0.5
      a = c
      b = d
    }
    for (let x = 0; x < width; x++) {
      if (x === from) x = end
      if (x >= width) break
      const x0 = clampX(x + ix)
      const x1 = clampX(x + ix + 1)
      out[to + x] =
        w00 * pixels[row0 + x0]! +
        w10 * pixels[row0 + x1]! +
        w01 * pixels[row1 + x0]! +
        w11 * pixels[row1 + x1]! +
        0.5
    }
  }
  return out
}
