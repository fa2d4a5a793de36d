import type { HeldPicture } from './held-picture.ts'

/** Decoded pictures of one clip, by frame. It owns them: whatever leaves it is let go. */
export class FrameStore {
  readonly #pictures = new Map<number, HeldPicture>()
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

  get(frame: number): HeldPicture | undefined {
    return this.#pictures.get(frame)
  }

  frames(): IterableIterator<number> {
    return this.#pictures.keys()
  }

  put(frame: number, picture: HeldPicture) {
    if (this.#bytesPerFrame === 0) this.#bytesPerFrame = picture.byteLength
    this.#pictures.get(frame)?.release()
    this.#pictures.set(frame, picture)
  }

  drop(frame: number) {
    this.#pictures.get(frame)?.release()
    this.#pictures.delete(frame)
  }

  clear() {
    for (const picture of this.#pictures.values()) picture.release()
    this.#pictures.clear()
  }
}
