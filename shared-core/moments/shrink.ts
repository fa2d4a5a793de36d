/** Size with at most `area` pixels in the proportion of `width` × `height`, never larger than that. */
export const smallSize = (width: number, height: number, area: number): { width: number; height: number } => {
  const scale = Math.min(1, Math.sqrt(area / (width * height)))
  return { width: Math.max(2, Math.round(width * scale)), height: Math.max(2, Math.round(height * scale)) }
}

/**
 * Makes pictures of one size smaller, each pixel the mean of what it covers (whole pixels, so that it is quick). The picture made is
 * written over by the next.
 */
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
  const column = new Uint32Array(from.width)
  // Rounded means by rows and columns: looked up, for a division a pixel takes longer than all the sums.
  const longest = (edge: Int32Array) =>
    edge.reduce((most, to, i) => Math.max(most, to - (edge[i - 1] ?? 0)), 0)
  const widest = longest(xs)
  const means = Array.from({ length: longest(ys) + 1 }, (_, high) =>
    Array.from({ length: widest + 1 }, (_, wide) =>
      Uint8Array.from({ length: 255 * high * wide + 1 }, (_, sum) => sum / (high * wide) + 0.5),
    ),
  )
  const out = new Uint8Array(width * height)
  const shrink = (pixels: Uint8Array): Uint8Array => {
    for (let y = 0; y < height; y++) {
      const high = ys[y + 1]! - ys[y]!
      for (let i = 0, at = ys[y]! * from.width; i < from.width; i++, at++) column[i] = pixels[at]!
      for (let sy = ys[y]! + 1; sy < ys[y + 1]!; sy++) {
        for (let i = 0, at = sy * from.width; i < from.width; i++, at++) column[i]! += pixels[at]!
      }
      const meansOf = means[high]!
      for (let x = 0, to = y * width; x < width; x++, to++) {
        const start = xs[x]!
        const end = xs[x + 1]!
        let sum = column[start]!
        for (let at = start + 1; at < end; at++) sum += column[at]!
        out[to] = meansOf[end - start]![sum]!
      }
    }
    return out
  }
  return { width, height, shrink }
}
