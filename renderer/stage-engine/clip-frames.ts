import { ALL_FORMATS, Input, type InputVideoTrack } from 'mediabunny'
import { clipBytes } from './clip-bytes.ts'
import { FrameDecoder } from './frame-decoder.ts'
import { FrameStore } from './frame-store.ts'
import { HeldPicture } from './held-picture.ts'
import { indexPackets, type PacketIndex } from './packet-index.ts'
import { joinBudget, waitingClipBytes, type BudgetShare } from './memory-budget.ts'
import { windowPlan } from './window-plan.ts'
import { pictureWords } from '../../shared-core/wording/window/picture.ts'

/** How far a pending picture may be from coming out for a newer request to wait for it, packets. */
const finishWithin = 16
/** How many packets past the wanted one are fed before the decoder is made to give up what it holds. */
const maxReorder = 12

/** How long nothing must have been wanted before the rest of the clip's bytes are read. */
const calmMs = 800

/** Pictures held before their size is known. */
const fewFrames = 8

export class ClipUnreadable extends Error {}

/**
 * The frames of one clip: a window of decoded pictures around the playhead, refilled ahead in the direction of
 * travel, within the memory budget.
 */
export class ClipFrames {
  readonly frameCount: number
  /** Clockwise turn that shows the picture upright, degrees. */
  readonly rotationDeg: 0 | 90 | 180 | 270
  readonly #input: Input
  readonly #index: PacketIndex
  readonly #store = new FrameStore()
  readonly #decoder: FrameDecoder
  /** Its share of the memory while it is on a Stage. */
  #budget: BudgetShare | null = null
  readonly #waiting = new Map<number, Set<(isThere: boolean) => void>>()
  #playhead = 0
  /** How often the window was moved. */
  #aims = 0
  #direction: 1 | -1 = 1
  #onlyKeys = false
  #first = 0
  #last = 0
  #goal = -1
  /** Frames that came out and are being copied. */
  readonly #copying = new Set<number>()
  /** Frames the decoder did not give although it was asked for everything it had. */
  readonly #missing = new Set<number>()
  #isPumping = false
  #readAheadTimer: ReturnType<typeof setTimeout> | undefined
  #isClosed = false
  #failure: Error | null = null
  #failures = 0

