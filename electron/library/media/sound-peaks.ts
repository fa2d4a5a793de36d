import fs from 'node:fs'
import { Problem } from '../../../shared-core/problem.ts'
import { pipeFrom, type RunOptions } from './run-ffmpeg.ts'

export const peakBinSeconds = 0.004
const rate = 16_000
const perBin = Math.round(rate * peakBinSeconds)

interface Heard {
  hasSound: boolean
  firstSeconds: number
  durationSeconds: number
}

/** Output arguments of a clip's sound as peaks are read from: mono PCM of 16 bits that begins with the picture. Its input needs `-copyts`. */
export const peakSoundArgs = (target: string, facts: Omit<Heard, 'hasSound'>): string[] => [
  ...['-map', '0:a:0', '-vn', '-sn', '-dn', '-af'],
  // Pads or cuts the sound so that it begins with the picture, by the times of both.
  `asetpts=PTS-${facts.firstSeconds.toFixed(6)}/TB,aresample=${rate}:async=1:first_pts=0`,
  // Not beyond the picture: sound that claims to come hours later would be padded up to there.
  ...['-t', (facts.durationSeconds + 1).toFixed(3)],
  ...['-ac', '1', '-ar', String(rate), '-f', 's16le', target],
]

/** Gathers samples of 16 bits into pairs of the lowest and the highest of each bin. */
class PeakBins {
  readonly #pairs: number[] = []
  #low = 0
  #high = 0
  #count = 0
  #rest: Buffer = Buffer.alloc(0)

  push(chunk: Buffer) {
    const bytes = this.#rest.length ? Buffer.concat([this.#rest, chunk]) : chunk
    const even = bytes.length - (bytes.length % 2)
    for (let i = 0; i < even; i += 2) {
      const sample = bytes.readInt16LE(i)
      if (sample < this.#low) this.#low = sample
      if (sample > this.#high) this.#high = sample
      this.#count += 1
      if (this.#count < perBin) continue
      this.#pairs.push(Math.round((this.#low / 32768) * 127), Math.round((this.#high / 32768) * 127))
      this.#low = 0
      this.#high = 0
      this.#count = 0
    }
    this.#rest = Buffer.from(bytes.subarray(even))
  }

  finish(): Buffer | null {
    return this.#pairs.length === 0 ? null : Buffer.from(Int8Array.from(this.#pairs).buffer)
  }
}

/** The peaks of a short sound that was written with `peakSoundArgs`; null if there is none. */
export const peaksIn = (file: string): Buffer | null => {
  if (!fs.existsSync(file)) return null
  const bins = new PeakBins()
  bins.push(fs.readFileSync(file))
  return bins.finish()
}

/**
 * Peaks of the sound for the Strip: Int8 pairs (min, max) per bin of `peakBinSeconds`, aligned with the
 * picture's first frame. Null when the clip has no sound, or none that can be decoded: the picture is worth having
 * without it.
 */
export const soundPeaks = async (file: string, facts: Heard, options: RunOptions): Promise<Buffer | null> => {
  if (!facts.hasSound) return null
  const bins = new PeakBins()
  await pipeFrom(
    'doing.sound',
    options.programs.ffmpeg.file,
    ['-v', 'error', '-nostdin', '-copyts', '-i', file, ...peakSoundArgs('-', facts)],
    (chunk) => bins.push(chunk),
    options,
  ).catch((error: unknown) => {
    if (!(error instanceof Problem)) throw error
  })
  return bins.finish()
}
