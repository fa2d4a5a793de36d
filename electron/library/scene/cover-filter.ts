import type { CoverArea } from '../../../shared-core/drawing/shape-definition.ts'
import { cellsAcross } from '../../../shared-core/scene/cover-pixels.ts'

export interface TimedCover {
  readonly area: CoverArea
  /** ffmpeg expression that is not 0 while the area is covered, such as `between(n,12,40)`. */
  readonly while: string
}

/**
 * Filters for ffmpeg that cover areas of a video, to be put into a chain with one input and one output; `null` without
 * covers. As in stills only the means of a few cells are left; ovals are covered by the upright box around them, so
 * a video hides more than a still, never less.
 *
 * @param size of the video at this place of the chain
 * @param scale pixels of that video per source pixel
 */
export function coverFilter(
  covers: readonly TimedCover[],
  size: { readonly width: number; readonly height: number },
  scale = 1,
): string | null {
  const parts = covers.flatMap(({ area, while: when }, i) => {
    // Outwards to even numbers, where colour planes have their pixels.
    const left = Math.max(0, Math.floor((area.x * scale) / 2) * 2)
    const top = Math.max(0, Math.floor((area.y * scale) / 2) * 2)
    const right = Math.min(size.width, Math.ceil(((area.x + area.width) * scale) / 2) * 2)
    const bottom = Math.min(size.height, Math.ceil(((area.y + area.height) * scale) / 2) * 2)
    const [width, height] = [right - left, bottom - top]
    if (width <= 0 || height <= 0) return []
    const cellPx = Math.min(width, height) / cellsAcross
    const columns = Math.max(1, Math.round(width / cellPx))
    const rows = Math.max(1, Math.round(height / cellPx))
    return [
      `split[whole${i}][part${i}];` +
        `[part${i}]crop=${width}:${height}:${left}:${top},` +
        `scale=${columns}:${rows}:flags=area,scale=${width}:${height}:flags=bilinear[soft${i}];` +
        `[whole${i}][soft${i}]overlay=${left}:${top}:enable='${when}'`,
    ]
  })
  return parts.length === 0 ? null : parts.join(',')
}
