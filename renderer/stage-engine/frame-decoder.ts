import { EncodedPacketSink, type EncodedPacket, type InputVideoTrack } from 'mediabunny'
import type { PacketIndex } from './packet-index.ts'

/** How many packets may wait in the decoder: enough to keep it busy, few enough to change course at once. */
const maxQueued = 4
/** A decoder that has been given all and gives no picture for so long needs to be asked for what it holds back. */
const quietMs = 60
/** Bytes of a clip as they are in its file that are kept in memory; most clips fit as a whole. */
const maxReadBytes = 64 * 1024 * 1024

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
  #runStart = -1
  #generation = 0
  /** Frames whose bytes are in the decoder, each with how many packets had been fed before its own. */
  readonly #pending = new Map<number, number>()
  #fed = 0
  #wake: (reason: 'out' | 'hurry') => void = () => {}
  #isClosed = false
  /** Packets that were read, with their bytes: to go back to them must not mean to read them again. */
  readonly #read = new Map<number, EncodedPacket>()
  #readBytes = 0
  #hasReadAhead = false

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

  /** True if the frame's bytes are in: its picture will come out. */
  isPending(frame: number): boolean {
    return this.#pending.has(frame)
  }

  get hasPending(): boolean {
    return this.#pending.size > 0
  }

  /** Packets that were fed after the frame's own. */
  fedSince(frame: number): number {
    return this.#fed - (this.#pending.get(frame) ?? this.#fed)
  }

  /**
   * Starts a run at a key packet. What still waits in the decoder comes out first: those few pictures are sooner done
   * than a decoder that was reset, which takes all its memory anew.
   */
  startRun(keyPacket: number) {
    this.#generation += 1
    if (!this.#decoder || this.#decoder.state === 'closed') {
      this.#decoder = this.#newDecoder()
      this.#decoder.configure(this.#config)
      this.#pending.clear()
    }
    this.#runStart = keyPacket
    this.#next = keyPacket
  }

  #newDecoder(): VideoDecoder {
    const decoder: VideoDecoder = new VideoDecoder({
      output: (picture) => {
        const frame = this.#index.frameOfMicroseconds(picture.timestamp)
        if (decoder === this.#decoder && this.#pending.delete(frame)) this.#onFrame(frame, picture)
        else picture.close()
        this.#wake('out')
      },
      error: (error) => {
        if (decoder !== this.#decoder) return
        this.#decoder = null
        this.#next = -1
        this.#pending.clear()
        this.#onError(error)
      },
    })
    return decoder
  }

  /** Feeds one packet; resolves when the decoder has room again. False at the end of the clip. */
  async feed(): Promise<boolean> {
    const decoder = this.#decoder
    const index = this.#next
    if (!decoder || index < 0 || index >= this.#index.packets.length) return false
    const generation = this.#generation
    const packet = await this.#packet(index)
    if (generation !== this.#generation || decoder !== this.#decoder || this.#next !== index) return true
    const frame = this.#index.frameOfMicroseconds(packet.microsecondTimestamp)
    // What leans on a key picture before this run's start comes out damaged, and is let go.
    if (frame >= 0 && this.#index.keyOfFrame[frame]! >= this.#runStart) this.#pending.set(frame, this.#fed)
    this.#fed += 1
    decoder.decode(packet.toEncodedVideoChunk())
    this.#next = index + 1
    while (
      decoder.decodeQueueSize > maxQueued &&
      decoder === this.#decoder &&
      decoder.state === 'configured'
    ) {
      await new Promise((resolve) => decoder.addEventListener('dequeue', resolve, { once: true }))
    }
    return true
  }

  /** Waits until this frame has come out, the decoder has given nothing for a while, or `hurry` is called. */
  async quiet(frame: number): Promise<void> {
    const decoder = this.#decoder
    let isOver = false
    while (
      !isOver &&
      this.#pending.has(frame) &&
      decoder === this.#decoder &&
      decoder?.state === 'configured'
    ) {
      const why = await new Promise<'out' | 'hurry' | 'nothing'>((resolve) => {
        const timer = setTimeout(() => resolve('nothing'), quietMs)
        this.#wake = (reason) => {
          clearTimeout(timer)
          resolve(reason)
        }
      })
      isOver = why === 'hurry' || (why === 'nothing' && decoder.decodeQueueSize === 0)
    }
    this.#wake = () => {}
  }

  /** Ends a wait for quiet: something else is wanted. */
  hurry() {
    this.#wake('hurry')
  }

  /**
   * Waits until everything fed has come out. The next run has to start at a key packet again.
   * @returns the frames that never came out
   */
  async flush(): Promise<ReadonlySet<number>> {
    const decoder = this.#decoder
    const none = new Set<number>()
    if (!decoder || decoder.state !== 'configured') return none
    const generation = this.#generation
    try {
      await decoder.flush()
    } catch {
      // Closed meanwhile: nothing to wait for.
    }
    if (decoder !== this.#decoder || generation !== this.#generation) return none
    const left = new Set(this.#pending.keys())
    this.#next = -1
    this.#pending.clear()
    return left
  }

  close() {
    this.#isClosed = true
    this.#read.clear()
    this.#generation += 1
    if (this.#decoder && this.#decoder.state !== 'closed') this.#decoder.close()
    this.#decoder = null
    this.#next = -1
  }

  /** Reads the whole clip's bytes, once, as far as they may be kept, so that a jump waits for no file. */
  async readAhead() {
    if (this.#hasReadAhead) return
    this.#hasReadAhead = true
    for (let index = 0; index < this.#index.packets.length; index++) {
      if (this.#isClosed || this.#readBytes > maxReadBytes) return
      await this.#packet(index)
    }
  }

  async #packet(index: number): Promise<EncodedPacket> {
    const known = this.#read.get(index)
    if (known) return known
    const without = this.#index.packets[index]!
    const packet =
      index === 0
        ? await this.#sink.getFirstPacket()
        : await this.#sink.getNextPacket(this.#index.packets[index - 1]!)
    if (!packet || packet.microsecondTimestamp !== without.microsecondTimestamp) {
      throw new Error(`the clip's packet ${index} could not be read`)
    }
    if (!this.#read.has(index) && this.#readBytes + packet.byteLength <= maxReadBytes) {
      this.#read.set(index, packet)
      this.#readBytes += packet.byteLength
    }
    return packet
  }
}
