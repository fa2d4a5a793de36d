import fs from 'node:fs'
import path from 'node:path'
import {
  comparisonPlan,
  halfUp,
  shownDuring,
  slowClipPlan,
  type ComparisonPlan,
  type FrameTimes,
  type SlowClipInput,
  type SlowClipPlan,
  type SourceTimeLine,
} from '../../../shared-core/hand-over/slow-clip-plan.ts'
import type { Drawing } from '../../../shared-core/drawing/drawing.ts'
import { definitionOf } from '../../../shared-core/drawing/shapes.ts'
import type { SceneCue } from '../../../shared-core/scene/scene-cue.ts'
import type { SceneOptions } from '../../../shared-core/scene/scene.ts'
import { runFfmpeg, type RunOptions } from '../media/run-ffmpeg.ts'
import { coverFilter } from '../scene/cover-filter.ts'
import { levelsFilter, type Levels } from '../scene/levels.ts'
import { overlayOf } from '../scene/still.ts'
import { mirroredScene } from './mirrored-scene.ts'

/** A view of a swing, ready to be rendered. */
export interface ClipSource {
  file: string
  /** Name of the clip as the coach knows it. */
  clipName: string
  width: number
  height: number
  time: SlowClipInput
  /** Left and right exchanged: the picture, the drawings and the cues, not their words. */
  isMirrored: boolean
  levels: Levels
  drawings: readonly Drawing[]
  cues: readonly SceneCue[]
  sceneOptions: Omit<SceneOptions, 'areCoversBlurred' | 'selectedId' | 'scale'>
  /** Words under the picture while a frame is held. */
  captions: ReadonlyMap<number, string>
}

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
  const moved = line.shifts.map((s) => `+${s.by}*gt(N,${s.frame - line.fromFrame})`).join('')
  const place = `floor((PTS-STARTPTS)*TB*${line.outputPerFileSecond}+${halfUp})+${line.leadFrames}${moved}`
  return [
    `trim=start_frame=${line.fromFrame}:end_frame=${line.toFrame + 1}`,
    ...(cover ? ['format=yuv420p', cover] : []),
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

/** What a phone plays everywhere: H.264 High ≤ 4.1, 4:2:0, index in front, nothing of the phone's metadata. */
export const phoneOutput = (rate: number) => [
  '-an',
  '-map_metadata',
  '-1',
  '-map_chapters',
  '-1',
  '-fflags',
  '+bitexact',
  '-flags:v',
  '+bitexact',
  '-c:v',
  'libx264',
  '-profile:v',
  'high',
  '-level:v',
  '4.1',
  '-preset',
  'veryfast',
  '-crf',
  '21',
  '-maxrate',
  '16M',
  '-bufsize',
  '24M',
  '-pix_fmt',
  'yuv420p',
  '-r',
  String(rate),
  '-movflags',
  '+faststart',
  '-f',
  'mp4',
]

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

export interface ComparisonChoices {
  maxHeight: number
  work: string
  name: string
  holdSeconds: number
  wantedSlowBy: number
}

/** Sizes of the two pictures of a comparison, each within half the width. */
export const comparisonSizes = (
  pair: readonly [Size, Size],
  maxHeight: number,
): { sizes: [Size, Size]; width: number; height: number } => {
  const [halfWidth, most] = maxHeight === 720 ? [640, 720] : [960, 1080]
  const height = Math.min(most, ...pair.map((s) => s.height))
  const sizes = pair.map((s) => {
    const scale = Math.min(height / s.height, halfWidth / s.width)
    return { width: even(s.width * scale), height: even(s.height * scale) }
  }) as [Size, Size]
  return {
    sizes,
    width: sizes[0].width + sizes[1].width,
    height: Math.max(...sizes.map((s) => s.height)),
  }
}

/** Writes two views beside each other, locked on a frame of each (shared-core/hand-over/slow-clip-plan.ts). */
export const writeComparison = async (
  pair: readonly [ClipSource, ClipSource],
  lock: readonly [number, number],
  target: string,
  choices: ComparisonChoices,
  options: RunOptions,
): Promise<ComparisonPlan & Size> => {
  const { sizes, width, height } = comparisonSizes(pair, choices.maxHeight)
  const times: readonly [FrameTimes, FrameTimes] = [pair[0].time, pair[1].time]
  const plan = comparisonPlan(times, lock, choices, { width, height })
  const graph: string[] = []
  const files: string[] = []
  pair.forEach((source, i) => {
    const size = sizes[i]!
    const line = plan.timeLines[i]!
    const own = overlaysOf(source, line, plan.outputFrames, new Set([lock[i]!]), size, {
      work: choices.work,
      name: `${choices.name}-${i}`,
    })
    const output = { rate: plan.rate, frames: plan.outputFrames, size, label: 'ab'[i]! }
    files.push(source.file)
    graph.push(`[${files.length - 1}:v:0]${movingFilters(source, line, output)}[m${i}x0]`)
    own.forEach((overlay, k) => {
      files.push(overlay.file)
      graph.push(`[${files.length - 1}:v]${overlayFormat(size)}[o${i}x${k}]`)
      graph.push(
        `[m${i}x${k}][o${i}x${k}]overlay=0:0:enable='between(n,${overlay.first},${overlay.last})'[m${i}x${k + 1}]`,
      )
    })
    graph.push(`[m${i}x${own.length}]pad=${size.width}:${height}:0:(oh-ih)/2:color=0x14181b[s${i}]`)
  })
  graph.push('[s0][s1]hstack=inputs=2[out]')
  await runFfmpeg(
    'writing the comparison',
    (command) => {
      for (const file of files) command.input(file)
      return command.complexFilter(graph, 'out').outputOptions(phoneOutput(plan.rate)).output(target)
    },
    { ...options, durationSeconds: plan.durationSeconds },
  )
  return { ...plan, width, height }
}
