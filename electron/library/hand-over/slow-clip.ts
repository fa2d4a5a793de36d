import fs from 'node:fs'
import path from 'node:path'
import {
  comparisonPlan,
  halfUp,
  shownDuring,
  slowClipPlan,
  straightPieces,
  type ComparisonPlan,
  type FrameTimes,
  type SlowClipPlan,
  type SourceTimeLine,
} from '../../../shared-core/hand-over/slow-clip-plan.ts'
import type { Drawing } from '../../../shared-core/drawing/drawing.ts'
import { definitionOf } from '../../../shared-core/drawing/shapes.ts'
import type { SceneCue } from '../../../shared-core/scene/scene-cue.ts'
import { phoneOutput } from '../media/phone-output.ts'
import { runFfmpeg, type RunOptions } from '../media/run-ffmpeg.ts'
import { coverFilter } from '../scene/cover-filter.ts'
import { levelsFilter } from '../scene/levels.ts'
import { toShownSize } from '../scene/shown-size.ts'
import { overlayOf } from '../scene/still.ts'
import type { ClipSource } from './clip-source.ts'
import { mirroredScene } from './mirrored-scene.ts'

interface Size {
  readonly width: number
  readonly height: number
}

const even = (n: number): number => 2 * Math.max(1, Math.round(n / 2))

export const sizeWithin = (source: Size, maxHeight: number): Size => {
  const longest = maxHeight === 720 ? 1280 : 1920
  const scale = Math.min(
    1,
    maxHeight / Math.min(source.width, source.height),
    longest / Math.max(source.width, source.height),
  )
  return { width: even(source.width * scale), height: even(source.height * scale) }
}

const isCover = (drawing: Drawing): boolean => definitionOf(drawing.shape).hides !== undefined

/**
 * Drawings that are seen: covers on their frames, drawings of a range on it, drawings of a moment only where that
 * moment is held (a single frame would only flash).
 */
const shownDrawings = (source: ClipSource, held: ReadonlySet<number>): Drawing[] =>
  source.drawings.filter(
    (d) => !d.isHidden && (isCover(d) || d.fromFrame !== d.toFrame || held.has(d.fromFrame)),
  )

/** The blurred areas of a drawing are blurred in the video itself; the scene paints everything else. */
const paintOverlay = (
  source: ClipSource,
  scene: { drawings: readonly Drawing[]; cues: readonly SceneCue[]; frame: number; caption?: string },
  size: Size,
): Buffer => {
  const seen = source.isMirrored
    ? mirroredScene(source, scene)
    : { drawings: scene.drawings, cues: scene.cues, options: source.sceneOptions }
  return overlayOf(
    { width: source.width, height: source.height },
    {
      ...seen,
      frame: scene.frame,
      options: { ...seen.options, ...(scene.caption ? { caption: scene.caption } : {}) },
      areCoversBlurred: true,
    },
    size,
  ).png()
}

interface Overlay {
  first: number
  last: number
  file: string
}

/** One picture for each run of frames that shows the same drawings, cues and caption. */
const overlaysOf = (
  source: ClipSource,
  line: SourceTimeLine,
  outputFrames: number,
  held: ReadonlySet<number>,
  size: Size,
  files: { work: string; name: string },
): Overlay[] => {
  const drawings = shownDrawings(source, held).filter((d) => definitionOf(d.shape).hides?.(d.shape) == null)
  const edges = new Set<number>()
  const edge = (from: number, to: number) => {
    edges.add(Math.max(line.fromFrame, from))
    edges.add(Math.min(line.toFrame, to) + 1)
  }
  for (const d of drawings) edge(d.fromFrame, d.toFrame)
  for (const f of held) edge(f, f)
  const cuts = [...edges]
    .filter((f) => f >= line.fromFrame && f <= line.toFrame + 1)
    .toSorted((a, b) => a - b)
  return cuts.slice(0, -1).flatMap((from, index) => {
    const to = cuts[index + 1]! - 1
    const shown = shownDuring(line, outputFrames, from, to)
    const isHeld = held.has(from) && from === to
    const caption = isHeld ? source.captions.get(from) : undefined
    const here = drawings.filter((d) => d.fromFrame <= from && from <= d.toFrame)
    const cues = isHeld ? source.cues.filter((c) => c.frame === from) : []
    if (!shown || (here.length + cues.length === 0 && !caption)) return []
    const file = path.join(files.work, `${files.name}-${from}.png`)
    fs.writeFileSync(
      file,
      paintOverlay(source, { drawings: here, cues, frame: from, ...(caption ? { caption } : {}) }, size),
    )
    return [{ ...shown, file }]
  })
}

