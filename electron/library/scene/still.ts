import type { Drawing } from '../../../shared-core/drawing/drawing.ts'
import { coverPixels } from '../../../shared-core/scene/cover-pixels.ts'
import { buildScene, coverAreas, type SceneOptions } from '../../../shared-core/scene/scene.ts'
import type { SceneCue } from '../../../shared-core/scene/scene-cue.ts'
import type { RunOptions } from '../media/run-ffmpeg.ts'
import { framePicture, type FrameFacts } from './frame-picture.ts'
import { renderScene, type PaintedScene, type RgbaImage } from './raster.ts'

export interface SceneOfFrame {
  readonly drawings: readonly Drawing[]
  readonly cues: readonly SceneCue[]
  readonly frame: number
  readonly options?: Omit<SceneOptions, 'areCoversBlurred' | 'selectedId' | 'scale'>
}

/** One frame of a clip with its scene burned in, not taller or wider than `longestPx` if that is given. */
export async function stillOf(
  still: SceneOfFrame & { readonly file: string; readonly facts: FrameFacts; readonly longestPx?: number },
  options: RunOptions,
): Promise<PaintedScene> {
  const picture = await framePicture(still.file, still.frame, still.facts, options)
  return paintedFrame(picture, still, still.longestPx)
}

/**
 * The scene over a frame whose pixels are at hand: covers are blurred in a copy of the pixels first.
 * `frame` picks the drawings and cues.
 */
export function paintedFrame(picture: RgbaImage, scene: SceneOfFrame, longestPx = Infinity): PaintedScene {
  const { width, height } = picture
  const rgba = Uint8Array.from(picture.rgba)
  coverPixels(rgba, width, height, coverAreas(scene.drawings, scene.frame))
  const nodes = buildScene({
    frameSize: { width, height },
    drawings: scene.drawings,
    cues: scene.cues,
    frame: scene.frame,
    options: { ...scene.options, areCoversBlurred: true },
  })
  const scale = Math.min(1, longestPx / Math.max(width, height))
  return renderScene(nodes, {
    frameSize: { width, height },
    size: { width: Math.round(width * scale), height: Math.round(height * scale) },
    background: { width, height, rgba },
  })
}

/**
 * The scene alone on nothing, to lay over a video. Covers are painted filled unless `areCoversBlurred` says that the
 * video itself is blurred there (cover-filter.ts).
 */
export const overlayOf = (
  frameSize: { readonly width: number; readonly height: number },
  scene: SceneOfFrame & { readonly areCoversBlurred?: boolean },
  size: { readonly width: number; readonly height: number } = frameSize,
): PaintedScene =>
  renderScene(
    buildScene({
      frameSize,
      drawings: scene.drawings,
      cues: scene.cues,
      frame: scene.frame,
      options: { ...scene.options, areCoversBlurred: scene.areCoversBlurred ?? false },
    }),
    { frameSize, size },
  )
