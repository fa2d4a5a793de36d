import { coverAreas } from '../../../shared-core/scene/scene.ts'
import { isCover } from '../../../shared-core/drawing/drawing.ts'
import { halfUp, straightPieces, type SourceTimeLine } from '../../../shared-core/hand-over/slow-clip-plan.ts'
import { stepped } from '../media/stepped.ts'
import { coverFilter, movingCovers, type PlacedCover, type TimedCover } from '../scene/cover-filter.ts'
import { adjustmentFilter } from '../scene/adjustments.ts'
import { toShownSize } from '../scene/shown-size.ts'
import type { ClipSource } from './clip-source.ts'
import type { Size } from './clip-sizes.ts'
import type { PaintedStream } from './painted-frames.ts'

/** The output frame a source frame begins on, as ffmpeg computes it. */
const outputFrameOf = ({ byTime, fromFrame, begins }: SourceTimeLine): string => {
  if (byTime) {
    const moved = byTime.shifts.map((s) => `+${s.by}*gt(N,${s.frame - fromFrame})`).join('')
    return `floor((PTS-STARTPTS)*TB*${byTime.outputPerFileSecond}+${halfUp})+${byTime.leadFrames}${moved}`
  }
  return stepped(
    'N',
    straightPieces(begins).map(({ from, at, slope }) => ({
      from,
      value: `floor(${at + 0.5}+${slope}*(N-${from}))`,
    })),
  )
}

/** The covered areas of a range, frames counted from its first; one that moves has a place on every frame. */
const coversOf = (source: ClipSource, line: SourceTimeLine): TimedCover[] =>
  source.drawings
    .filter((d) => isCover(d.shape) && d.toFrame >= line.fromFrame && d.fromFrame <= line.toFrame)
    .flatMap((d): TimedCover[] => {
      const first = Math.max(d.fromFrame, line.fromFrame)
      const last = Math.min(d.toFrame, line.toFrame)
      const areasOn = (frame: number) => coverAreas([d], frame)
      if (!d.motion) {
        const [area] = areasOn(first)
        return area ? [{ area, from: first - line.fromFrame, to: last - line.fromFrame }] : []
      }
      const places: PlacedCover[] = []
      for (let frame = first; frame <= last; frame++) {
        const [area] = areasOn(frame)
        if (area) places.push({ frame: frame - line.fromFrame, area })
      }
      return movingCovers(places)
    })

/**
 * Filters that turn a source's frames into output frames by a time line, without the overlays. Every frame is put
 * on the output frame the plan gives it; `fps` then only fills the gaps.
 */
export const movingFilters = (
  source: ClipSource,
  line: SourceTimeLine,
  output: { rate: number; frames: number; size: Size; label: string },
): string => {
  const cover = coverFilter(coversOf(source, line), source)
    // Two sources in one graph: each needs names of its own.
    ?.replace(/\[(whole|part|soft)(\d+)\]/g, `[$1${output.label}$2]`)
  const adjustments = adjustmentFilter(source.adjustments)
  const outputFrame = outputFrameOf(line)
  return [
    `trim=start_frame=${line.fromFrame}:end_frame=${line.toFrame + 1}`,
    ...(cover ? [toShownSize(source), 'format=yuv420p', cover] : []),
    `scale=${output.size.width}:${output.size.height}`,
    'format=yuv420p',
    ...(adjustments ? [adjustments] : []),
    'setsar=1',
    ...(source.isMirrored ? ['hflip'] : []),
    // One more of the last frame, a second late: `fps` may drop what ends before it has lasted.
    'tpad=stop_mode=clone:stop=1',
    `setpts='(${outputFrame}+${output.rate}*gte(N,${line.toFrame - line.fromFrame + 1}))/(${output.rate}*TB)'`,
    `fps=${output.rate}:start_time=0`,
    `tpad=stop_mode=clone:stop=${output.frames}`,
    `trim=end_frame=${output.frames}`,
  ].join(',')
}

/** The matrix by which players read a picture of that size that does not name its own. */
const overlayFormat = (size: Size): string =>
  `scale=out_color_matrix=${size.height >= 720 ? 'bt709' : 'bt601'}:out_range=tv,format=yuva420p`

/**
 * Filters that lay a stream of painted frames over a video, each picture from the output frame that it begins on.
 * @param onto name of the video's stream; the result is called `<onto>x`
 * @param input index of the stream among ffmpeg's inputs
 */
export const laidOver = (
  onto: string,
  stream: PaintedStream,
  input: number,
  rate: number,
): { filters: string[]; name: string } => {
  const at = stepped(
    'N',
    straightPieces(stream.runs.map((run) => run.first)).map(({ from, at: begin, slope }) => ({
      from,
      value: `floor(${begin + 0.5}+${slope}*(N-${from}))`,
    })),
  )
  // By time: counted, the pictures would be asked by their own numbers.
  const seen = stream.seen
    .map(({ first, last }) => `between(t,${(first - 0.5) / rate},${(last + 0.5) / rate})`)
    .join('+')
  return {
    filters: [
      `[${input}:v]setpts='(${at})/(${rate}*TB)',${overlayFormat(stream.size)}[${onto}o]`,
      `[${onto}][${onto}o]overlay=0:0:enable='${seen}'[${onto}x]`,
    ],
    name: `${onto}x`,
  }
}