  private constructor(
    input: Input,
    index: PacketIndex,
    track: InputVideoTrack,
    config: VideoDecoderConfig,
    rotationDeg: 0 | 90 | 180 | 270,
  ) {
    this.#input = input
    this.#index = index
    this.frameCount = index.frameCount
    this.rotationDeg = rotationDeg
    this.#decoder = new FrameDecoder({
      track,
      index,
      config,
      onFrame: (frame, picture) => void this.#take(frame, picture),
      onError: (error) => this.#fail(error),
    })
  }

  /**
   * Opens a clip for looking at single frames.
   * @param url where its bytes are (with byte ranges)
   * @param atSeconds the time of every frame as the library counted them; may still be on its way
   * @throws ClipUnreadable with the reason
   */
  static async open(
    url: string,
    atSeconds: ArrayLike<number> | Promise<ArrayLike<number>>,
  ): Promise<ClipFrames> {
    const input = new Input({ source: clipBytes(url), formats: ALL_FORMATS })
    try {
      const track = await input.getPrimaryVideoTrack()
      if (!track) throw new ClipUnreadable(pictureWords('noPicture'))
      const [given, rotationDeg, index] = await Promise.all([
        track.getDecoderConfig(),
        track.getRotation(),
        indexPackets(track, atSeconds),
      ])
      if (!given) throw new ClipUnreadable(pictureWords('unknownKind'))
      if (index.frameCount === 0) throw new ClipUnreadable(pictureWords('noFrame'))
      return new ClipFrames(input, index, track, await playableConfig(given), rotationDeg)
    } catch (error) {
      input.dispose()
      throw error
    }
  }

  /** The picture of a frame if it is at hand. It stays owned by the window of frames, which lets it go when it moves on. */
  picture(frame: number): HeldPicture | undefined {
    return this.#store.get(frame)
  }

  /** Frames at hand just now. */
  get heldFrames(): number {
    return this.#store.size
  }

  /** Bytes of the pictures at hand. */
  get heldBytes(): number {
    return this.#store.size * this.#store.bytesPerFrame
  }

  /** The frame at or before this one that can be decoded on its own. */
  keyFrameOf(frame: number): number {
    const key = this.#index.keyOfFrame[frame]!
    let at = frame
    while (at > 0 && this.#index.packetOfFrame[at] !== key) at -= 1
    return at
  }

  /**
   * Moves the window: what is wanted first is at `frame`, then the way ahead; `onlyKeys` leaves out what can't be
   * decoded on its own.
   */
  aim(frame: number, direction: 1 | -1, onlyKeys = false) {
    this.#onlyKeys = onlyKeys
    this.#playhead = Math.max(0, Math.min(this.frameCount - 1, frame))
    this.#direction = direction
    this.#aims += 1
    this.#decoder.hurry()
    this.#pumpSoon()
  }

  /**
   * Waits until the picture of a frame is at hand; false if a newer request came or the clip was closed first.
   * @throws the decoder's error
   */
  async wait(frame: number): Promise<boolean> {
    if (this.#store.has(frame)) return true
    if (this.#failure) throw this.#failure
    if (this.#isClosed || this.#missing.has(frame)) return false
    const isThere = await new Promise<boolean>((resolve) => {
      const set = this.#waiting.get(frame) ?? new Set()
      set.add(resolve)
      this.#waiting.set(frame, set)
    })
    if (!isThere && this.#failure) throw this.#failure
    return isThere
  }

  /** It is on a Stage now: takes its share of the memory, for what is wanted next. */
  grow() {
    this.#budget ??= joinBudget(() => this.#pumpSoon())
  }

  /** It left the Stage: keeps a few pictures around the last one, in case it comes back. */
  shrink() {
    this.#budget?.leave()
    this.#budget = null
    this.#settleAll()
    clearTimeout(this.#readAheadTimer)
    this.#pumpSoon()
  }

  close() {
    this.#isClosed = true
    clearTimeout(this.#readAheadTimer)
    this.#decoder.close()
    this.#store.clear()
    this.#budget?.leave()
    this.#settleAll()
    this.#input.dispose()
  }

  #capacity(): number {
    const bytes = this.#store.bytesPerFrame
    // Before the first picture its size is not known: a handful is safe.
    if (bytes === 0) return fewFrames
    return Math.max(4, Math.floor((this.#budget?.bytes() ?? waitingClipBytes()) / bytes))
  }

  async #take(frame: number, decoded: VideoFrame) {
    if (frame === this.#goal) this.#goal = -1
    const isWanted =
      this.#waiting.has(frame) || frame === this.#playhead || (frame >= this.#first && frame <= this.#last)
    if (!isWanted || this.#isClosed || this.#store.has(frame) || this.#copying.has(frame)) {
      decoded.close()
      return
    }
    this.#copying.add(frame)
    let picture: HeldPicture
    try {
      picture = await HeldPicture.of(decoded)
    } catch (error) {
      if (!this.#isClosed) this.#fail(error as Error)
      return
    } finally {
      this.#copying.delete(frame)
    }
    if (this.#isClosed) {
      picture.release()
      return
    }
    this.#store.put(frame, picture)
    this.#failures = 0
    const waiting = this.#waiting.get(frame)
    this.#waiting.delete(frame)
    for (const resolve of waiting ?? []) resolve(true)
  }

  #fail(error: Error) {
    this.#failures += 1
    this.#goal = -1
    // One stumble is tried again from the key picture; a clip that goes on failing is given up.
    if (this.#failures < 3) {
      this.#pumpSoon()
      return
    }
    this.#failure = error
    this.#settleAll()
  }

  #settleAll() {
    for (const set of this.#waiting.values()) for (const resolve of set) resolve(false)
    this.#waiting.clear()
  }

  #pumpSoon() {
    if (!this.#isPumping && !this.#isClosed && !this.#failure) void this.#pump()
  }

  async #pump() {
    this.#isPumping = true
    try {
      while (!this.#isClosed && !this.#failure) {
        const wanted = this.#nextWanted()
        if (wanted < 0) break
        await this.#decodeTowards(wanted)
      }
    } catch (error) {
      this.#fail(error as Error)
    } finally {
      this.#isPumping = false
    }
    // What is near is there; once the coach stays with this clip, now what a jump may want.
    clearTimeout(this.#readAheadTimer)
    if (!this.#budget) return
    this.#readAheadTimer = setTimeout(() => {
      if (!this.#isClosed && !this.#isPumping) void this.#decoder.readAhead().catch(() => {})
    }, calmMs)
  }

  /** The next frame worth decoding, and everything outside of the window let go. -1 if all is there. */
  #nextWanted(): number {
    const { keyOfFrame } = this.#index
    const plan = windowPlan(this.#playhead, this.#direction, this.frameCount, this.#capacity(), keyOfFrame)
    this.#first = plan.first
    this.#last = plan.last
    for (const frame of [...this.#store.frames()]) {
      if (frame < plan.first || frame > plan.last) this.#store.drop(frame)
    }
    // A frame someone waits for that the playhead has left already: only let it finish, never start it.
    if (this.#goal >= 0 && this.#goal !== this.#playhead && !this.#store.has(this.#goal)) {
      const distance = this.#index.packetOfFrame[this.#goal]! - this.#decoder.next
      if (this.#decoder.next >= 0 && distance <= finishWithin) return this.#goal
      this.#goal = -1
    }
    this.#dropStaleWaiters()
    let firstPending = -1
    for (const frame of plan.order) {
      if (this.#store.has(frame) || this.#copying.has(frame) || this.#missing.has(frame)) continue
      // Playing faster than the screen: only pictures that can be decoded on their own.
      if (this.#onlyKeys && frame !== this.#playhead && this.keyFrameOf(frame) !== frame) continue
      if (frame === this.#playhead) this.#goal = frame
      else if (this.#decoder.isPending(frame)) {
        // On its way; something else can be fed meanwhile.
        if (firstPending < 0) firstPending = frame
        continue
      }
      return frame
    }
    return firstPending
  }

  #dropStaleWaiters() {
    for (const [frame, set] of this.#waiting) {
      if (frame === this.#playhead || frame === this.#goal) continue
      this.#waiting.delete(frame)
      for (const resolve of set) resolve(false)
    }
  }

  async #decodeTowards(frame: number) {
    const packet = this.#index.packetOfFrame[frame]!
    const key = this.#index.keyOfFrame[frame]!
    const decoder = this.#decoder
    if (decoder.isPending(frame)) {
      // Its bytes are in; pictures that lean on later ones come out only when those are in, too.
      const isEnd = decoder.next < 0 || decoder.next >= this.#index.packets.length
      if (isEnd || decoder.fedSince(frame) > maxReorder) {
        // Most come by themselves; to be emptied costs a decoder all its memory.
        const aims = this.#aims
        await decoder.quiet(frame)
        if (!decoder.isPending(frame) || aims !== this.#aims) return
        const left = await decoder.flush()
        if (left.has(frame) && !this.#failure && this.#failures === 0) this.#giveUp(frame)
        return
      }
    } else if (!(decoder.next >= key && decoder.next <= packet)) {
      decoder.startRun(key)
    }
    await decoder.feed()
  }

  #giveUp(frame: number) {
    this.#missing.add(frame)
    if (this.#goal === frame) this.#goal = -1
    const waiting = this.#waiting.get(frame)
    this.#waiting.delete(frame)
    for (const resolve of waiting ?? []) resolve(false)
  }
}

/**
 * How to decode: in software if that works here, since every picture is copied into memory, from which a graphics card's
 * would have to be fetched.
 */
const playableConfig = async (given: VideoDecoderConfig): Promise<VideoDecoderConfig> => {
  // The turn is applied when painting, once, wherever the browser would or would not do it.
  const plain: VideoDecoderConfig & { rotation?: number; flip?: boolean } = { ...given }
  delete plain.rotation
  delete plain.flip
  const tries: VideoDecoderConfig[] = [
    { ...plain, hardwareAcceleration: 'prefer-software', optimizeForLatency: true },
    { ...plain, hardwareAcceleration: 'no-preference' },
  ]
  for (const config of tries) {
    const answer = await VideoDecoder.isConfigSupported(config).catch(() => null)
    if (answer?.supported) return config
  }
  throw new ClipUnreadable(pictureWords('noDecoder', { codec: given.codec }))
}
