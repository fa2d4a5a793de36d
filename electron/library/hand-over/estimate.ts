import { textFrom, type RunOptions } from '../media/run-ffmpeg.ts'
import { adjustmentFilter } from '../scene/adjustments.ts'
import type { ClipSource } from './clip-source.ts'
import { phoneOutput } from '../media/phone-output.ts'

/** What frames of a clip cost, bytes: one that stands alone, and one that follows another. */
export interface FrameCost {
  first: number
  following: number
}

const sampledFrames = 16
/** Where in what is shown the samples begin: a swing is slow at first, and fast around the strike. */
const sampledAt = [0.2, 0.7]

/** Encodes a few frames from one place of what is shown, with the package's own settings, and weighs them. */
const costAt = async (
  share: number,
  source: ClipSource,
  size: { width: number; height: number },
  /** Source frames to each output frame. */
  step: number,
  options: RunOptions,
): Promise<FrameCost> => {
  const { atSeconds, fromFrame, toFrame } = source.time
  const from = Math.max(fromFrame, Math.round(fromFrame + (toFrame - fromFrame) * share))
  const adjustments = adjustmentFilter(source.adjustments)
  const filters = [`select=not(mod(n\\,${step}))`, `scale=${size.width}:${size.height}`]
  const kept = phoneOutput(30).filter((_, i, all) => all[i] !== '-movflags' && all[i - 1] !== '-movflags')
  const text = await textFrom(
    'doing.size',
    options.programs.ffmpeg.file,
    ['-v', 'error', '-nostdin', '-ss', (atSeconds[from] ?? 0).toFixed(4), '-i', source.file, '-map', '0:v:0']
      .concat([
        '-vf',
        [...filters, ...(adjustments ? ['format=yuv420p', adjustments] : []), 'setpts=N/(30*TB)'].join(','),
      ])
      .concat(['-frames:v', String(sampledFrames), ...kept.slice(0, -2), '-f', 'framecrc', 'pipe:1']),
    options,
  )
  // stream, dts, pts, duration, size, checksum
  const sizes = text
    .split('\n')
    .filter((row) => /^\d/.test(row))
    .map((row) => Number(row.split(',')[4]))
  const [first = 20_000, ...following] = sizes
  return {
    first,
    following: following.length ? following.reduce((sum, n) => sum + n, 0) / following.length : first / 10,
  }
}

/** What frames of a clip cost, from samples of what is shown. */
export const frameCost = async (
  source: ClipSource,
  size: { width: number; height: number },
  step: number,
  options: RunOptions,
): Promise<FrameCost> => {
  const costs: FrameCost[] = []
  for (const share of sampledAt) costs.push(await costAt(share, source, size, step, options))
  const mean = (of: keyof FrameCost) => costs.reduce((sum, cost) => sum + cost[of], 0) / costs.length
  return { first: mean('first'), following: mean('following') }
}

/** Key frames come at the latest after this many (x264's usual setting). */
const keyDistance = 250
/** A frame that repeats the last one. */
const repeatedBytes = 40
/** Share of a whole frame that a drawing's coming and going costs together. */
const overlayShare = 0.3

/** Bytes of a clip with so many moving and standing output frames. */
export const clipBytes = (
  cost: FrameCost,
  counts: { moving: number; standing: number; holds: number },
): number =>
  cost.first * Math.ceil((counts.moving + counts.standing) / keyDistance) +
  cost.following * counts.moving +
  repeatedBytes * counts.standing +
  overlayShare * cost.first * counts.holds
