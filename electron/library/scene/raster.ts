import fs from 'node:fs'
import { createRequire } from 'node:module'
import { createCanvas, GlobalFonts, ImageData, type Canvas } from '@napi-rs/canvas'
import Konva from 'konva'
import type { SceneNode } from '../../../shared-core/scene/node.ts'
import { fontFamily } from '../../../shared-core/scene/text-width.ts'
import { toKonva, type KonvaClasses } from '../../../shared-core/scene/to-konva.ts'

const requireHere = createRequire(import.meta.url)
// Read here and handed over as bytes: the native side cannot look into an app archive.
const fontFile = '@expo-google-fonts/source-sans-3/600SemiBold/SourceSans3_600SemiBold.ttf'

let isReady = false
/** Gives Konva a canvas without a browser, and the canvas the font of the scenes. Once a process. */
function getReady(): void {
  if (isReady) return
  Konva.Util.createCanvasElement = () => {
    const canvas = createCanvas(1, 1) as Canvas & { style?: object }
    canvas.style = {}
    return canvas as unknown as HTMLCanvasElement
  }
  if (!GlobalFonts.register(fs.readFileSync(requireHere.resolve(fontFile)), fontFamily)) {
    throw new Error(`the font ${fontFamily} could not be registered`)
  }
  isReady = true
}

/** RGBA, 4 bytes a pixel, rows from the top. */
export interface RgbaImage {
  readonly width: number
  readonly height: number
  readonly rgba: Uint8Array
}

export interface RenderOptions {
  /** Size the scene was built for, source pixels. */
  readonly frameSize: { readonly width: number; readonly height: number }
  /** Size of the result; the frame's own if not given. The scene is scaled to it. */
  readonly size?: { readonly width: number; readonly height: number }
  /** Painted beneath, stretched to the result; transparent without. */
  readonly background?: RgbaImage
}

/** A painted scene. The encoders work when called. */
export interface PaintedScene {
  readonly width: number
  readonly height: number
  rgba(): Uint8Array
  png(): Buffer
  /** Quality 0 to 100. */
  jpeg(quality?: number): Buffer
}

/** Paints scene nodes with Konva, without a window. The same nodes give the same pixels. */
export function renderScene(nodes: readonly SceneNode[], options: RenderOptions): PaintedScene {
  getReady()
  const { frameSize, background } = options
  const { width, height } = options.size ?? frameSize
  const target = createCanvas(width, height)
  const context = target.getContext('2d')
  if (background) context.drawImage(canvasOf(background), 0, 0, width, height)
  if (nodes.length > 0) {
    const layer = new Konva.Layer({
      listening: false,
      scaleX: width / frameSize.width,
      scaleY: height / frameSize.height,
    })
    for (const node of nodes) {
      layer.add(toKonva<Konva.Group | Konva.Shape>(Konva as unknown as KonvaClasses<Konva.Shape>, node))
    }
    const painted = layer.toCanvas({ x: 0, y: 0, width, height, pixelRatio: 1 })
    context.drawImage(painted as unknown as Canvas, 0, 0)
    layer.destroy()
  }
  return {
    width,
    height,
    rgba: () => new Uint8Array(context.getImageData(0, 0, width, height).data),
    png: () => target.toBuffer('image/png'),
    jpeg: (quality = 90) => target.toBuffer('image/jpeg', quality),
  }
}

function canvasOf({ width, height, rgba }: RgbaImage): Canvas {
  const canvas = createCanvas(width, height)
  canvas.getContext('2d').putImageData(new ImageData(new Uint8ClampedArray(rgba), width, height), 0, 0)
  return canvas
}
