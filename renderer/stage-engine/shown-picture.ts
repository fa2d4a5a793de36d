import { isDrawnInSoftware } from './canvas-context.ts'
import type { HeldPicture } from './held-picture.ts'

/** The picture on show, as something canvases can draw for as long as it is on show. */
export interface ShownPicture {
  /** Null before the first picture and after `close`. */
  readonly image: CanvasImageSource | null
  /** Makes this the picture on show; false if it had been let go. One at a time. */
  take(picture: HeldPicture): Promise<boolean>
  close(): void
}

/** With a graphics card: the card turns the picture into colours while drawing it. */
class OnCard implements ShownPicture {
  #frame: VideoFrame | null = null
  #isClosed = false

  get image() {
    return this.#frame
  }

  take(picture: HeldPicture): Promise<boolean> {
    const next = this.#isClosed ? null : picture.toVideoFrame()
    if (next) {
      this.#frame?.close()
      this.#frame = next
    }
    return Promise.resolve(next !== null)
  }

  close() {
    this.#isClosed = true
    this.#frame?.close()
    this.#frame = null
  }
}

/** A canvas in ordinary memory and the colours on their way into it. */
interface Plate {
  canvas: OffscreenCanvas
  colours: ImageData
}
/** Plates that are not in use; a new one costs as much time as showing ten pictures. */
const spare: Plate[] = []
const maxSpare = 2

const plateFor = ({ width, height }: { width: number; height: number }): Plate => {
  const index = spare.findIndex(({ colours }) => colours.width === width && colours.height === height)
  return (
    spare.splice(index, index < 0 ? 0 : 1)[0] ?? {
      canvas: new OffscreenCanvas(width, height),
      colours: new ImageData(width, height),
    }
  )
}

/**
 * Without one: turned into colours in memory that is used again for each picture. Drawn straight away, the browser would
 * take 8 MB anew for each, which costs more than all the rest.
 */
class InMemory implements ShownPicture {
  #plate: Plate | null = null
  #isThere = false
  #isBusy = false
  #isClosed = false

  get image() {
    return this.#isThere ? (this.#plate?.canvas ?? null) : null
  }

  async take(picture: HeldPicture): Promise<boolean> {
    const frame = this.#isClosed ? null : picture.toVideoFrame()
    if (!frame) return false
    const { width, height } = picture
    if (this.#plate?.colours.width !== width || this.#plate.colours.height !== height) {
      this.#giveBack()
      this.#plate = plateFor(picture)
    }
    const { canvas, colours } = this.#plate
    this.#isBusy = true
    try {
      await frame.copyTo(colours.data, { format: 'RGBX' })
    } finally {
      frame.close()
      this.#isBusy = false
      if (this.#isClosed) this.#giveBack()
    }
    if (this.#isClosed) return false
    canvas.getContext('2d', { willReadFrequently: true, alpha: false })!.putImageData(colours, 0, 0)
    this.#isThere = true
    return true
  }

  close() {
    this.#isClosed = true
    // What is being written into is given back when that is done.
    if (!this.#isBusy) this.#giveBack()
  }

  #giveBack() {
    if (this.#plate && spare.length < maxSpare) spare.push(this.#plate)
    this.#plate = null
    this.#isThere = false
  }
}

export const newShownPicture = (): ShownPicture => (isDrawnInSoftware() ? new InMemory() : new OnCard())
