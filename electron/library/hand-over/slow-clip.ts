import fs from 'node:fs'
import path from 'node:path'
import {
  shownDuring,
  slowClipPlan,
  type SlowClipInput,
  type SlowClipPlan,
} from '../../../shared-core/hand-over/slow-clip-plan.ts'
import type { Drawing } from '../../../shared-core/drawing/drawing.ts'
import type { SceneCue } from '../../../shared-core/scene/scene-cue.ts'
import type { SceneOptions } from '../../../shared-core/scene/scene.ts'
import { runFfmpeg, type RunOptions } from '../media/run-ffmpeg.ts'
import { overlayOf } from '../scene/still.ts'

/** A view of a swing, ready to be rendered. */
export interface ClipSource {
  file: string
  width: number
  height: number
  time: SlowClipInput
  drawings: readonly Drawing[]
  cues: readonly SceneCue[]
  sceneOptions: Omit<SceneOptions, 'areCoversBlurred' | 'selectedId' | 'scale'>
  /** Words under the picture while a frame is held. */
  captions: ReadonlyMap<number, string>
}

export const sizeWithin = (
  source: { width: number; height: number },
  maxHeight: number,
): { width: number; height: number } => {
  const longest = maxHeight === 720 ? 1280 : 1920
  const scale = Math.min(
    1,
    maxHeight / Math.min(source.width, source.height),
    longest / Math.max(source.width, source.height),
  )
  const even = (n: number) => Math.max(2, 2 * Math.round((n * scale) / 2))
  return { width: even(source.width), height: even(source.height) }
}

interface Overlay {
  first: number
  last: number
  file: string
}

/** One picture for each run of frames that shows the same drawings, cues and caption. */
const overlaysOf = (
  source: ClipSource,
  plan: SlowClipPlan,
  size: { width: number; height: number },
  work: string,
  name: string,
): Overlay[] => {
  const held = new Set(plan.holds.map((h) => h.frame))
  const edges = new Set<number>()
  const edge = (from: number, to: number) => {
    edges.add(Math.max(plan.fromFrame, from))
    edges.add(Math.min(plan.toFrame, to) + 1)
  }
  for (const d of source.drawings) if (!d.isHidden) edge(d.fromFrame, d.toFrame)
  for (const c of source.cues) edge(c.frame, c.frame)
  for (const f of held) edge(f, f)
  const cuts = [...edges]
    .filter((f) => f >= plan.fromFrame && f <= plan.toFrame + 1)
    .toSorted((a, b) => a - b)
  const overlays: Overlay[] = []
  cuts.slice(0, -1).forEach((from, index) => {
    const to = cuts[index + 1]! - 1
    const caption = held.has(from) && from === to ? source.captions.get(from) : undefined
    const drawings = source.drawings.filter((d) => !d.isHidden && d.fromFrame <= from && from <= d.toFrame)
    const cues = source.cues.filter((c) => c.frame === from)
    if (drawings.length + cues.length === 0 && !caption) return
    const file = path.join(work, `${name}-${from}.png`)
    fs.writeFileSync(
      file,
      overlayOf(
        { width: source.width, height: source.height },
        { drawings, cues, frame: from, options: { ...source.sceneOptions, ...(caption ? { caption } : {}) } },
        size,
      ).png(),
    )
    overlays.push({ ...shownDuring(plan, source.time, from, to), file })
  })
  return overlays
}

/** Filters that turn a source's frames into the plan's output frames, without the overlays. */
const movingFilters = (
  source: ClipSource,
  plan: SlowClipPlan,
  size: { width: number; height: number },
): string[] => {
  const factor = plan.slowBy * source.time.realPerFileSecond
  const loops = plan.holds.map((hold) => `loop=loop=${hold.addedFrames}:size=1:start=${hold.atOutputFrame}`)
  return [
    `trim=start_frame=${plan.fromFrame}:end_frame=${plan.toFrame + 1}`,
    `setpts=(PTS-STARTPTS)*${factor}`,
    `fps=${plan.rate}`,
    ...loops,
    `setpts=N/(${plan.rate}*TB)`,
    `scale=${size.width}:${size.height}`,
    'setsar=1',
  ]
}

