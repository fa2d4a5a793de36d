import type { FfmpegCommand } from 'fluent-ffmpeg'
import { phoneOutput } from '../media/phone-output.ts'
import { runFfmpeg, type RunOptions } from '../media/run-ffmpeg.ts'
import { laidOver, movingFilters } from './clip-graph.ts'
import { feedPainted, paintedStream, type PaintedSource, type PaintedStream } from './painted-frames.ts'
import type { PlannedClip, PlannedPair } from './planned-clip.ts'

/** Writes the slow-motion clip of one view, drawings burned in at their frames, held on the plan's moments. */
export const writeSlowClip = async (
  plan: PlannedClip,
  target: string,
  options: RunOptions,
): Promise<void> => {
  const { source } = plan
  const size = { width: plan.width, height: plan.height }
  const held = new Set(plan.holds.map((h) => h.frame))
  const painted = paintedStream(source, plan.timeLine, plan.outputFrames, held, size)
  const output = { rate: plan.rate, frames: plan.outputFrames, size, label: 'a' }
  const graph = [`[0:v:0]${movingFilters(source, plan.timeLine, output)}[v]`]
  const laid = painted && laidOver('v', painted, 1, plan.rate)
  if (laid) graph.push(...laid.filters)
  await runFfmpeg(
    'doing.clip',
    (command) => {
      command.input(source.file)
      if (painted) addPainted(command, painted, 0, plan.rate)
      return command
        .complexFilter(graph, laid?.name ?? 'v')
        .outputOptions(phoneOutput(plan.rate))
        .output(target)
    },
    { ...options, durationSeconds: plan.durationSeconds, feeds: painted ? [feedPainted(painted)] : [] },
  )
}

/** Raw pictures from the program's own pipe, the first one of which is 3. The rate gives their clock its tick: an output frame. */
const addPainted = (command: FfmpegCommand, { size }: PaintedStream, index: number, rate: number) =>
  command
    .input(`pipe:${3 + index}`)
    .inputOptions(['-f', 'rawvideo', '-pix_fmt', 'rgba', '-s', `${size.width}x${size.height}`])
    .inputOptions(['-framerate', String(rate)])

/** Writes two views together, locked on a frame of each. */
export const writeComparison = async (
  plan: PlannedPair,
  target: string,
  options: RunOptions,
): Promise<void> => {
  const { pair, lock, arrangement, opacity, caption, sizes, places, width, height } = plan
  const graph: string[] = []
  const streams: PaintedStream[] = []
  /** Lays what is painted over a stream, if anything is; returns the name of what came of it. */
  const withPainted = (stream: string, painted: PaintedStream | null): string => {
    if (!painted) return stream
    streams.push(painted)
    const laid = laidOver(stream, painted, 1 + streams.length, plan.rate)
    graph.push(...laid.filters)
    return laid.name
  }
  const drawn = pair.map((source, i) => {
    const line = plan.timeLines[i]!
    const own = arrangement === 'over' ? { ...source, captions: new Map<number, string>() } : source
    const output = { rate: plan.rate, frames: plan.outputFrames, size: sizes[i]!, label: 'ab'[i]! }
    graph.push(`[${i}:v:0]${movingFilters(source, line, output)}[m${i}]`)
    return withPainted(`m${i}`, paintedStream(own, line, plan.outputFrames, new Set([lock[i]!]), sizes[i]!))
  })
  const [under, upper] = places
  graph.push(
    `[${drawn[0]}]pad=${width}:${height}:${under.x}:${under.y}:color=0x14181b[under]`,
    `[${drawn[1]}]${arrangement === 'over' ? `format=yuva420p,lutyuv=a=${Math.round(255 * opacity)}` : 'null'}[upper]`,
    `[under][upper]overlay=${upper.x}:${upper.y}[pair]`,
  )
  const isCaptioned = arrangement === 'over' && caption !== ''
  const captioned: PaintedSource = {
    width,
    height,
    isMirrored: false,
    drawings: [],
    cues: [],
    captions: new Map([[lock[0], caption]]),
    headOn: () => null,
    sceneOptions: { ...pair[0].sceneOptions, textPx: Math.round(width / 36) },
  }
  const out = withPainted(
    'pair',
    isCaptioned
      ? paintedStream(captioned, plan.timeLines[0], plan.outputFrames, new Set([lock[0]]), { width, height })
      : null,
  )
  await runFfmpeg(
    'doing.comparison',
    (command) => {
      for (const source of pair) command.input(source.file)
      streams.forEach((stream, i) => addPainted(command, stream, i, plan.rate))
      return command.complexFilter(graph, out).outputOptions(phoneOutput(plan.rate)).output(target)
    },
    { ...options, durationSeconds: plan.durationSeconds, feeds: streams.map(feedPainted) },
  )
}
