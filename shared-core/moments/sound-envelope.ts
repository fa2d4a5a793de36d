import { Problem } from '../problem.ts'

/** Energy of a sound track in short bins, split where wind and voices end and a strike's click begins. */
export type SoundEnvelope = {
  /** Length of one bin in real seconds (seconds of the day the clip was filmed). */
  binSeconds: number
  /** Mean square above the split, one value per bin. */
  high: Float32Array
  /** Mean square below the split, one value per bin. */
  low: Float32Array
  /** The split, Hz in real time. */
  splitHz: number
}

/** Second-order Butterworth high-pass (bilinear transform; the usual audio-EQ form), run in cascade. */
const highPass = (cutHz: number, rate: number, q: number) => {
  const w = (2 * Math.PI * cutHz) / rate
  const alpha = Math.sin(w) / (2 * q)
  const cos = Math.cos(w)
  const a0 = 1 + alpha
  return { b0: (1 + cos) / 2 / a0, b1: -(1 + cos) / a0, a1: (-2 * cos) / a0, a2: (1 - alpha) / a0 }
}

const targetBinSeconds = 1 / 8000

/**
 * Builds a {@link SoundEnvelope} from PCM that arrives in pieces, so a long take never sits in memory as samples.
 *
 * `samplesPerRealSecond` is the file's sample rate times captureRate / playbackRate: a sound track stretched by 8
 * has 8 times the samples for each second that really passed, and its spectrum comes back where it belongs.
 * Throws Problem `bad-sample-rate` if the rate is not a positive number.
 */
export class SoundEnvelopeBuilder {
  private readonly decimate: number
  private readonly binSize: number
  private readonly rate: number
  private readonly splitHz: number
  private readonly stages: ReturnType<typeof highPass>[]
  private readonly state: Float64Array
  private high: Float32Array = new Float32Array(1 << 15)
  private low: Float32Array = new Float32Array(1 << 15)
  private bins = 0
  private inBin = 0
  private sumHigh = 0
  private sumAll = 0
  private inSample = 0
  private sumSample = 0

  constructor(samplesPerRealSecond: number) {
    if (!(samplesPerRealSecond > 0) || !Number.isFinite(samplesPerRealSecond)) {
      throw new Problem('bad-sample-rate', { rate: samplesPerRealSecond })
    }
    this.decimate = Math.max(1, Math.floor(samplesPerRealSecond / 44_000))
    this.rate = samplesPerRealSecond / this.decimate
    this.binSize = Math.max(1, Math.round(this.rate * targetBinSeconds))
    // Wind and the voiced part of speech lie below; a recording at 8 kHz still leaves an octave above.
    this.splitHz = Math.min(2000, this.rate / 4)
    // Two stages with these Q make a fourth-order Butterworth.
    this.stages = [0.5412, 1.3066].map((q) => highPass(this.splitHz, this.rate, q))
    this.state = new Float64Array(this.stages.length * 2)
  }

  push(samples: Float32Array): void {
    const { stages, state, decimate } = this
    for (let i = 0; i < samples.length; i++) {
      const sample = samples[i]!
      this.sumSample += Number.isFinite(sample) ? sample : 0
      if (++this.inSample < decimate) continue
      const x = this.sumSample / decimate
      this.inSample = 0
      this.sumSample = 0
      let y = x
      for (let s = 0; s < stages.length; s++) {
        const { b0, b1, a1, a2 } = stages[s]!
        // Transposed direct form II; b2 equals b0 in a high-pass.
        const out = b0 * y + state[2 * s]!
        state[2 * s] = b1 * y - a1 * out + state[2 * s + 1]!
        state[2 * s + 1] = b0 * y - a2 * out
        y = out
      }
      this.sumHigh += y * y
      this.sumAll += (x - y) * (x - y)
      if (++this.inBin === this.binSize) this.closeBin()
    }
  }

  finish(): SoundEnvelope {
    return {
      binSeconds: this.binSize / this.rate,
      high: this.high.slice(0, this.bins),
      low: this.low.slice(0, this.bins),
      splitHz: this.splitHz,
    }
  }

  private closeBin(): void {
    if (this.bins === this.high.length) {
      const wider = (old: Float32Array) => {
        const next = new Float32Array(old.length * 2)
        next.set(old)
        return next
      }
      this.high = wider(this.high)
      this.low = wider(this.low)
    }
    this.high[this.bins] = this.sumHigh / this.binSize
    this.low[this.bins] = this.sumAll / this.binSize
    this.bins++
    this.inBin = 0
    this.sumHigh = 0
    this.sumAll = 0
  }
}

/** The envelope of a whole track at once. */
export const soundEnvelope = (pcm: Float32Array, samplesPerRealSecond: number): SoundEnvelope => {
  const builder = new SoundEnvelopeBuilder(samplesPerRealSecond)
  builder.push(pcm)
  return builder.finish()
}

/** No microphone is as quiet as this (mean square of full scale; -90 dB): such a track was made mute. */
const mute = 1e-9

/** Whether a track holds a recording at all, be it only the room's own noise. */
export const isRecorded = ({ high, low }: SoundEnvelope): boolean =>
  high.length > 0 && high.reduce((sum, v, i) => sum + v + low[i]!, 0) / high.length > mute
