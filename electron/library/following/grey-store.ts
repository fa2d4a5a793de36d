import { hasFpsMode } from '../media/ffmpeg-path.ts'
import { keepEveryTimestamp } from '../media/run-ffmpeg.ts'
import { mediaStream } from '../moments/media-stream.ts'
import { toShownSize } from '../scene/shown-size.ts'

/** One frame, a byte a pixel. */
export interface Grey {
  readonly pixels: Uint8Array
  readonly width: number
  readonly height: number
}

/** Frames whose pixels are held at once take so much at most. */
const heldBytes = 160 * 1024 * 1024
/** A picture larger than this is halved until it is not: no followed thing needs more. */
const longestPx = 2048

/**
 * Grey frames of a clip by index, at the resolution of the file (4K halved). A run of frames is decoded at once and held, so
 * that they can be read one after another in either direction.
 */
export class GreyStore {
  readonly width: number
  readonly height: number
  /** Pixels of these frames per pixel of the shown picture. */
  readonly scale: number
  readonly #clip: { ffmpegPath: string; file: string; width: number; height: number }
  readonly #range: { first: number; last: number }
  readonly #signal: AbortSignal | undefined
  readonly #perRun: number
  #held = new Map<number, Grey>()
  #everyFrame: string[] | null = null

  constructor(
    clip: { ffmpegPath: string; file: string; width: number; height: number },
    range: { first: number; last: number },
    signal?: AbortSignal,
  ) {
    this.#clip = clip
    this.#range = range
    this.#signal = signal
    let scale = 1
    while (Math.max(clip.width, clip.height) * scale > longestPx) scale /= 2
    this.scale = scale
    this.width = Math.round(clip.width * scale)
    this.height = Math.round(clip.height * scale)
    this.#perRun = Math.max(8, Math.floor(heldBytes / (this.width * this.height)))
  }

  /** `direction` says which frames will be asked for next. Null where the clip has no such frame. */
  async frame(index: number, direction: 1 | -1): Promise<Grey | null> {
    const { first, last } = this.#range
    if (index < first || index > last) return null
    const held = this.#held.get(index)
    if (held) return held
    const from = direction === 1 ? index : Math.max(first, index - this.#perRun + 1)
    const to = direction === 1 ? Math.min(last, index + this.#perRun - 1) : index
    this.#held = await this.#decode(from, to)
    return this.#held.get(index) ?? null
  }

  async #decode(from: number, to: number): Promise<Map<number, Grey>> {
    const { ffmpegPath, file } = this.#clip
    const { width, height } = this
    if (!this.#everyFrame) {
      let said = ''
      for await (const piece of mediaStream(ffmpegPath, ['-version'], { clip: '' })) {
        said += piece.toString('utf8')
      }
      this.#everyFrame = keepEveryTimestamp({ hasFpsMode: hasFpsMode(said) })
    }
    const args = [
      ...['-nostdin', '-hide_banner', '-loglevel', 'error', '-threads', '1'],
      ...['-i', file, '-map', '0:V:0', '-an', '-sn', '-dn'],
      ...['-vf', `select=between(n\\,${from}\\,${to}),${toShownSize({ width, height })},format=gray`],
      ...this.#everyFrame,
      ...['-frames:v', String(to - from + 1), '-f', 'rawvideo', '-pix_fmt', 'gray', 'pipe:1'],
    ]
    const bytes = width * height
    const frames = new Map<number, Grey>()
    let pixels = new Uint8Array(bytes)
    let filled = 0
    const options = { clip: file, ...(this.#signal ? { signal: this.#signal } : {}) }
    for await (const piece of mediaStream(ffmpegPath, args, options)) {
      for (let at = 0; at < piece.length;) {
        const take = Math.min(bytes - filled, piece.length - at)
        pixels.set(piece.subarray(at, at + take), filled)
        filled += take
        at += take
        if (filled < bytes) continue
        frames.set(from + frames.size, { pixels, width, height })
        pixels = new Uint8Array(bytes)
        filled = 0
      }
    }
    return frames
  }
}
