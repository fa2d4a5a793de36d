import { Problem } from '../../../shared-core/problem.ts'
import { pipeFrom, type RunOptions } from './run-ffmpeg.ts'

export const peakBinSeconds = 0.004
const rate = 16_000

/**
 * Peaks of the sound for the Strip: Int8 pairs (min, max) per bin of `peakBinSeconds`, aligned with the
 * picture's first frame. Null when the clip has no sound, or none that can be decoded: the picture is worth having
 * without it.
 */
export const soundPeaks = async (
  file: string,
  facts: { hasSound: boolean; firstSeconds: number; durationSeconds: number },
  options: RunOptions,
): Promise<Buffer | null> => {
  if (!facts.hasSound) return null
  const perBin = Math.round(rate * peakBinSeconds)
  const pairs: number[] = []
  let low = 0
  let high = 0
  let count = 0
  let rest: Buffer = Buffer.alloc(0)
  await pipeFrom(
    'doing.sound',
    options.programs.ffmpeg.file,
    [
      '-v',
      'error',
      '-nostdin',
      '-copyts',
      '-i',
      file,
      '-map',
      '0:a:0',
      '-af',
      // Pads or cuts the sound so that it begins with the picture, by the times of both.
      `asetpts=PTS-${facts.firstSeconds.toFixed(6)}/TB,aresample=${rate}:async=1:first_pts=0`,
      // Not beyond the picture: sound that claims to come hours later would be padded up to there.
      '-t',
      (facts.durationSeconds + 1).toFixed(3),
      '-ac',
      '1',
      '-ar',
      String(rate),
      '-f',
      's16le',
      '-',
    ],
    (chunk) => {
      const bytes = rest.length ? Buffer.concat([rest, chunk]) : chunk
      const even = bytes.length - (bytes.length % 2)
      for (let i = 0; i < even; i += 2) {
        const sample = bytes.readInt16LE(i)
        if (sample < low) low = sample
        if (sample > high) high = sample
        count += 1
        if (count === perBin) {
          pairs.push(Math.round((low / 32768) * 127), Math.round((high / 32768) * 127))
          low = 0
          high = 0
          count = 0
        }
      }
      rest = Buffer.from(bytes.subarray(even))
    },
    options,
  ).catch((error: unknown) => {
    if (!(error instanceof Problem)) throw error
  })
  if (pairs.length === 0) return null
  return Buffer.from(Int8Array.from(pairs).buffer)
}
