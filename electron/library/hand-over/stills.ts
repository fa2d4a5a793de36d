import { createHash } from 'node:crypto'
import { drawingsOn } from '../../../shared-core/drawing/drawing.ts'
import type { RunOptions } from '../media/run-ffmpeg.ts'
import { framePicture } from '../scene/frame-picture.ts'
import { adjusted } from '../scene/adjustments.ts'
import { renderScene, type PaintedScene, type RgbaImage } from '../scene/raster.ts'
import { paintedFrame } from '../scene/still.ts'
import { seenScene } from './seen-scene.ts'
import type { ClipSource } from './clip-source.ts'
import type { PairLayout } from './clip-sizes.ts'

/** A JPEG as it goes into the page. */
export interface Still {
  jpegBase64: string
  width: number
  height: number
}

const quality = 82
const asStill = (painted: PaintedScene): Still => ({
  jpegBase64: painted.jpeg(quality).toString('base64'),
  width: painted.width,
  height: painted.height,
})

/** Left and right exchanged. */
export const mirrored = ({ width, height, rgba }: RgbaImage): RgbaImage => {
  const from = new Uint32Array(Uint8Array.from(rgba).buffer)
  const to = new Uint32Array(from.length)
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) to[y * width + x] = from[y * width + width - 1 - x]!
  }
  return { width, height, rgba: new Uint8Array(to.buffer) }
}

const painted = async (
  source: ClipSource,
  frame: number,
  longestPx: number,
  options: RunOptions,
): Promise<PaintedScene> => {
  const facts = {
    width: source.width,
    height: source.height,
    atSeconds: Float64Array.from(source.time.atSeconds),
  }
  const picture = adjusted(await framePicture(source.file, frame, facts, options), source.adjustments)
  const { drawings, cues } = source
  return paintedFrame(
    source.isMirrored ? mirrored(picture) : picture,
    seenScene(source, { drawings, cues, frame }),
    longestPx,
  )
}

/** A picture of the hand-over before it is made: a frame with its drawings and cues, or two beside or over each other. */
export type PlannedStill =
  | { kind: 'one'; source: ClipSource; frame: number }
  | {
      kind: 'two'
      pair: readonly [ClipSource, ClipSource]
      frames: readonly [number, number]
      layout: PairLayout
    }

/** How large a picture is made: its longest side, or the height of two together; pixels. */
const sides = { package: { one: 1280, two: 720 }, preview: { one: 560, two: 280 } } as const
export type StillSize = keyof typeof sides

/** Makes the picture. */
export const madeStill = (still: PlannedStill, size: StillSize, options: RunOptions): Promise<Still> =>
  still.kind === 'one'
    ? stillOfSource(still.source, still.frame, sides[size].one, options)
    : stillOfPair(still.pair, still.frames, sides[size].two, still.layout, options)

/** How many times longer the package's picture is than the preview's. */
export const packageScale = (still: PlannedStill): number => {
  const [side, longest] =
    still.kind === 'one'
      ? [Math.max(still.source.width, still.source.height), 'one' as const]
      : [Math.max(...still.pair.map((source) => source.height)), 'two' as const]
  return Math.min(side, sides.package[longest]) / Math.min(side, sides.preview[longest])
}

/** The clip whose picture it is, the first of two. */
export const sourceOf = (still: PlannedStill): ClipSource =>
  still.kind === 'one' ? still.source : still.pair[0]

/** As large as the picture would be, with nothing made for it. */
export const sizeOf = (still: PlannedStill, size: StillSize): { width: number; height: number } => {
  const source = sourceOf(still)
  const scale = sides[size][still.kind] / Math.max(source.width, source.height)
  return { width: Math.round(source.width * scale), height: Math.round(source.height * scale) }
}

/** What a picture shows, and how large, for `ByContent`. */
export const contentOf = (still: PlannedStill, size: StillSize): unknown => [
  still.kind,
  sides[size][still.kind],
  still.kind === 'one'
    ? shownOn(still.source, still.frame)
    : [still.layout, still.pair.map((source, i) => shownOn(source, still.frames[i]!))],
]

const shownOn = (source: ClipSource, frame: number): unknown => [
  source.file,
  frame,
  source.isMirrored,
  source.adjustments,
  drawingsOn(source.drawings, frame),
  source.cues.filter((c) => c.frame === frame),
  source.sceneOptions,
  source.headOn(frame),
]

/** A frame with its drawings and cues. */
export const stillOfSource = async (
  source: ClipSource,
  frame: number,
  longestPx: number,
  options: RunOptions,
): Promise<Still> => asStill(await painted(source, frame, longestPx, options))

/** Two frames beside each other, or the second over the first, at one height. */
export const stillOfPair = async (
  pair: readonly [ClipSource, ClipSource],
  frames: readonly [number, number],
  heightPx: number,
  layout: PairLayout,
  options: RunOptions,
): Promise<Still> => {
  const parts: PaintedScene[] = []
  for (const [i, source] of pair.entries()) {
    const longest = Math.round((heightPx / source.height) * Math.max(source.width, source.height))
    parts.push(await painted(source, frames[i]!, longest, options))
  }
  const isOver = layout.arrangement === 'over'
  const widths = parts.map((part) => part.width)
  const width = isOver ? Math.max(...widths) : widths[0]! + widths[1]!
  const height = Math.max(...parts.map((part) => part.height))
  const rgba = new Uint8ClampedArray(width * height * 4)
  for (let at = 0; at < rgba.length; at += 4) rgba.set([0x14, 0x18, 0x1b, 255], at)
  for (const [i, part] of parts.entries()) {
    const own = part.rgba()
    const left = isOver ? (width - part.width) >> 1 : i * widths[0]!
    const top = (height - part.height) >> 1
    const share = isOver && i === 1 ? layout.opacity : 1
    for (let y = 0; y < part.height; y++) {
      const row = own.subarray(y * part.width * 4, (y + 1) * part.width * 4)
      const to = ((top + y) * width + left) * 4
      if (share === 1) rgba.set(row, to)
      else row.forEach((value, k) => (rgba[to + k] = rgba[to + k]! * (1 - share) + value * share))
    }
  }
  const background = { width, height, rgba: new Uint8Array(rgba.buffer) }
  return asStill(renderScene([], { frameSize: { width, height }, background }))
}

/** Keeps what was made by what it was made from, the least used going first. */
export class ByContent<V> {
  readonly #kept = new Map<string, Promise<V>>()
  readonly #made = new WeakMap<Promise<V>, V>()
  readonly #most: number

  constructor(most: number) {
    this.#most = most
  }

  #key(from: unknown): string {
    return createHash('sha256').update(JSON.stringify(from)).digest('hex')
  }

  /** What is made already; null if it would have to be made, or is being made. */
  ready(from: unknown): V | null {
    const known = this.#kept.get(this.#key(from))
    return (known && this.#made.get(known)) ?? null
  }

  get(from: unknown, make: () => Promise<V>): Promise<V> {
    const key = this.#key(from)
    const known = this.#kept.get(key)
    const value = known ?? make()
    this.#kept.delete(key)
    this.#kept.set(key, value)
    // A failure is not kept: the file may be back next time.
    if (!known) {
      value.then(
        (made) => this.#made.set(value, made),
        () => this.#kept.delete(key),
      )
    }
    while (this.#kept.size > this.#most) this.#kept.delete(this.#kept.keys().next().value!)
    return value
  }
}
