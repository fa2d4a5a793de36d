import fs from 'node:fs'
import path from 'node:path'
import { createCanvas, ImageData, loadImage } from '@napi-rs/canvas'
import { isCover, readDrawings } from '../../../shared-core/drawing/drawing.ts'
import type { TalkEvent, TalkLook } from '../../../shared-core/hand-over/talk-timeline.ts'
import { keepEveryTimestamp, pipeFrom, type RunOptions } from '../media/run-ffmpeg.ts'
import { framePicture } from '../scene/frame-picture.ts'
import { adjusted } from '../scene/adjustments.ts'
import { renderScene, type RgbaImage } from '../scene/raster.ts'
import { toShownSize } from '../scene/shown-size.ts'
import { paintedFrame } from '../scene/still.ts'
import { seenScene } from './seen-scene.ts'
import type { ClipSource } from './clip-source.ts'
import { ByContent, mirrored } from './stills.ts'
import type { Size } from './talk-video.ts'

interface Box extends Size {
  readonly left: number
  readonly top: number
}

/** Where a picture stands on the canvas, and how its pixels lie there. */
interface Place extends Box {
  /** Canvas position of the picture's own corner; outside the box where only a part is seen. */
  readonly x: number
  readonly y: number
  readonly scale: number
  /** Only a part of the picture is seen, or more than it. */
  readonly isPart: boolean
}

/** Level 4.1 at 30 frames/s: 1920 × 1088 is 244 800 of its 245 760 macroblocks a second (ITU-T H.264, table A-1). */
const longestPx = 1920
const shortestPx = 1080
const ground = [0x14, 0x18, 0x1b, 255]

/** Size of the talk: the smallest that holds every picture whole, at most 1080 lines (or columns, held upright). */
export const talkSize = (
  shown: readonly (readonly [Size] | readonly [Size, Size, 'beside' | 'over'])[],
): Size => {
  let [width, height] = [2, 2]
  for (const [first, second, arrangement] of shown) {
    const tall = Math.max(first.height, second?.height ?? 0)
    const wide = Math.max(
      first.width * (tall / first.height),
      second ? second.width * (tall / second.height) : 0,
    )
    width = Math.max(width, arrangement === 'beside' ? 2 * wide : wide)
    height = Math.max(height, tall)
  }
  const scale = Math.min(1, longestPx / Math.max(width, height), shortestPx / Math.min(width, height))
  const even = (n: number) => 2 * Math.max(1, Math.floor((n * scale) / 2 + 1e-6))
  return { width: even(width), height: even(height) }
}

/** Middle of what was seen of a picture's width or height. */
const middleSeen = (from: number, length: number, picture: number): number => {
  const [first, last] = [Math.max(0, from), Math.min(picture, from + length)]
  return first < last ? (first + last) / 2 : from + length / 2
}

/**
 * The whole picture within a cell; or as much larger about the same middle as it was on the Stage. The Stage is wider
 * than a clip held upright: what it showed beside the middle may be cut off, but what the coach enlarged is large.
 */
const within = (size: Size, cell: Box, look: TalkLook | null): Place => {
  if (look) {
    const whole = Math.min(cell.width / size.width, cell.height / size.height)
    const scale = whole * Math.max(size.width / look.width, size.height / look.height)
    const x = cell.left + cell.width / 2 - middleSeen(look.x, look.width, size.width) * scale
    const y = cell.top + cell.height / 2 - middleSeen(look.y, look.height, size.height) * scale
    return { ...cell, x, y, scale, isPart: true }
  }
  const scale = Math.min(cell.width / size.width, cell.height / size.height)
  const [width, height] = [Math.round(size.width * scale), Math.round(size.height * scale)]
  const left = cell.left + ((cell.width - width) >> 1)
  const top = cell.top + ((cell.height - height) >> 1)
  return { width, height, left, top, x: left, y: top, scale, isPart: false }
}

/** Where the first and the second picture of an event stand on the talk's canvas. */
export const talkPlaces = (
  canvas: Size,
  first: Size,
  second: Size | null,
  { look, second: other }: Pick<TalkEvent, 'look' | 'second'>,
): [Place, Place | null] => {
  const whole = { ...canvas, left: 0, top: 0 }
  if (!second || !other) return [within(first, whole, look ?? null), null]
  if (other.arrangement === 'over') {
    return [within(first, whole, look ?? null), within(second, whole, other.look ?? null)]
  }
  const half = { ...whole, width: canvas.width / 2 }
  return [
    within(first, half, look ?? null),
    within(second, { ...half, left: canvas.width / 2 }, other.look ?? null),
  ]
}

/** What a picture is made of; the pointer is not, it is laid over afterwards. */
export const pictureKey = (event: TalkEvent): string => {
  const { viewId, frame, second, drawings, showsCues, isMirrored, look } = event
  return JSON.stringify([
    ...[viewId, frame, second ?? null, drawings ?? null],
    ...[showsCues ?? true, isMirrored ?? null, look ?? null],
  ])
}

