/** Luma of RGB bytes (ITU-R BT.601). */
export const greyOf = (rgb: Uint8Array): Uint8Array =>
  Uint8Array.from({ length: rgb.length / 3 }, (_, i) =>
    Math.round(0.299 * rgb[3 * i]! + 0.587 * rgb[3 * i + 1]! + 0.114 * rgb[3 * i + 2]!),
  )