/** The output frame a source frame begins on, as ffmpeg computes it. */
const placeOf = ({ byTime, fromFrame, begins }: SourceTimeLine): string => {
  if (byTime) {
    const moved = byTime.shifts.map((s) => `+${s.by}*gt(N,${s.frame - fromFrame})`).join('')
    return `floor((PTS-STARTPTS)*TB*${byTime.outputPerFileSecond}+${halfUp})+${byTime.leadFrames}${moved}`
  }
  const pieces = straightPieces(begins)
  // Halved again and again: ffmpeg's expressions nest only so deep.
  const within = (from: number, to: number): string => {
    if (to - from === 1) {
      const piece = pieces[from]!
      return `floor(${piece.at + 0.5}+${piece.slope}*(N-${piece.from}))`
    }
    const middle = (from + to) >> 1
    return `if(lt(N,${pieces[middle]!.from}),${within(from, middle)},${within(middle, to)})`
  }
  return within(0, pieces.length)
}

/**
 * Filters that turn a source's frames into output frames by a time line, without the overlays. Every frame is put
 * on the output frame the plan gives it; `fps` then only fills the gaps.
 */
const movingFilters = (
  source: ClipSource,
  line: SourceTimeLine,
  output: { rate: number; frames: number; size: Size; label: string },
): string => {
  const covers = source.drawings
    .filter((d) => !d.isHidden && d.toFrame >= line.fromFrame && d.fromFrame <= line.toFrame)
    .flatMap((d) => {
      const area = definitionOf(d.shape).hides?.(d.shape)
      if (!area) return []
      const [from, to] = [Math.max(0, d.fromFrame - line.fromFrame), d.toFrame - line.fromFrame]
      return [{ area, while: `between(n,${from},${to})` }]
    })
  const cover = coverFilter(covers, source)
    // Two sources in one graph: each needs names of its own.
    ?.replace(/\[(whole|part|soft)(\d+)\]/g, `[$1${output.label}$2]`)
  const levels = levelsFilter(source.levels)
  const place = placeOf(line)
  return [
    `trim=start_frame=${line.fromFrame}:end_frame=${line.toFrame + 1}`,
    ...(cover ? [toShownSize(source), 'format=yuv420p', cover] : []),
    `scale=${output.size.width}:${output.size.height}`,
    'format=yuv420p',
    ...(levels ? [levels] : []),
    'setsar=1',
    ...(source.isMirrored ? ['hflip'] : []),
    // One more of the last frame, a second late: `fps` may drop what ends before it has lasted.
    'tpad=stop_mode=clone:stop=1',
    `setpts='(${place}+${output.rate}*gte(N,${line.toFrame - line.fromFrame + 1}))/(${output.rate}*TB)'`,
    `fps=${output.rate}:start_time=0`,
    `tpad=stop_mode=clone:stop=${output.frames}`,
    `trim=end_frame=${output.frames}`,
  ].join(',')
}

/** The matrix by which players read a picture of that size that does not name its own. */
const overlayFormat = (size: Size): string =>
  `scale=out_color_matrix=${size.height >= 720 ? 'bt709' : 'bt601'}:out_range=tv,format=yuva420p`

/** Writes the slow-motion clip of one view, drawings burned in at their frames, held on the plan's moments. */
export const writeSlowClip = async (
  source: ClipSource,
  target: string,
  choices: { maxHeight: number; work: string; name: string },
  options: RunOptions,
): Promise<SlowClipPlan & Size> => {
  const size = sizeWithin(source, choices.maxHeight)
  const plan = slowClipPlan(source.time, size)
  const held = new Set(plan.holds.map((h) => h.frame))
  const overlays = overlaysOf(source, plan.timeLine, plan.outputFrames, held, size, choices)
  const output = { rate: plan.rate, frames: plan.outputFrames, size, label: 'a' }
  const graph = [`[0:v:0]${movingFilters(source, plan.timeLine, output)}[v0]`]
  overlays.forEach((overlay, i) => {
    graph.push(`[${i + 1}:v]${overlayFormat(size)}[o${i}]`)
    graph.push(`[v${i}][o${i}]overlay=0:0:enable='between(n,${overlay.first},${overlay.last})'[v${i + 1}]`)
  })
  await runFfmpeg(
    'writing the clip',
    (command) => {
      command.input(source.file)
      for (const overlay of overlays) command.input(overlay.file)
      return command
        .complexFilter(graph, `v${overlays.length}`)
        .outputOptions(phoneOutput(plan.rate))
        .output(target)
    },
    { ...options, durationSeconds: plan.durationSeconds },
  )
  return { ...plan, ...size }
}

/** How the two pictures of a comparison lie: beside each other, or the second over the first with an opacity. */
export interface PairLayout {
  arrangement: 'beside' | 'over'
  /** Of the second picture over the first. */
  opacity: number
}

export interface ComparisonChoices extends PairLayout {
  maxHeight: number
  work: string
  name: string
  holdSeconds: number
  wantedSlowBy: number
  /** The second's frame that belongs to one of the first; null where both run at real speed from the lock. */
  follow: ((frame: number) => number) | null
  /** Words under both pictures together while they are held; each source's own are seen where they lie side by side. */
  caption: string
}

interface PlacedPair {
  sizes: [Size, Size]
  /** Left upper corner of each. */
  places: [{ x: number; y: number }, { x: number; y: number }]
  width: number
  height: number
}