interface Part {
  viewId: string
  frame: number
  drawings?: readonly unknown[]
  showsCues: boolean
  isMirrored: boolean
}

/** One picture with what was seen on it, in the size of its place. */
const paintPart = (source: ClipSource, picture: RgbaImage, part: Part, place: Place): RgbaImage => {
  const asSeen = (part.drawings ?? []).flatMap(
    (shape, i) =>
      readDrawings([
        {
          id: `seen-${i}`,
          viewId: part.viewId,
          momentId: null,
          fromFrame: part.frame,
          toFrame: part.frame,
          shape,
          order: i,
          isHidden: false,
        },
      ]).drawings,
  )
  // What is covered stays covered, whatever the window says it showed.
  const drawings = part.drawings
    ? [...source.drawings.filter((d) => isCover(d.shape)), ...asSeen.filter((d) => !isCover(d.shape))]
    : [...source.drawings]
  const scene = { drawings, cues: part.showsCues ? source.cues : [] }
  const seen = adjusted(picture, source.adjustments)
  const painted = paintedFrame(
    part.isMirrored ? mirrored(seen) : seen,
    seenScene({ ...source, isMirrored: part.isMirrored }, { ...scene, frame: part.frame }),
  )
  const whole = { width: painted.width, height: painted.height, rgba: painted.rgba() }
  if (place.isPart) return partOf(whole, place)
  if (whole.width === place.width && whole.height === place.height) return whole
  const { width, height } = place
  return { width, height, rgba: renderScene([], { frameSize: place, background: whole }).rgba() }
}

/** What of a picture is seen in its place; beside it the ground. */
const partOf = (picture: RgbaImage, place: Place): RgbaImage => {
  const whole = createCanvas(picture.width, picture.height)
  const pixels = new Uint8ClampedArray(picture.rgba)
  whole.getContext('2d').putImageData(new ImageData(pixels, picture.width, picture.height), 0, 0)
  const { width, height, scale } = place
  const context = createCanvas(width, height).getContext('2d')
  context.fillStyle = `rgb(${ground.slice(0, 3).join()})`
  context.fillRect(0, 0, width, height)
  context.drawImage(
    whole,
    place.x - place.left,
    place.y - place.top,
    picture.width * scale,
    picture.height * scale,
  )
  return { width, height, rgba: new Uint8Array(context.getImageData(0, 0, width, height).data) }
}

const lay = (onto: Uint8Array, canvas: Size, picture: RgbaImage, place: Box, opacity: number) => {
  for (let y = 0; y < picture.height; y++) {
    const to = ((place.top + y) * canvas.width + place.left) * 4
    const row = picture.rgba.subarray(y * picture.width * 4, (y + 1) * picture.width * 4)
    if (opacity === 1) onto.set(row, to)
    else for (let i = 0; i < row.length; i++) onto[to + i] = onto[to + i]! * (1 - opacity) + row[i]! * opacity
  }
}

const mirroredIn = (event: TalkEvent, source: ClipSource) => event.isMirrored ?? source.isMirrored

/** Where the coach pointed, on the talk's canvas. */
export const pointerOn = (
  event: TalkEvent,
  canvas: Size,
  sourceOf: (viewId: string) => ClipSource,
): { x: number; y: number } | null => {
  if (!event.pointer) return null
  const first = sourceOf(event.viewId)
  const second = event.second ? sourceOf(event.second.viewId) : null
  const places = talkPlaces(canvas, first, second, event)
  const isOnSecond = event.pointer.on === 'second'
  const source = isOnSecond ? second : first
  const place = isOnSecond ? places[1] : places[0]
  if (!source || !place) return null
  const isMirrored = isOnSecond ? event.second!.isMirrored : mirroredIn(event, first)
  const across = isMirrored ? source.width - event.pointer.x : event.pointer.x
  return {
    x: place.x + across * place.scale,
    y: place.y + event.pointer.y * place.scale,
  }
}

/** The whole picture of an event without the pointer. */
export const paintTalkPicture = async (
  event: TalkEvent,
  canvas: Size,
  sourceOf: (viewId: string) => ClipSource,
  frames: TalkFrames,
): Promise<RgbaImage> => {
  const first = sourceOf(event.viewId)
  const second = event.second ? sourceOf(event.second.viewId) : null
  const places = talkPlaces(canvas, first, second, event)
  const [pixel] = new Uint32Array(Uint8Array.from(ground).buffer)
  const rgba = new Uint8Array(new Uint32Array(canvas.width * canvas.height).fill(pixel!).buffer)
  const showsCues = event.showsCues ?? true
  const { viewId, frame, drawings } = event
  const part = {
    viewId,
    frame,
    showsCues,
    isMirrored: mirroredIn(event, first),
    ...(drawings ? { drawings } : {}),
  }
  lay(rgba, canvas, paintPart(first, await frames.get(first, frame), part, places[0]), places[0], 1)
  if (event.second && second && places[1]) {
    const picture = await frames.get(second, event.second.frame)
    const opacity = event.second.arrangement === 'over' ? event.second.opacity : 1
    lay(
      rgba,
      canvas,
      paintPart(second, picture, { ...event.second, showsCues }, places[1]),
      places[1],
      opacity,
    )
  }
  return { ...canvas, rgba }
}

