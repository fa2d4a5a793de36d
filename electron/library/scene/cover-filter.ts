import type { CoverArea } from '../../../shared-core/drawing/shape-definition.ts'
import { cellsAcross } from '../../../shared-core/scene/cover-pixels.ts'
import { stepped } from '../media/stepped.ts'

/** A covered area while frames `from` to `to` pass, ends included, counted where the filter stands. */
export interface TimedCover {
  readonly area: CoverArea
  readonly from: number
  readonly to: number
  /** Where its upper left corner is from each of these frames on, for one that moves; the size stays. */
  readonly corners?: readonly { readonly from: number; readonly x: number; readonly y: number }[]
}

export interface PlacedCover {
  readonly frame: number
  readonly area: CoverArea
}

/** An area this much larger or smaller than the one before is a cover of its own. */
const sameSize = 1.6

/**
 * Covers of a steady size for an area that moves from frame to frame. Places are taken outwards to a coarse grid, so that it
 * moves in few steps: the video then hides a little more, never less.
 *
 * @param places of consecutive frames
 */
export const movingCovers = (places: readonly PlacedCover[]): TimedCover[] => {
  const runs: PlacedCover[][] = []
  for (const place of places) {
    const [first] = runs.at(-1) ?? []
    const larger = first
      ? (place.area.width * place.area.height) / Math.max(1, first.area.width * first.area.height)
      : Infinity
    if (larger > sameSize || larger < 1 / sameSize || runs.at(-1)!.at(-1)!.frame !== place.frame - 1) {
      runs.push([place])
    } else runs.at(-1)!.push(place)
  }
  return runs.map((run) => {
    const smallest = Math.min(...run.map(({ area }) => Math.min(area.width, area.height)))
    const grid = Math.max(2, 2 * Math.round(smallest / 16))
    const out = run.map(({ frame, area }) => {
      const x = Math.floor(area.x / grid) * grid
      const y = Math.floor(area.y / grid) * grid
      return {
        frame,
        x,
        y,
        width: Math.ceil((area.x + area.width) / grid) * grid - x,
        height: Math.ceil((area.y + area.height) / grid) * grid - y,
      }
    })
    const width = Math.max(...out.map((o) => o.width))
    const height = Math.max(...out.map((o) => o.height))
    const corners: { from: number; x: number; y: number }[] = []
    for (const { frame, x, y } of out) {
      const last = corners.at(-1)
      if (last?.x !== x || last.y !== y) corners.push({ from: frame, x, y })
    }
    const { x, y } = out[0]!
    return {
      area: { x, y, width, height, outline: 'box' },
      from: run[0]!.frame,
      to: run.at(-1)!.frame,
      ...(corners.length > 1 ? { corners } : {}),
    }
  })
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
  const parts = covers.flatMap(({ area, from, to, corners }, i) => {
    const when = `between(n,${from},${to})`
    if (corners) return movingPart(area, corners, when, i, size, scale)
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

/** As large on every frame; at the picture's edges it is pushed in, so that it still reaches over what it covers there. */
function movingPart(
  area: CoverArea,
  corners: NonNullable<TimedCover['corners']>,
  when: string,
  i: number,
  size: { readonly width: number; readonly height: number },
  scale: number,
): string[] {
  const outwards = (n: number) => Math.ceil(n / 2) * 2
  const width = Math.min(size.width, outwards(area.width * scale) + 2)
  const height = Math.min(size.height, outwards(area.height * scale) + 2)
  const placed = (at: number, length: number, whole: number) =>
    Math.max(0, Math.min(Math.floor((whole - length) / 2) * 2, Math.floor((at * scale) / 2) * 2))
  const x = stepped(
    'n',
    corners.map((c) => ({ from: c.from, value: placed(c.x, width, size.width) })),
  )
  const y = stepped(
    'n',
    corners.map((c) => ({ from: c.from, value: placed(c.y, height, size.height) })),
  )
  const cellPx = Math.min(width, height) / cellsAcross
  const cells = `${Math.max(1, Math.round(width / cellPx))}:${Math.max(1, Math.round(height / cellPx))}`
  return [
    `split[whole${i}][part${i}];` +
      `[part${i}]crop=${width}:${height}:'${x}':'${y}',` +
      `scale=${cells}:flags=area,scale=${width}:${height}:flags=bilinear[soft${i}];` +
      `[whole${i}][soft${i}]overlay=x='${x}':y='${y}':enable='${when}'`,
  ]
}