/** What a phone plays everywhere: H.264 High ≤ 4.1, 4:2:0, index in front, nothing of the phone's metadata. */
const phoneOutput = (rate: number) => [
  '-an',
  '-map_metadata',
  '-1',
  '-map_chapters',
  '-1',
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
): Promise<SlowClipPlan> => {
  const plan = slowClipPlan(source.time)
  const size = sizeWithin(source, choices.maxHeight)
  const overlays = overlaysOf(source, plan, size, choices.work, choices.name)
  const graph = [`[0:v:0]${movingFilters(source, plan, size).join(',')}[v0]`]
  overlays.forEach((overlay, index) => {
    graph.push(
      `[v${index}][${index + 1}:v]overlay=0:0:enable='between(n,${overlay.first},${overlay.last})'[v${index + 1}]`,
    )
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
  return plan
}

/**
 * Writes two views beside each other, locked on a moment of each: both reach it on the same output frame and are
 * held there. The shorter lead-in waits on its first frame.
 */
export const writeComparison = async (
  pair: readonly [ClipSource, ClipSource],
  lock: readonly [number, number],
  target: string,
  choices: { maxHeight: number; work: string; name: string; holdSeconds: number; mirrorSecond: boolean },
  options: RunOptions,
): Promise<{
  slowBy: number
  durationSeconds: number
  lockedOutputFrame: number
  width: number
  height: number
}> => {
  const slowBy = Math.max(...pair.map((s) => slowClipPlan(s.time).slowBy))
  const plans = pair.map((s, i) =>
    slowClipPlan({ ...s.time, wantedSlowBy: slowBy, holdFrames: [lock[i]!] }),
  ) as [SlowClipPlan, SlowClipPlan]
  const rate = plans[0].rate === 60 || plans[1].rate === 60 ? 60 : 30
  const lead = pair.map((s, i) => {
    const at = (frame: number) => (s.time.atSeconds[frame] ?? 0) * s.time.realPerFileSecond * slowBy
    return { before: at(lock[i]!) - at(s.time.fromFrame), after: at(s.time.toFrame) - at(lock[i]!) }
  })
  const before = Math.round(Math.max(...lead.map((l) => l.before)) * rate)
  const after = Math.round(Math.max(...lead.map((l) => l.after)) * rate)
  const added = Math.round(choices.holdSeconds * rate)
  const total = before + 1 + added + after
  const height = Math.min(choices.maxHeight, 1080, ...pair.map((s) => s.height))
  const even = (n: number) => 2 * Math.max(1, Math.round(n / 2))
  const sizes = pair.map((s) => {
    const scale = Math.min(height / s.height, 960 / s.width)
    return { width: even(s.width * scale), height: even(s.height * scale) }
  })
  const tallest = Math.max(...sizes.map((s) => s.height))
  const graph: string[] = []
  const inputs: string[] = []
  pair.forEach((source, i) => {
    const size = sizes[i]!
    const png = path.join(choices.work, `${choices.name}-${i}.png`)
    fs.writeFileSync(
      png,
      overlayOf(
        { width: source.width, height: source.height },
        {
          drawings: source.drawings.filter(
            (d) => !d.isHidden && d.fromFrame <= lock[i]! && lock[i]! <= d.toFrame,
          ),
          cues: source.cues.filter((c) => c.frame === lock[i]!),
          frame: lock[i]!,
          options: source.sceneOptions,
        },
        size,
      ).png(),
    )
    inputs.push(source.file, png)
    const lockAt = lead[i]!.before
    const mirror = i === 1 && choices.mirrorSecond ? ',hflip' : ''
    graph.push(
      `[${2 * i}:v:0]trim=start_frame=${source.time.fromFrame}:end_frame=${source.time.toFrame + 1},` +
        `setpts=(PTS-STARTPTS)*${slowBy * source.time.realPerFileSecond}+${(before / rate - lockAt).toFixed(6)}/TB,` +
        `fps=${rate}:start_time=0,loop=loop=${added}:size=1:start=${before},setpts=N/(${rate}*TB),` +
        `tpad=stop_mode=clone:stop=${total},trim=end_frame=${total},scale=${size.width}:${size.height},setsar=1[m${i}]`,
      `[m${i}][${2 * i + 1}:v]overlay=0:0:enable='between(n,${before},${before + added})'${mirror},` +
        `pad=${size.width}:${tallest}:0:(oh-ih)/2:color=0x14181b[s${i}]`,
    )
  })
  graph.push('[s0][s1]hstack=inputs=2[out]')
  await runFfmpeg(
    'writing the comparison',
    (command) => {
      for (const input of inputs) command.input(input)
      return command.complexFilter(graph, 'out').outputOptions(phoneOutput(rate)).output(target)
    },
    { ...options, durationSeconds: total / rate },
  )
  return {
    slowBy,
    durationSeconds: total / rate,
    lockedOutputFrame: before,
    width: sizes[0]!.width + sizes[1]!.width,
    height: tallest,
  }
}
