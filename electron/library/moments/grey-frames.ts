import os from 'node:os'
import type { GreyFrame } from '../../../shared-core/moments/motion-curve.ts'
import { hasFpsMode } from '../media/ffmpeg-path.ts'
import { keepEveryTimestamp } from '../media/run-ffmpeg.ts'
import { mediaStream } from './media-stream.ts'

/** What decoders say once for each picture that they had to patch or give up. */
const damage =
  /concealing \d+ DC|corrupt decoded frame|Error submitting packet|Error while decoding stream|Invalid data found when processing input/

/** The levels of brightness that a film uses: 16 to 235, or all 256. */
export type Luma = 'limited' | 'full'

/** Black at 0 and white at 255 (ITU-R BT.601, 2.5.3: 219 levels from 16), as `format=gray` gives them. */
const toFullRange = "lut=y='clip((val-16)*255/219,0,255)'"

/** Pictures that the decoder works at ahead of the one that is looked at: a look at a whole stretch of them takes as long as ten. */
const decodedAhead = Math.min(16, Math.max(4, os.availableParallelism() + 2))

const modern = new Map<string, boolean>()

/** Whether the ffmpeg in use is of 5.1 or later; asked once. */
const isModernOf = async (ffmpegPath: string): Promise<boolean> => {
  const known = modern.get(ffmpegPath)
  if (known !== undefined) return known
  let said = ''
  for await (const piece of mediaStream(ffmpegPath, ['-version'], { clip: '' })) {
    said += piece.toString('utf8')
  }
  const isModern = hasFpsMode(said)
  modern.set(ffmpegPath, isModern)
  return isModern
}

/**
 * Reads a clip as small grey frames, every frame exactly once, upright, each with its own timestamp, one at a time: the pixels are
 * written over by the next.
 * @throws Problem `clip-unreadable`, `no-ffmpeg`; the signal's reason when it aborts
 */
export async function* greyFrames(
  ffmpegPath: string,
  clip: string,
  size: { width: number; height: number },
  options: {
    signal?: AbortSignal
    /** Arguments of more outputs of the same decoding. */
    also?: string[]
    /** How the file's brightness is stored, where that is known: it is then taken as it is, which is quicker than out of the colours. */
    luma?: Luma | null
    /** What the ffmpeg calls "each frame once", where that is known. */
    hasFpsMode?: boolean
    /** Told each time the decoder met a picture that it could not read as a whole. */
    onDamage?: () => void
  } = {},
): AsyncGenerator<GreyFrame> {
  const { signal, also = [], luma = null, onDamage } = options
  const isModern = options.hasFpsMode ?? (await isModernOf(ffmpegPath))
  const { width, height } = size
  const filters: string[] = []
  // Its sums of the pixels take a tenth of the reading; an ffmpeg of before 5.1 may not know how to leave them out.
  const told = isModern ? 'showinfo=checksum=0' : 'showinfo'
  const scale = `scale=${width}:${height}:flags=area`
  if (luma) filters.push('extractplanes=y', scale, ...(luma === 'limited' ? [toFullRange] : []), told)
  else filters.push(scale, 'format=gray', told)
  const args = [
    ...['-nostdin', '-hide_banner', '-loglevel', 'info', '-nostats', '-copyts'],
    ...['-threads', String(decodedAhead)],
    ...['-i', clip, '-map', '0:V:0', '-an', '-sn', '-dn', '-vf', filters.join(',')],
    ...keepEveryTimestamp({ hasFpsMode: isModern }),
    ...['-f', 'rawvideo', '-pix_fmt', 'gray', 'pipe:1'],
    ...also,
  ]

  // showinfo tells a frame's timestamp as a whole number of ticks before that frame can come out of the pipe.
  const ticks: number[] = []
  let tick = 0
  let rest = ''
  const onLog = (text: string) => {
    const lines = (rest + text).split('\n')
    rest = lines.pop()!
    for (const line of lines) {
      if (damage.test(line)) onDamage?.()
      if (!line.includes('showinfo')) continue
      const base = /config in time_base: (\d+)\/(\d+)/.exec(line)
      if (base) tick = Number(base[1]) / Number(base[2])
      const pts = /\bn:\s*\d+\s+pts:\s*(-?\d+)/.exec(line)
      if (pts) ticks.push(Number(pts[1]))
    }
  }

  const bytes = width * height
  const frame = new Uint8Array(bytes)
  let filled = 0
  let count = 0
  for await (const piece of mediaStream(ffmpegPath, args, { clip, signal, onLog })) {
    let at = 0
    while (at < piece.length) {
      const take = Math.min(bytes - filled, piece.length - at)
      frame.set(piece.subarray(at, at + take), filled)
      filled += take
      at += take
      if (filled < bytes) continue
      // The two pipes are read independently, so the log may lag by a turn of the event loop.
      for (let turns = 0; ticks.length <= count && turns < 1000; turns++) {
        await new Promise((resolve) => setTimeout(resolve, turns < 10 ? 0 : 2))
      }
      const atSeconds = (ticks[count] ?? NaN) * tick
      yield { index: count, atSeconds, pixels: frame, width, height }
      filled = 0
      count++
    }
  }
}
