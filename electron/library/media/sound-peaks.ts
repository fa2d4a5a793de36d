import { pipeFrom, type RunOptions } from './run-ffmpeg.ts'

export const peakBinSeconds = 0.004
const rate = 16_000

/**
 * Peaks of the sound for the Strip: Int8 pairs (min, max) per bin of `peakBinSeconds`, aligned with the
 * picture's first frame. Null when the clip has no sound.
 */
export const soundPeaks = async (
  file: string,
  facts: { hasSound: boolean; soundStartSeconds: number },
  options: RunOptions,
): Promise<Buffer | null> => {
  if (!facts.hasSound) return null
  const perBin = Math.round(rate * peakBinSeconds)
  const pairs: number[] = []
  // Start the first bin where the picture starts.
  let skip = Math.max(0, Math.round(-facts.soundStartSeconds * rate))
  for (let n = Math.round(Math.max(0, facts.soundStartSeconds) / peakBinSeconds); n > 0; n -= 1) {
    pairs.push(0, 0)
  }
  let low = 0
  let high = 0
  let count = 0
  let rest: Buffer = Buffer.alloc(0)
  await pipeFrom(
    'reading the sound',
    options.programs.ffmpeg.file,
    [
      '-v',
      'error',
      '-nostdin',
      '-i',
      file,
      '-map',
      '0:a:0',
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
        if (skip > 0) {
          skip -= 1
          continue
        }
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
  )
  return Buffer.from(Int8Array.from(pairs).buffer)
}
