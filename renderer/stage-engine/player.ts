import type { ClipFrames } from './clip-frames.ts'
import { newShownPicture, type ShownPicture } from './shown-picture.ts'
import { frameAfter, realSecondsBetween, type ClipTimes } from '../../shared-core/timing/clip-clock.ts'

/** What a player needs of `ClipFrames`. */
export type FrameSource = Pick<
  ClipFrames,
  'frameCount' | 'rotationDeg' | 'picture' | 'wait' | 'aim' | 'keyFrameOf' | 'heldFrames' | 'heldBytes'
>

/** Frames a second from which on a screen can't show each of them. */
const maxShownRate = 150

/** Paints one picture. Called in the same turn in which the frame is announced as shown. */
export type Painter = (image: CanvasImageSource, frame: number, rotationDeg: 0 | 90 | 180 | 270) => void

export interface PlayOptions {
  /** Share of real speed: 1, 0.5 … 1/16. */
  rate: number
  direction: 1 | -1
  /** First and last frame; playing stops there, or begins again with `loop`. */
  first: number
  last: number
  loop: boolean
}

/**
 * One clip on the Stage: shows frames by index, plays at shares of real speed. The frame it says is the one whose
 * picture was painted; a frame that isn't decoded yet is never claimed.
 */
export class Player {
  readonly #frames: FrameSource
  readonly #painter: Painter
  readonly #picture: ShownPicture
  #times: ClipTimes
  readonly #listeners = new Set<(frame: number) => void>()
  readonly #stopListeners = new Set<() => void>()
  #shown = -1
  #wanted = 0
  /** Wishes so far, and the latest of them whose picture was painted. */
  #requests = 0
  #painted = 0
  /** Ends when the picture that is being made ready is painted, or given up; null if there is none. */
  #painting: Promise<void> | null = null
  #playing: { frame: number; handle: number } | null = null

  /** A player over frames that are open already. */
  constructor(
    frames: FrameSource,
    source: ClipTimes,
    painter: Painter,
    picture: ShownPicture = newShownPicture(),
  ) {
    this.#frames = frames
    this.#times = source
    this.#painter = painter
    this.#picture = picture
  }

  get frameCount(): number {
    return this.#frames.frameCount
  }

  /** The frame whose picture is painted; -1 before the first. */
  get frameAt(): number {
    return this.#shown
  }

  /** The frame asked for last; it may not be painted yet. */
  get wantedFrame(): number {
    return this.#wanted
  }

  get isPlaying(): boolean {
    return this.#playing !== null
  }

  get heldFrames(): number {
    return this.#frames.heldFrames
  }

  get heldBytes(): number {
    return this.#frames.heldBytes
  }

  /** The coach may correct the capture rate; times follow. */
  setTimes(times: ClipTimes) {
    this.#times = times
  }

  /** Calls back with every frame that was painted, after it was painted. */
  onShown(listener: (frame: number) => void): () => void {
    this.#listeners.add(listener)
    return () => this.#listeners.delete(listener)
  }

  onStopped(listener: () => void): () => void {
    this.#stopListeners.add(listener)
    return () => this.#stopListeners.delete(listener)
  }