/** Both as high as the canvas where they fit its width, and in its middle. */
export const placedPair = (
  pair: readonly [Size, Size],
  heightPx: number,
  widthPx: number,
  arrangement: PairLayout['arrangement'],
): PlacedPair => {
  const sizes = pair.map((s) => {
    const scale = Math.min(heightPx / s.height, widthPx / s.width)
    return { width: even(s.width * scale), height: even(s.height * scale) }
  }) as [Size, Size]
  const height = Math.max(...sizes.map((s) => s.height))
  const [first, second] = sizes
  const width = arrangement === 'beside' ? first.width + second.width : Math.max(first.width, second.width)
  const lefts =
    arrangement === 'beside' ? [0, first.width] : sizes.map((s) => Math.floor((width - s.width) / 4) * 2)
  const places = sizes.map((s, i) => ({
    x: lefts[i]!,
    y: Math.floor((height - s.height) / 4) * 2,
  })) as PlacedPair['places']
  return { sizes, places, width, height }
}

/** Where the two pictures of a comparison's clip lie: each within half the width, or both within all of it. */
export const comparisonSizes = (
  pair: readonly [Size, Size],
  maxHeight: number,
  arrangement: PairLayout['arrangement'],
): PlacedPair => {
  if (arrangement === 'over') {
    const alone = pair.map((s) => sizeWithin(s, maxHeight))
    const height = Math.min(...alone.map((s) => s.height))
    return placedPair(pair, height, maxHeight === 720 ? 1280 : 1920, arrangement)
  }
  const [halfWidth, most] = maxHeight === 720 ? [640, 720] : [960, 1080]
  return placedPair(pair, Math.min(most, ...pair.map((s) => s.height)), halfWidth, arrangement)
}

/** Writes two views together, locked on a frame of each (shared-core/hand-over/slow-clip-plan.ts). */
export const writeComparison = async (
  pair: readonly [ClipSource, ClipSource],
  lock: readonly [number, number],
  target: string,
  choices: ComparisonChoices,
  options: RunOptions,
): Promise<ComparisonPlan & Size> => {
  const { arrangement, opacity } = choices
  const { sizes, places, width, height } = comparisonSizes(pair, choices.maxHeight, arrangement)
  const times: readonly [FrameTimes, FrameTimes] = [pair[0].time, pair[1].time]
  const plan = comparisonPlan(times, lock, choices, { width, height })
  const graph: string[] = []
  const files: string[] = []
  /** Lays pictures over a stream, each on its output frames; returns the name of what came of it. */
  const laid = (stream: string, overlays: readonly Overlay[], size: Size): string => {
    overlays.forEach((overlay, k) => {
      files.push(overlay.file)
      graph.push(`[${files.length - 1}:v]${overlayFormat(size)}[${stream}o${k}]`)
      graph.push(
        `[${k ? `${stream}x${k}` : stream}][${stream}o${k}]overlay=0:0:enable='between(n,${overlay.first},${overlay.last})'[${stream}x${k + 1}]`,
      )
    })
    return overlays.length ? `${stream}x${overlays.length}` : stream
  }
  const drawn = pair.map((source, i) => {
    const line = plan.timeLines[i]!
    const own = arrangement === 'over' ? { ...source, captions: new Map<number, string>() } : source
    const overlays = overlaysOf(own, line, plan.outputFrames, new Set([lock[i]!]), sizes[i]!, {
      work: choices.work,
      name: `${choices.name}-${i}`,
    })
    const output = { rate: plan.rate, frames: plan.outputFrames, size: sizes[i]!, label: 'ab'[i]! }
    files.push(source.file)
    graph.push(`[${files.length - 1}:v:0]${movingFilters(source, line, output)}[m${i}]`)
    return laid(`m${i}`, overlays, sizes[i]!)
  })
  const [under, upper] = places
  graph.push(
    `[${drawn[0]}]pad=${width}:${height}:${under.x}:${under.y}:color=0x14181b[under]`,
    `[${drawn[1]}]${arrangement === 'over' ? `format=yuva420p,lutyuv=a=${Math.round(255 * opacity)}` : 'null'}[upper]`,
    `[under][upper]overlay=${upper.x}:${upper.y}[pair]`,
  )
  const isCaptioned = arrangement === 'over' && choices.caption !== ''
  const captioned: ClipSource = {
    ...pair[0],
    width,
    height,
    isMirrored: false,
    drawings: [],
    cues: [],
    captions: new Map([[lock[0], choices.caption]]),
    sceneOptions: { ...pair[0].sceneOptions, textPx: Math.round(width / 36) },
  }
  const captions = isCaptioned
    ? overlaysOf(
        captioned,
        plan.timeLines[0],
        plan.outputFrames,
        new Set([lock[0]]),
        { width, height },
        {
          work: choices.work,
          name: `${choices.name}-both`,
        },
      )
    : []
  const out = laid('pair', captions, { width, height })
  await runFfmpeg(
    'writing the comparison',
    (command) => {
      for (const file of files) command.input(file)
      return command.complexFilter(graph, out).outputOptions(phoneOutput(plan.rate)).output(target)
    },
    { ...options, durationSeconds: plan.durationSeconds },
  )
  return { ...plan, width, height }
}
