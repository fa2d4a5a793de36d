/** Runs on the audio thread: hands the sound over in pieces, each with its place on the audio clock. */
declare const currentFrame: number
declare class AudioWorkletProcessor {
  readonly port: MessagePort
}
declare const registerProcessor: (name: string, processor: new () => AudioWorkletProcessor) => void

export interface SoundPiece {
  /** Sample of the audio clock that the piece begins with. */
  from: number
  sound: Float32Array
}

const pieceSamples = 2048

class Recorder extends AudioWorkletProcessor {
  #piece = new Float32Array(pieceSamples)
  #filled = 0
  #from = 0

  process(inputs: Float32Array[][]): boolean {
    const [first, ...others] = inputs[0] ?? []
    if (this.#filled === 0) this.#from = currentFrame
    // 128 samples a call (Web Audio, "render quantum"); without input it is silence.
    for (let i = 0; i < 128; i++) {
      const sum = others.reduce((all, channel) => all + channel[i]!, first?.[i] ?? 0)
      this.#piece[this.#filled++] = sum / Math.max(1, others.length + 1)
    }
    if (this.#filled === pieceSamples) {
      const piece: SoundPiece = { from: this.#from, sound: this.#piece }
      this.port.postMessage(piece, [this.#piece.buffer])
      this.#piece = new Float32Array(pieceSamples)
      this.#filled = 0
    }
    return true
  }
}

registerProcessor('leadside-recorder', Recorder)