/** From this many frames of a clip on, decoding it once from its start is quicker than jumping to each. */
const manyFrames = 6

/** The source frames of a talk: each decoded once, many of one clip in one run, kept as files in the work folder. */
export class TalkFrames {
  readonly #work: string
  readonly #options: RunOptions
  readonly #recent = new ByContent<RgbaImage>(6)
  readonly #files = new Map<string, string>()

  constructor(work: string, options: RunOptions) {
    this.#work = work
    this.#options = options
  }

  /** Decodes what will be wanted of a clip. */
  async prepare(source: ClipSource, wanted: ReadonlySet<number>): Promise<void> {
    if (wanted.size < manyFrames) return
    const list = [...wanted].toSorted((a, b) => a - b)
    const { width, height } = source
    const length = width * height * 4
    const runs: [number, number][] = []
    for (const frame of list) {
      const last = runs.at(-1)
      if (last && last[1] === frame - 1) last[1] = frame
      else runs.push([frame, frame])
    }
    // ffmpeg's expressions nest only so deep; what lies between short gaps is decoded along and left aside.
    while (runs.length > 60) {
      let nearest = 0
      for (let i = 1; i + 1 < runs.length; i++) {
        const gap = (k: number) => runs[k + 1]![0] - runs[k]![1]
        if (gap(i) < gap(nearest)) nearest = i
      }
      runs.splice(nearest, 2, [runs[nearest]![0], runs[nearest + 1]![1]])
    }
    const coming = runs.flatMap(([from, to]) => Array.from({ length: to - from + 1 }, (_, i) => from + i))
    const rgba = Buffer.allocUnsafe(length)
    let [filled, count] = [0, 0]
    const found = new Map<string, string>()
    const take = () => {
      const frame = coming[count++]
      if (frame === undefined || !wanted.has(frame)) return
      const file = path.join(this.#work, `source-${this.#files.size + found.size}.jpg`)
      const picture = { width, height, rgba: new Uint8Array(rgba) }
      fs.writeFileSync(file, renderScene([], { frameSize: picture, background: picture }).jpeg(97))
      found.set(key(source, frame), file)
    }
    const select = runs.map(([from, to]) => `between(n\\,${from}\\,${to})`).join('+')
    await pipeFrom(
      'doing.someFrames',
      this.#options.programs.ffmpeg.file,
      ['-v', 'error', '-nostdin', '-i', source.file, '-map', '0:v:0', '-an', '-sn', '-dn']
        .concat(['-vf', `select=${select},${toShownSize(source, 'bicubic+accurate_rnd+full_chroma_int')}`])
        .concat([...keepEveryTimestamp(this.#options.programs), '-frames:v', String(coming.length)])
        .concat(['-f', 'rawvideo', '-pix_fmt', 'rgba', 'pipe:1']),
      (chunk) => {
        for (let at = 0; at < chunk.length;) {
          const part = chunk.copy(rgba, filled, at, Math.min(chunk.length, at + length - filled))
          at += part
          filled += part
          if (filled === length) {
            take()
            filled = 0
          }
        }
      },
      { ...this.#options, clipName: source.clipName },
    )
    // Anything odd, and every frame is looked up by its own time instead.
    if (count !== coming.length || filled !== 0) return
    for (const [name, file] of found) this.#files.set(name, file)
  }

  get(source: ClipSource, frame: number): Promise<RgbaImage> {
    return this.#recent.get([source.file, frame], async () => {
      const file = this.#files.get(key(source, frame))
      if (file) return readPicture(file)
      const facts = {
        width: source.width,
        height: source.height,
        atSeconds: Float64Array.from(source.time.atSeconds),
      }
      return framePicture(source.file, frame, facts, { ...this.#options, clipName: source.clipName })
    })
  }
}

const key = (source: ClipSource, frame: number) => `${frame} ${source.file}`

/** Pixels of a picture file. */
export const readPicture = async (file: string): Promise<RgbaImage> => {
  const image = await loadImage(file)
  const { width, height } = image
  const context = createCanvas(width, height).getContext('2d')
  context.drawImage(image, 0, 0)
  return { width, height, rgba: new Uint8Array(context.getImageData(0, 0, width, height).data) }
}
