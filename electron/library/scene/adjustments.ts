import type { Clip } from '../../../shared-core/model/entities.ts'
import type { RgbaImage } from './raster.ts'

/** How the coach wants a clip shown; 0 and 0 as it was filmed. */
export type Adjustments = Pick<Clip, 'brightness' | 'contrast'>

const isPlain = ({ brightness, contrast }: Adjustments): boolean => brightness === 0 && contrast === 0

/** The same pixels as on the Stage, which uses brightness() and contrast() of W3C Filter Effects Module Level 1. */
export const adjusted = (picture: RgbaImage, adjustments: Adjustments): RgbaImage => {
  if (isPlain(adjustments)) return picture
  const table = Uint8ClampedArray.from({ length: 256 }, (_, value) => {
    const lit = Math.min(255, value * (1 + adjustments.brightness))
    return (lit - 127.5) * (1 + adjustments.contrast) + 127.5
  })
  const rgba = Uint8Array.from(picture.rgba)
  for (let at = 0; at < rgba.length; at += 4) {
    rgba[at] = table[rgba[at]!]!
    rgba[at + 1] = table[rgba[at + 1]!]!
    rgba[at + 2] = table[rgba[at + 2]!]!
  }
  return { ...picture, rgba }
}

/**
 * The same for ffmpeg, for limited-range 4:2:0; null for a clip shown as filmed. Both steps are linear, so they hold for
 * luma and colour difference alike; only where a single channel would be cut off at full, the hue may differ a little.
 */
export const adjustmentFilter = (adjustments: Adjustments): string | null => {
  if (isPlain(adjustments)) return null
  const [lit, steep] = [1 + adjustments.brightness, 1 + adjustments.contrast].map((n) => Number(n.toFixed(4)))
  const luma = `clip((clip((val-16)*${lit},0,219)-109.5)*${steep}+109.5,0,219)+16.5`
  const colour = `clip((val-128)*${lit}*${steep}+128,16,240)+0.5`
  return `lutyuv=y='${luma}':u='${colour}':v='${colour}'`
}
