/** A connected patch of a picture: its pixels (row by row indices) and the box about them. */
export type Blob = { pixels: number[]; left: number; right: number; top: number; bottom: number }

/** Connected patches of a mask's ones, which are made twos; those that grow beyond `most` pixels are dropped. */
export const blobsOf = (
  mask: Uint8Array,
  width: number,
  height: number,
  most: number,
  /** Room for every pixel once. */
  stack: Int32Array,
): Blob[] => {
  const blobs: Blob[] = []
  for (let start = mask.indexOf(1); start >= 0; start = mask.indexOf(1, start + 1)) {
    const blob: Blob = { pixels: [], left: width, right: 0, top: height, bottom: 0 }
    mask[start] = 2
    let left = 0
    stack[left++] = start
    while (left > 0) {
      const at = stack[--left]!
      const x = at % width
      const y = (at - x) / width
      if (blob.pixels.length <= most) blob.pixels.push(at)
      if (x < blob.left) blob.left = x
      if (x > blob.right) blob.right = x
      if (y < blob.top) blob.top = y
      if (y > blob.bottom) blob.bottom = y
      for (let dy = -1; dy <= 1; dy++) {
        for (let dx = -1; dx <= 1; dx++) {
          const nx = x + dx
          const ny = y + dy
          if (nx < 0 || ny < 0 || nx >= width || ny >= height) continue
          const next = ny * width + nx
          if (mask[next] !== 1) continue
          mask[next] = 2
          stack[left++] = next
        }
      }
    }
    if (blob.pixels.length <= most) blobs.push(blob)
  }
  return blobs
}
