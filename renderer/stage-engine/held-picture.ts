import { lendBytes, takeBackBytes } from './picture-pool.ts'

/**
 * A decoded picture in memory of our own, as the decoder gave it (3 MB for 1080p). The decoder's own pictures can't be
 * kept: a graphics card lends only a few, and in software each one kept is new memory for the next.
 */
export class HeldPicture {
  #bytes: Uint8Array<ArrayBuffer> | null
  readonly #init: VideoFrameBufferInit

  private constructor(bytes: Uint8Array<ArrayBuffer>, init: VideoFrameBufferInit) {
    this.#bytes = bytes
    this.#init = init
  }

  /**
   * Copies a picture and closes it.
   * @throws if this kind of picture can't be read
   */
  static async of(decoded: VideoFrame): Promise<HeldPicture> {
    try {
      const { format, visibleRect } = decoded
      if (!format || !visibleRect) throw new Error('the decoder’s pictures can’t be read')
      const bytes = lendBytes(decoded.allocationSize())
      try {
        const layout = await decoded.copyTo(bytes)
        return new HeldPicture(bytes, {
          format,
          layout,
          codedWidth: visibleRect.width,
          codedHeight: visibleRect.height,
          timestamp: decoded.timestamp,
          colorSpace: decoded.colorSpace.toJSON(),
        })
      } catch (error) {
        takeBackBytes(bytes)
        throw error
      }
    } finally {
      decoded.close()
    }
  }

  get width(): number {
    return this.#init.codedWidth
  }

  get height(): number {
    return this.#init.codedHeight
  }

  get byteLength(): number {
    return this.#bytes?.length ?? 0
  }

  /** The picture for the browser, a copy; whoever asks closes it. Null once the picture was let go. */
  toVideoFrame(): VideoFrame | null {
    return this.#bytes && new VideoFrame(this.#bytes, this.#init)
  }

  release() {
    if (this.#bytes) takeBackBytes(this.#bytes)
    this.#bytes = null
  }
}
