import FFT from 'fft.js'
import { Problem } from '../problem.ts'

/** Power of a sound over time and pitch, in real time. */
export type Spectrogram = {
  /** Real seconds from the track's start to the middle of each column. */
  atSeconds: Float64Array
  /** Hz between two rows; row k is at k · binHz. */
  binHz: number
  rows: number
  /** Power, column after column. */
  power: Float64Array
  /** Seconds from one column to the next. */
  stepSeconds: number
}

const wantedRate = 16_000
const windowSeconds = 0.032
const hopSeconds = 0.004

/**
 * Short spectra (32 ms, Hann window, every 4 ms) of mono PCM. `samplesPerRealSecond` as for SoundEnvelopeBuilder: a track
 * stretched with the picture comes back to its true pitch.
 * @throws Problem `bad-sample-rate`
 */
export const spectrogram = (pcm: Float32Array, samplesPerRealSecond: number): Spectrogram => {
  if (!(samplesPerRealSecond > 0) || !Number.isFinite(samplesPerRealSecond)) {
    throw new Problem('bad-sample-rate', { rate: samplesPerRealSecond })
  }
  const every = Math.max(1, Math.floor(samplesPerRealSecond / wantedRate))
  const rate = samplesPerRealSecond / every
  const samples = new Float32Array(Math.floor(pcm.length / every))
  for (let i = 0; i < samples.length; i++) {
    let sum = 0
    for (let j = 0; j < every; j++) {
      const x = pcm[i * every + j]!
      sum += Number.isFinite(x) ? x : 0
    }
    samples[i] = sum / every
  }
  const size = 2 ** Math.round(Math.log2(rate * windowSeconds))
  const hop = Math.max(1, Math.round(rate * hopSeconds))
  const columns = Math.max(0, Math.floor((samples.length - size) / hop) + 1)
  const rows = size / 2
  const hann = Float64Array.from({ length: size }, (_, i) => 0.5 - 0.5 * Math.cos((2 * Math.PI * i) / size))
  const fft = new FFT(size)
  const out = fft.createComplexArray()
  const piece = new Float64Array(size)
  const power = new Float64Array(columns * rows)
  const atSeconds = new Float64Array(columns)
  for (let c = 0; c < columns; c++) {
    for (let i = 0; i < size; i++) piece[i] = samples[c * hop + i]! * hann[i]!
    fft.realTransform(out, piece)
    for (let k = 0; k < rows; k++) power[c * rows + k] = (out[2 * k]! ** 2 + out[2 * k + 1]! ** 2) / size
    atSeconds[c] = (c * hop + size / 2) / rate
  }
  return { atSeconds, binHz: rate / size, rows, power, stepSeconds: hop / rate }
}
