import { Problem } from '../../shared-core/problem.ts'

interface Span {
  /** On the audio clock, samples. */
  from: number
  to: number
  /** Where the span begins in the recording, samples. */
  at: number
}

/**
 * The sound of a recording, kept by the sample: spans of the audio clock, one after the other, without the pauses.
 * Time in the recording is the number of samples in it, so that nothing can drift. Sound may arrive after its span was
 * closed; it still gets to its place.
 */
export class TalkSound {
  readonly rate: number
  #spans: Span[] = []
  #samples = new Int16Array(0)
  #filled = 0

  constructor(rate: number) {
    this.rate = rate
  }

  get isOpen(): boolean {
    return this.#spans.at(-1)?.to === Infinity
  }

  /** Goes on recording from this instant of the audio clock. */
  open(clockSeconds: number) {
    if (this.isOpen) return
    this.#spans.push({ from: Math.round(clockSeconds * this.rate), to: Infinity, at: this.#closedSamples() })
  }

  /** Stops recording at this instant. */
  close(clockSeconds: number) {
    const span = this.#spans.at(-1)
    if (span?.to === Infinity) span.to = Math.max(span.from, Math.round(clockSeconds * this.rate))
  }

  /** Seconds recorded up to an instant of the audio clock. */
  secondsAt(clockSeconds: number): number {
    const span = this.#spans.at(-1)
    if (!span) return 0
    const now = Math.min(span.to, Math.max(span.from, clockSeconds * this.rate))
    return (span.at + now - span.from) / this.rate
  }

  /** Takes sound that begins at a sample of the audio clock. */
  take(fromSample: number, sound: Float32Array) {
    for (const span of this.#spans) {
      const first = Math.max(span.from, fromSample)
      const last = Math.min(span.to, fromSample + sound.length)
      if (last <= first) continue
      const at = span.at + first - span.from
      this.#reach(at + last - first)
      for (let i = first; i < last; i++) {
        const value = Math.max(-1, Math.min(1, sound[i - fromSample]!))
        this.#samples[at + i - first] = Math.round(value * 32767)
      }
    }
  }

  /** Forgets everything from a point of the recording on; only while nothing is being recorded. */
  cutAt(seconds: number) {
    if (this.isOpen) throw new Problem('recording')
    const cut = Math.max(0, Math.round(seconds * this.rate))
    this.#spans = this.#spans
      .filter((span) => span.at < cut)
      .map((span) => ({ ...span, to: Math.min(span.to, span.from + cut - span.at) }))
    this.#filled = Math.min(this.#filled, cut)
    this.#samples.fill(0, this.#filled)
  }

  /** The recording so far, 16 bits. */
  samples(): Int16Array<ArrayBuffer> {
    const whole = new Int16Array(this.#closedSamples())
    whole.set(this.#samples.subarray(0, Math.min(this.#filled, whole.length)))
    return whole
  }

  #closedSamples(): number {
    return this.#spans.reduce((sum, { from, to }) => sum + (to === Infinity ? 0 : to - from), 0)
  }

  #reach(length: number) {
    if (length > this.#samples.length) {
      const larger = new Int16Array(Math.max(length, this.#samples.length * 2, this.rate * 30))
      larger.set(this.#samples)
      this.#samples = larger
    }
    this.#filled = Math.max(this.#filled, length)
  }
}

/** Mono 16-bit PCM as a WAV file (RIFF, WAVE_FORMAT_PCM). */
export const wavOf = (samples: Int16Array, rate: number): ArrayBuffer => {
  const bytes = new ArrayBuffer(44 + samples.length * 2)
  const view = new DataView(bytes)
  const text = (at: number, word: string) => {
    for (let i = 0; i < 4; i++) view.setUint8(at + i, word.charCodeAt(i))
  }
  text(0, 'RIFF')
  view.setUint32(4, 36 + samples.length * 2, true)
  text(8, 'WAVE')
  text(12, 'fmt ')
  view.setUint32(16, 16, true)
  view.setUint16(20, 1, true)
  view.setUint16(22, 1, true)
  view.setUint32(24, rate, true)
  view.setUint32(28, rate * 2, true)
  view.setUint16(32, 2, true)
  view.setUint16(34, 16, true)
  text(36, 'data')
  view.setUint32(40, samples.length * 2, true)
  samples.forEach((sample, i) => view.setInt16(44 + i * 2, sample, true))
  return bytes
}
