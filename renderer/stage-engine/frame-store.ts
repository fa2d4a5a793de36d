/**
 * Decoded pictures of one clip, by frame. It owns them: whatever leaves it is closed.
 * Pictures are kept as the decoder gives them (3 MB for 1080p) and turned into colours only when painted.
 */
export class FrameStore {
  readonly #pictures = new Map<number, VideoFrame>()
  #bytesPerFrame = 0

  get size(): number {
    return this.#pictures.size
  }

  get bytesPerFrame(): number {
    return this.#bytesPerFrame
  }

  has(frame: number): boolean {
    return this.#pictures.has(frame)
  }

  get(frame: number): VideoFrame | undefined {
    return this.#pictures.get(frame)
  }

  frames(): IterableIterator<number> {
    return this.#pictures.keys()
  }

  put(frame: number, picture: VideoFrame) {
    if (this.#bytesPerFrame === 0) this.#bytesPerFrame = bytesOf(picture)
    this.#pictures.get(frame)?.close()
    this.#pictures.set(frame, picture)
  }

  drop(frame: number) {
    this.#pictures.get(frame)?.close()
    this.#pictures.delete(frame)
  }

  clear() {
    for (const picture of this.#pictures.values()) picture.close()
    this.#pictures.clear()
  }
}

const bytesOf = (picture: VideoFrame): number => {
  try {
    return picture.allocationSize()
  } catch {
    // A picture that lives on the graphics card says nothing about its size.
    return picture.codedWidth * picture.codedHeight * 4
  }
}
