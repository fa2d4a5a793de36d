import { keepEveryTimestamp } from '../media/run-ffmpeg.ts'
import { hasFpsMode } from '../media/ffmpeg-path.ts'
import { mediaStream } from '../moments/media-stream.ts'
import { modelSize } from './pose-model.ts'

/** A square of the shown picture, pixels; it may reach beyond the picture, which is black there. */
export interface Square {
  readonly x: number
  readonly y: number
  readonly side: number
}

/** Terms added in nested pairs: ffmpeg's expressions allow no long chains. */
const bracketedSum = (terms: readonly string[]): string => {
  if (terms.length <= 1) return terms[0] ?? '0'
  const half = Math.ceil(terms.length / 2)
  return `(${bracketedSum(terms.slice(0, half))}+${bracketedSum(terms.slice(half))})`
}

const runsOf = (frames: Int32Array): { from: number; to: number }[] => {
  const runs: { from: number; to: number }[] = []
  for (const frame of frames) {
    const last = runs.at(-1)
    if (last && frame === last.to + 1) last.to = frame
    else runs.push({ from: frame, to: frame })
  }
  return runs
}

let everyFrame: { ffmpeg: string; options: string[] } | null = null

/** A square of the given frames (rising), upright, as RGB of the model's size, one at a time. */
export async function* squareFrames(
  ffmpegPath: string,
  clip: string,
  shown: { width: number; height: number },
  square: Square,
  frames: Int32Array,
  signal?: AbortSignal,
): AsyncGenerator<Uint8Array> {
  if (everyFrame?.ffmpeg !== ffmpegPath) {
    let said = ''
    for await (const piece of mediaStream(ffmpegPath, ['-version'], { clip: '' })) {
      said += piece.toString('utf8')
    }
    everyFrame = { ffmpeg: ffmpegPath, options: keepEveryTimestamp({ hasFpsMode: hasFpsMode(said) }) }
  }
  const { width, height } = shown
  const [x, y, side] = [Math.round(square.x), Math.round(square.y), Math.max(8, Math.round(square.side))]
  const [left, top] = [Math.max(0, -x), Math.max(0, -y)]
  const [wide, high] = [Math.max(x + side, width) + left, Math.max(y + side, height) + top]
  const select = bracketedSum(runsOf(frames).map((r) => `between(n\\,${r.from}\\,${r.to})`))
  const filters = [
    `select=${select}`,
    `scale=${width}:${height}`,
    'format=rgb24',
    `pad=${wide}:${high}:${left}:${top}`,
    `crop=${side}:${side}:${x + left}:${y + top}`,
    `scale=${modelSize}:${modelSize}:flags=area`,
  ]
  const args = [
    ...['-nostdin', '-hide_banner', '-loglevel', 'error', '-threads', '1'],
    ...['-i', clip, '-map', '0:V:0', '-an', '-sn', '-dn', '-vf', filters.join(',')],
    ...everyFrame.options,
    ...['-frames:v', String(frames.length), '-f', 'rawvideo', '-pix_fmt', 'rgb24', 'pipe:1'],
  ]
  const bytes = modelSize * modelSize * 3
  let frame = new Uint8Array(bytes)
  let filled = 0
  for await (const piece of mediaStream(ffmpegPath, args, { clip, signal })) {
    let at = 0
    while (at < piece.length) {
      const take = Math.min(bytes - filled, piece.length - at)
      frame.set(piece.subarray(at, at + take), filled)
      filled += take
      at += take
      if (filled < bytes) continue
      yield frame
      frame = new Uint8Array(bytes)
      filled = 0
    }
  }
}