  /**
   * Shows a frame; at once if it is decoded, else when it is, unless another was asked for meanwhile.
   * @throws the decoder's error
   */
  async show(frame: number): Promise<void> {
    this.stop()
    const wanted = Math.max(0, Math.min(this.frameCount - 1, Math.round(frame)))
    const direction = wanted < this.#wanted ? -1 : 1
    this.#wanted = wanted
    const request = ++this.#requests
    if (wanted === this.#shown && !this.#painting) {
      this.#painted = request
      this.#frames.aim(wanted, direction)
      return
    }
    // Painting first: what is decoded must not wait for the window to be refilled.
    const painted = this.#paint(wanted, request)
    this.#frames.aim(wanted, direction)
    if (await painted) return
    // While dragging, a picture that was overtaken is still nearer to the truth than the one before it, but never than
    // one that was requested later.
    if ((await this.#frames.wait(wanted)) && !this.#playing) await this.#paint(wanted, request)
  }

  /** Paints the frame on show once more: the canvas changed its size, zoom or place. */
  repaint() {
    this.look(this.#painter)
  }

  /** Hands the picture on show to another painter, for a closer look; nothing if there is none. */
  look(painter: Painter) {
    const { image } = this.#picture
    if (image && this.#shown >= 0) painter(image, this.#shown, this.#frames.rotationDeg)
  }

  /** Plays from where it is. The clock waits for pictures: frames may be skipped, never misnamed. */
  play(options: PlayOptions) {
    this.stop()
    const { rate, direction, first, last } = options
    const from = direction === 1 ? first : last
    const to = direction === 1 ? last : first
    let origin = Math.max(first, Math.min(last, this.#wanted))
    if (origin === to) origin = from
    let elapsed = 0
    let before: number | null = null
    const playing = { frame: origin, handle: 0 }
    this.#playing = playing
    this.#wanted = origin
    this.#painted = ++this.#requests
    this.#frames.aim(origin, direction)
    let { captureRate } = this.#times
    let onlyKeys = rate * captureRate > maxShownRate
    const tick = (now: number) => {
      if (this.#playing !== playing) return
      playing.handle = requestAnimationFrame(tick)
      // The clock stands still until the frame that is due is there.
      const isThere = this.#shown === playing.frame
      if (before !== null && isThere) elapsed += (now - before) / 1000
      before = now
      // It was found out how fast the camera was: from here on it goes by that.
      if (captureRate !== this.#times.captureRate) {
        captureRate = this.#times.captureRate
        onlyKeys = rate * captureRate > maxShownRate
        origin = playing.frame
        elapsed = 0
      }
      if (!isThere) {
        void this.#paint(playing.frame, ++this.#requests)
        return
      }
      const whole = Math.abs(realSecondsBetween(this.#times, origin, to))
      if (elapsed * rate >= whole && this.#shown === to) {
        if (!options.loop) {
          this.stop()
          return
        }
        origin = from
        elapsed = 0
      }
      const seconds = Math.min(elapsed * rate, whole)
      const due = frameAfter(this.#times, origin, direction * seconds)
      playing.frame = Math.max(first, Math.min(last, due))
      if (onlyKeys && playing.frame !== to && !this.#frames.picture(playing.frame)) {
        playing.frame = Math.max(first, this.#frames.keyFrameOf(playing.frame))
      }
      this.#wanted = playing.frame
      this.#frames.aim(playing.frame, direction, onlyKeys)
      if (this.#shown !== playing.frame) void this.#paint(playing.frame, ++this.#requests)
    }
    playing.handle = requestAnimationFrame(tick)
  }

  stop() {
    const playing = this.#playing
    if (!playing) return
    this.#playing = null
    cancelAnimationFrame(playing.handle)
    for (const tell of this.#stopListeners) tell()
  }

  /** The frames stay open; they are whoever's opened them. */
  close() {
    this.stop()
    this.#picture.close()
    this.#listeners.clear()
    this.#stopListeners.clear()
  }

  /** Paints a frame if it is at hand and nothing that was requested later was painted; false if it is not at hand. */
  async #paint(frame: number, request: number): Promise<boolean> {
    if (!this.#frames.picture(frame)) return false
    const before = this.#painting
    let done = () => {}
    const painting = new Promise<void>((resolve) => {
      done = resolve
    })
    this.#painting = painting
    try {
      if (before) await before
      if (request < this.#painted) return true
      const picture = this.#frames.picture(frame)
      if (!picture || !(await this.#picture.take(picture))) return false
      const { image } = this.#picture
      if (!image) return false
      this.#painted = request
      this.#painter(image, frame, this.#frames.rotationDeg)
      this.#shown = frame
      for (const tell of this.#listeners) tell(frame)
      return true
    } finally {
      if (this.#painting === painting) this.#painting = null
      done()
    }
  }
}
