import { EncodedPacketSink, type InputVideoTrack } from 'mediabunny'
import type { PacketIndex } from './packet-index.ts'

/** How many packets may wait in the decoder: enough to keep it busy, few enough to change course at once. */
const mostQueued = 6

/**
 * Decodes runs of packets: from a key packet onwards, as far as asked. One run at a time; what comes out is handed
 * over with the frame it belongs to, by its timestamp, so that no picture can be taken for another.
 */
export class FrameDecoder {
  readonly #index: PacketIndex
  readonly #sink: EncodedPacketSink
  readonly #config: VideoDecoderConfig
  readonly #onFrame: (frame: number, picture: VideoFrame) => void
  readonly #onError: (error: Error) => void
  #decoder: VideoDecoder | null = null
  /** Next packet to feed, in decode order; -1 when no run is under way. */
  #next = -1
  /** First packet of the present run. */
  #runStart = -1
  #generation = 0
  /** Frames that have come out of the present run, kept or not. */
  readonly #given = new Set<number>()

  constructor(options: {
    track: InputVideoTrack
    index: PacketIndex
    config: VideoDecoderConfig
    onFrame: (frame: number, picture: VideoFrame) => void
    onError: (error: Error) => void
  }) {
    this.#index = options.index
    this.#sink = new EncodedPacketSink(options.track)
    this.#config = options.config
    this.#onFrame = options.onFrame
    this.#onError = options.onError
  }

  /** First packet that the present run has not been fed yet; -1 without a run. */
  get next(): number {
    return this.#next
  }

  /** True if the run has been fed this packet already (its picture has come out or will). */
  hasFed(packet: number): boolean {
    return this.#next >= 0 && packet >= this.#runStart && packet < this.#next
  }

  /** True if the frame's picture has come out of the present run: it will not come again without a new one. */
  hasGiven(frame: number): boolean {
    return this.#given.has(frame)
  }

  /** Drops what is still waiting and starts a run at a key packet. */
  startRun(keyPacket: number) {
    this.#generation += 1
    let decoder = this.#decoder
    if (!decoder || decoder.state === 'closed') {
      decoder = this.#newDecoder()
      decoder.configure(this.#config)
      this.#decoder = decoder
    } else if (decoder.decodeQueueSize > 0) {
      decoder.reset()
      decoder.configure(this.#config)
    }
    this.#given.clear()
    this.#runStart = keyPacket
    this.#next = keyPacket
  }

  #newDecoder(): VideoDecoder {
    const decoder: VideoDecoder = new VideoDecoder({
      output: (picture) => {
        const frame = this.#index.frameOfMicroseconds(picture.timestamp)
        if (decoder !== this.#decoder || frame < 0) picture.close()
        else {
          this.#given.add(frame)
          this.#onFrame(frame, picture)
        }
      },
      error: (error) => {
        if (decoder !== this.#decoder) return
        this.#decoder = null
        this.#next = -1
        this.#onError(error)
      },
    })
    return decoder
  }

  /** Feeds one packet; resolves when the decoder has room again. False at the end of the clip. */
  async feed(): Promise<boolean> {
    const decoder = this.#decoder
    const place = this.#next
    if (!decoder || place < 0 || place >= this.#index.packets.length) return false
    const generation = this.#generation
    const packet = await this.#packet(place)
    if (generation !== this.#generation || decoder !== this.#decoder || this.#next !== place) return true
    decoder.decode(packet.toEncodedVideoChunk())
    this.#next = place + 1
    while (
      decoder.decodeQueueSize > mostQueued &&
      decoder === this.#decoder &&
      decoder.state === 'configured'
    ) {
      await new Promise((resolve) => decoder.addEventListener('dequeue', resolve, { once: true }))
    }
    return true
  }

  /** Waits until everything fed has come out. The next run has to start at a key packet again. */
  async flush(): Promise<void> {
    const decoder = this.#decoder
    if (!decoder || decoder.state !== 'configured') return
    const generation = this.#generation
    try {
      await decoder.flush()
    } catch {
      // Closed meanwhile: nothing to wait for.
    }
    if (decoder === this.#decoder && generation === this.#generation) this.#next = -1
  }

  close() {
    this.#generation += 1
    if (this.#decoder && this.#decoder.state !== 'closed') this.#decoder.close()
    this.#decoder = null
    this.#next = -1
  }

  async #packet(place: number) {
    const without = this.#index.packets[place]!
    const packet =
      place === 0
        ? await this.#sink.getFirstPacket()
        : await this.#sink.getNextPacket(this.#index.packets[place - 1]!)
    if (!packet || packet.microsecondTimestamp !== without.microsecondTimestamp) {
      throw new Error(`the clip's packet ${place} could not be read`)
    }
    return packet
  }
}
