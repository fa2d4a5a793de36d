import type { CoverArea } from '../drawing/shape-definition.ts'

/** Cells across the shorter side of a covered area: so few that a face cannot be told. */
export const cellsAcross = 5

/**
 * Hides areas of a picture, in place. Each area is cut into a few cells (`cellsAcross` along its shorter side), and
 * every pixel gets a blend of the mean colours of the cells around it, weighted by its distance to their middles. So
 * nothing finer than the means is left in the picture: it cannot be sharpened back. Only pixels inside the area's
 * outline change; the means are taken inside its upright box.
 *
 * @param pixels RGBA, 4 bytes a pixel, rows from the top. Alpha stays.
 * @param scale pixels of this picture per source pixel, if it was made smaller or larger.
 */
export function coverPixels(
  pixels: Uint8ClampedArray | Uint8Array,
  width: number,
  height: number,
  areas: readonly CoverArea[],
  scale = 1,
): void {
  for (const area of areas) {
    // Outwards to whole pixels: rather more than less.
    const left = Math.max(0, Math.floor(area.x * scale))
    const top = Math.max(0, Math.floor(area.y * scale))
    const right = Math.min(width, Math.ceil((area.x + area.width) * scale))
    const bottom = Math.min(height, Math.ceil((area.y + area.height) * scale))
    if (right <= left || bottom <= top) continue
    coverOne(pixels, width, { left, top, right, bottom }, area, scale)
  }
}

function coverOne(
  pixels: Uint8ClampedArray | Uint8Array,
  width: number,
  { left, top, right, bottom }: { left: number; top: number; right: number; bottom: number },
  area: CoverArea,
  scale: number,
): void {
  const cellPx = Math.max(1, Math.min(right - left, bottom - top) / cellsAcross)
  const columns = Math.max(1, Math.round((right - left) / cellPx))
  const rows = Math.max(1, Math.round((bottom - top) / cellPx))
  const cellWidth = (right - left) / columns
  const cellHeight = (bottom - top) / rows
  const sums = new Float64Array(columns * rows * 4)
  for (let y = top; y < bottom; y++) {
    const row = Math.min(rows - 1, Math.floor((y - top) / cellHeight))
    for (let x = left; x < right; x++) {
      const cell = (row * columns + Math.min(columns - 1, Math.floor((x - left) / cellWidth))) * 4
      const at = (y * width + x) * 4
      sums[cell]! += pixels[at]!
      sums[cell + 1]! += pixels[at + 1]!
      sums[cell + 2]! += pixels[at + 2]!
      sums[cell + 3]! += 1
    }
  }
  const mean = (column: number, row: number, channel: number): number => {
    const cell = (row * columns + column) * 4
    return sums[cell + channel]! / sums[cell + 3]!
  }
  const [centreX, centreY] = [(area.x + area.width / 2) * scale, (area.y + area.height / 2) * scale]
  // Half a pixel's diagonal more, so that pixels on the outline are hidden too.
  const [radiusX, radiusY] = [(area.width / 2) * scale + 0.71, (area.height / 2) * scale + 0.71]
  for (let y = top; y < bottom; y++) {
    const v = (y + 0.5 - top) / cellHeight - 0.5
    const row0 = Math.min(rows - 1, Math.max(0, Math.floor(v)))
    const row1 = Math.min(rows - 1, row0 + 1)
    const wy = Math.min(1, Math.max(0, v - row0))
    for (let x = left; x < right; x++) {
      const isIn =
        area.outline === 'box' ||
        ((x + 0.5 - centreX) / radiusX) ** 2 + ((y + 0.5 - centreY) / radiusY) ** 2 <= 1
      if (!isIn) continue
      const u = (x + 0.5 - left) / cellWidth - 0.5
      const column0 = Math.min(columns - 1, Math.max(0, Math.floor(u)))
      const column1 = Math.min(columns - 1, column0 + 1)
      const wx = Math.min(1, Math.max(0, u - column0))
      const at = (y * width + x) * 4
      for (let channel = 0; channel < 3; channel++) {
        const upper = mean(column0, row0, channel) * (1 - wx) + mean(column1, row0, channel) * wx
        const lower = mean(column0, row1, channel) * (1 - wx) + mean(column1, row1, channel) * wx
        pixels[at + channel] = Math.round(upper * (1 - wy) + lower * wy)
      }
    }
  }
}
