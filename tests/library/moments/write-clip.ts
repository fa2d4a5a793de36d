import { spawn } from 'node:child_process'
import fs from 'node:fs'
import { once } from 'node:events'

export const ffmpegPath = process.env.FFMPEG_PATH ?? 'ffmpeg'
export const ffprobePath = process.env.FFPROBE_PATH ?? ffmpegPath.replace(/ffmpeg([^/\\]*)$/, 'ffprobe$1')

export const runFfmpeg = async (args: string[], input?: Iterable<Uint8Array>): Promise<void> => {
  const child = spawn(ffmpegPath, ['-hide_banner', '-loglevel', 'error', '-y', ...args], {
    stdio: [input ? 'pipe' : 'ignore', 'ignore', 'pipe'],
  })
  let log = ''
  child.stderr!.on('data', (text) => (log += String(text)))
  const closed = once(child, 'close')
  if (input) {
    child.stdin!.on('error', () => {})
    for (const piece of input) {
      if (!child.stdin!.write(piece)) await Promise.race([once(child.stdin!, 'drain'), closed])
    }
    child.stdin!.end()
  }
  const [code] = await closed
  if (code !== 0) throw new Error(`ffmpeg ${args.join(' ')}\n${log}`)
}

/** 32-bit float WAV, mono. */
export const writeWav = (file: string, pcm: Float32Array, rate: number): void => {
  const head = Buffer.alloc(44)
  head.write('RIFF', 0)
  head.writeUInt32LE(36 + pcm.length * 4, 4)
  head.write('WAVEfmt ', 8)
  head.writeUInt32LE(16, 16)
  head.writeUInt16LE(3, 20)
  head.writeUInt16LE(1, 22)
  head.writeUInt32LE(rate, 24)
  head.writeUInt32LE(rate * 4, 28)
  head.writeUInt16LE(4, 32)
  head.writeUInt16LE(32, 34)
  head.write('data', 36)
  head.writeUInt32LE(pcm.length * 4, 40)
  fs.writeFileSync(file, Buffer.concat([head, Buffer.from(pcm.buffer, pcm.byteOffset, pcm.byteLength)]))
}

/**
 * Writes grey frames as a clip. `rate` is the container's; sound, if any, is muxed as AAC. `encode` replaces the
 * usual H.264 settings.
 */
export const writeClip = async (
  file: string,
  frames: Iterable<{ pixels: Uint8Array; width: number; height: number }>,
  size: { width: number; height: number },
  rate: number,
  options: { wav?: string; encode?: string[]; audio?: string[]; filter?: string } = {},
): Promise<void> => {
  const input = [
    '-f',
    'rawvideo',
    '-pix_fmt',
    'gray',
    '-s',
    `${size.width}x${size.height}`,
    '-r',
    String(rate),
    '-i',
    'pipe:0',
  ]
  const pictures = (function* () {
    for (const frame of frames) yield frame.pixels
  })()
  await runFfmpeg(
    [
      ...input,
      ...(options.wav
        ? [
            '-i',
            options.wav,
            '-map',
            '0:v',
            '-map',
            '1:a',
            ...(options.audio ?? ['-c:a', 'aac', '-b:a', '96k']),
          ]
        : []),
      ...(options.filter ? ['-vf', options.filter] : []),
      ...(options.encode ?? ['-c:v', 'libx264', '-preset', 'ultrafast', '-crf', '24', '-pix_fmt', 'yuv420p']),
      file,
    ],
    pictures,
  )
}
