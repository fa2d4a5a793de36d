import { once } from 'node:events'
import type { RgbaImage } from '../scene/raster.ts'
import { endWhole, startProgram } from '../media/program-output.ts'
import { Cancelled, mediaProblem, type RunOptions } from '../media/run-ffmpeg.ts'
import { phoneOutput } from '../media/phone-output.ts'
import { voiceRate } from './talk-voice.ts'
import { said } from '../../../shared-core/wording/phrase.ts'

export interface Size {
  readonly width: number
  readonly height: number
}

/** A picture as H.264 takes it: 4:2:0, BT.709 limited range. Width and height are even. */
export interface YuvPicture extends Size {
  readonly bytes: Buffer
}

/** BT.709 (ITU-R BT.709-6, 3.2 to 3.5), 8 bits, limited range; colour of four pixels averaged. */
export const toYuv = ({ width, height, rgba }: RgbaImage): YuvPicture => {
  const bytes = Buffer.allocUnsafe((width * height * 3) / 2)
  const half = width / 2
  const uAt = width * height
  const vAt = uAt + (width * height) / 4
  for (let y = 0; y < height; y += 2) {
    for (let x = 0; x < width; x += 2) {
      let [r, g, b] = [0, 0, 0]
      for (let k = 0; k < 4; k++) {
        const place = (y + (k >> 1)) * width + x + (k & 1)
        const [pr, pg, pb] = [rgba[place * 4]!, rgba[place * 4 + 1]!, rgba[place * 4 + 2]!]
        bytes[place] = 16.5 + 0.182586 * pr + 0.614231 * pg + 0.062007 * pb
        r += pr
        g += pg
        b += pb
      }
      const place = (y >> 1) * half + (x >> 1)
      bytes[uAt + place] = 128.5 + (-0.100644 * r - 0.338572 * g + 0.439216 * b) / 4
      bytes[vAt + place] = 128.5 + (0.439216 * r - 0.398942 * g - 0.040274 * b) / 4
    }
  }
  return { width, height, bytes }
}

/** The same picture with a soft ring around a point; the colour is the drawings' apricot, bright on any ground. */
export const withRing = (picture: YuvPicture, at: { x: number; y: number }): YuvPicture => {
  const { width, height } = picture
  const bytes = Buffer.from(picture.bytes)
  const radius = Math.max(6, Math.min(width, height) / 30)
  const thick = radius / 4
  const reach = radius + 2 * thick
  // How much the ring covers: full on the radius, fading to nothing on both sides.
  const cover = (x: number, y: number) =>
    0.9 * Math.exp(-0.5 * ((Math.hypot(x - at.x, y - at.y) - radius) / (thick / 1.5)) ** 2)
  const blend = (place: number, to: number, share: number) => {
    bytes[place] = Math.round(bytes[place]! * (1 - share) + to * share)
  }
  const ring = { y: 171, u: 83, v: 168 }
  const evenDown = (n: number) => Math.floor(n / 2) * 2
  const [left, right] = [Math.max(0, evenDown(at.x - reach)), Math.min(width, Math.ceil(at.x + reach))]
  const [top, bottom] = [Math.max(0, evenDown(at.y - reach)), Math.min(height, Math.ceil(at.y + reach))]
  for (let y = top; y < bottom; y++) {
    for (let x = left; x < right; x++) {
      const share = cover(x + 0.5, y + 0.5)
      if (share < 0.01) continue
      blend(y * width + x, ring.y, share)
      if (x % 2 === 0 && y % 2 === 0) {
        const place = (y >> 1) * (width >> 1) + (x >> 1)
        const soft = cover(x + 1, y + 1)
        blend(width * height + place, ring.u, soft)
        blend(width * height * 1.25 + place, ring.v, soft)
      }
    }
  }
  return { width, height, bytes }
}

/**
 * Writes the MP4: every picture as many frames as it lasts, at a constant rate, with the voice. `pictures` is read
 * only as fast as ffmpeg takes it.
 * @throws Cancelled, Problem `media`, and whatever `pictures` throws
 */
export const writeTalkVideo = async (
  target: string,
  voiceFile: string,
  pictures: AsyncIterable<{ picture: YuvPicture; frames: number }>,
  size: Size,
  rate: number,
  options: RunOptions,
): Promise<void> => {
  const { signal } = options
  if (signal?.aborted) throw new Cancelled()
  const args = ['-v', 'error', '-nostdin', '-y', '-f', 'rawvideo', '-pix_fmt', 'yuv420p']
    .concat(['-s', `${size.width}x${size.height}`, '-r', String(rate), '-i', 'pipe:0'])
    .concat(['-f', 's16le', '-ar', String(voiceRate), '-ac', '1', '-i', voiceFile])
    .concat(['-map', '0:v:0', '-map', '1:a:0', '-c:a', 'aac', '-b:a', '112k'])
    .concat(phoneOutput(rate).filter((option) => option !== '-an'))
    .concat(['-colorspace', 'bt709', '-color_primaries', 'bt709', '-color_trc', 'bt709'])
    .concat(['-color_range', 'tv', target])
  const child = startProgram(options.programs.ffmpeg.file, args, ['pipe', 'ignore', 'pipe'])
  const stdin = child.stdin!
  let stderr = ''
  child.stderr!.setEncoding('utf8').on('data', (text: string) => {
    stderr = (stderr + text).slice(-20_000)
  })
  const stop = () => endWhole(child)
  signal?.addEventListener('abort', stop, { once: true })
  // A broken pipe means that ffmpeg ended; why is told by its exit.
  stdin.on('error', () => {})
  let isEnded = false
  const ended = new Promise<string | null>((resolve) => {
    child.once('error', (error) => resolve(error.message))
    child.once('close', (code, by) =>
      resolve(
        code === 0
          ? null
          : stderr || said('media.stopped', { how: by ?? said('media.exitCode', { code: code ?? 0 }) }),
      ),
    )
  }).finally(() => {
    isEnded = true
  })
  try {
    feeding: for await (const { picture, frames } of pictures) {
      for (let i = 0; i < frames; i++) {
        if (isEnded) break feeding
        if (!stdin.write(picture.bytes)) {
          await Promise.race([once(stdin, 'drain').catch(() => {}), ended])
        }
      }
    }
    stdin.end()
    const problem = await ended
    if (signal?.aborted) throw new Cancelled()
    if (problem !== null) throw mediaProblem(options.clipName, 'doing.talk', problem)
  } catch (error) {
    stop()
    await ended
    throw signal?.aborted ? new Cancelled() : error
  } finally {
    signal?.removeEventListener('abort', stop)
  }
}
