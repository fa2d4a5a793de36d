/** Size with at most `area` pixels in the proportion of `width` × `height`, never larger than that. */
export const smallSize = (width: number, height: number, area: number): { width: number; height: number } => {
  const scale = Math.min(1, Math.sqrt(area / (width * height)))
  return { width: Math.max(2, Math.round(width * scale)), height: Math.max(2, Math.round(height * scale)) }
}

/** Makes pictures of one size smaller, each pixel the mean of what it covers (whole pixels, so that it is quick). */
export const shrinker = (
  from: { width: number; height: number },
  area: number,
): { width: number; height: number; shrink: (pixels: Uint8Array) => Uint8Array } => {
  const { width, height } = smallSize(from.width, from.height, area)
  if (width === from.width && height === from.height) return { width, height, shrink: (pixels) => pixels }
  const edges = (count: number, whole: number) =>
    Int32Array.from({ length: count + 1 }, (_, i) => Math.round((i * whole) / count))
  const xs = edges(width, from.width)
  const ys = edges(height, from.height)
  const shrink = (pixels: Uint8Array): Uint8Array => {
    const out = new Uint8Array(width * height)
    const row = new Uint32Array(width)
    for (let y = 0; y < height; y++) {
      row.fill(0)
      for (let sy = ys[y]!; sy < ys[y + 1]!; sy++) {
        const start = sy * from.width
        for (let x = 0; x < width; x++) {
          let sum = 0
          for (let at = start + xs[x]!; at < start + xs[x + 1]!; at++) sum += pixels[at]!
          row[x]! += sum
        }
      }
      const high = ys[y + 1]! - ys[y]!
      for (let x = 0; x < width; x++) out[y * width + x] = row[x]! / (high * (xs[x + 1]! - xs[x]!)) + 0.5
    }
    return out
  }
  return { width, height, shrink }
}
