import { SoundEnvelopeBuilder } from '../../../shared-core/moments/sound-envelope.ts'
import type { SoundEnvelope } from '../../../shared-core/moments/sound-envelope.ts'
import { mediaStream } from './media-stream.ts'

const highestRate = 48_000

/** The rate at which a clip's sound is read: its own, or 48 kHz if it is higher. */
export const soundRate = (sampleRate: number): number => Math.min(highestRate, sampleRate || highestRate)

/**
 * Reads a clip's sound as mono PCM from `fromSeconds` of the file's clock (a track that starts later is padded; a file whose clock
 * starts at 95,000 s must not be padded from zero), piece by piece; none if nothing can be decoded.
 * @throws Problem `no-ffmpeg`; the signal's reason when it aborts
 */
export async function* clipSound(
  ffmpegPath: string,
  clip: string,
  sampleRate: number,
  fromSeconds: number,
  options: {
    signal?: AbortSignal
    /** Arguments of more outputs of the same decoding. */
    also?: readonly string[]
  } = {},
): AsyncGenerator<Float32Array> {
  const { signal, also = [] } = options
  const rate = soundRate(sampleRate)
  const args = [
    ...[
      '-nostdin',
      '-hide_banner',
      '-loglevel',
      'error',
      '-copyts',
      '-i',
      clip,
      '-map',
      '0:a:0',
      '-vn',
      '-sn',
      '-dn',
    ],
    // A sound that claims to come days later is not padded up to there.
    ...['-t', '21600'],
    ...[
      '-af',
      `asetpts=PTS-${fromSeconds.toFixed(6)}/TB,aresample=async=1:first_pts=0`,
      '-ac',
      '1',
      '-ar',
      String(rate),
      '-f',
      'f32le',
      'pipe:1',
    ],
    ...also,
  ]
  let left: Buffer = Buffer.alloc(0)
  for await (const piece of mediaStream(ffmpegPath, args, { clip, signal, mayFail: true })) {
    const bytes = left.length > 0 ? Buffer.concat([left, piece]) : piece
    const whole = bytes.length - (bytes.length % 4)
    const samples = new Float32Array(whole / 4)
    for (let i = 0; i < samples.length; i++) samples[i] = bytes.readFloatLE(4 * i)
    left = bytes.subarray(whole)
    yield samples
  }
}

/** The envelope of a clip's sound, recorded `stretch` times faster than it plays; null if there is none. */
export const envelopeOf = async (
  pieces: Iterable<Float32Array> | AsyncIterable<Float32Array>,
  sampleRate: number,
  stretch: number,
): Promise<SoundEnvelope | null> => {
  const builder = new SoundEnvelopeBuilder(soundRate(sampleRate) * stretch)
  let heard = 0
  for await (const samples of pieces) {
    heard += samples.length
    builder.push(samples)
  }
  return heard === 0 ? null : builder.finish()
}
