import { drawingsOn, isCover, type Drawing } from '../drawing/drawing.ts'
import {
  plainPicture,
  type CoverArea,
  type PaintContext,
  type PictureContext,
} from '../drawing/shape-definition.ts'
import { definitionOf } from '../drawing/shapes.ts'
import { tones } from '../drawing/tones.ts'
import type { Box } from '../geometry/box.ts'
import { cuePins } from './cue-pin.ts'
import { group, rounded, type SceneNode } from './node.ts'
import { plateFill, plateText, textNode } from './plate.ts'
import type { SceneCue } from './scene-cue.ts'
import { wrapText } from './text-width.ts'

/** How a scene is looked at. */
export interface SceneOptions extends Partial<PictureContext> {
  /** Screen pixels per source pixel; only handles depend on it, they keep their size on the screen. Default 1. */
  readonly scale?: number
  /** The drawing whose handles are shown. */
  readonly selectedId?: string | null
  /** The handle of it that is in hand, painted so that it is told from the others. */
  readonly heldHandleId?: string | null
  /** Words along the lower edge. */
  readonly caption?: string
  /** Set when the picture beneath was blurred by `coverPixels`; otherwise covers are painted filled. Default false. */
  readonly areCoversBlurred?: boolean
  /** Size of the text beside shapes, source pixels. Default: by the frame's size (`textPxFor`). */
  readonly textPx?: number
  /** What no words may lie over, such as the player's head. */
  readonly keepClear?: readonly Box[]
}

/** What lies on one frame. */
export interface SceneInput {
  /** Size of the displayed picture (rotation applied), source pixels. */
  readonly frameSize: { readonly width: number; readonly height: number }
  readonly drawings: readonly Drawing[]
  readonly cues: readonly SceneCue[]
  /** The frame shown, index into the clip. */
  readonly frame: number
  readonly options?: SceneOptions
}

/** Text that reads well on a phone: a 36th of the picture's shorter side, at least 14 pixels. */
export const textPxFor = (frameSize: SceneInput['frameSize']): number =>
  Math.max(14, Math.round(Math.min(frameSize.width, frameSize.height) / 36))

/**
 * Everything painted over one frame, bottom first: covers, drawings by their order, cues, caption, handles. Plain data
 * in source pixels; the same input gives the same nodes on every machine.
 */
export function buildScene({ frameSize, drawings, cues, frame, options = {} }: SceneInput): SceneNode[] {
  const context: PaintContext = {
    tiltDeg: options.tiltDeg ?? plainPicture.tiltDeg,
    pixelsPerMeter: options.pixelsPerMeter ?? plainPicture.pixelsPerMeter,
    lengths: options.lengths ?? plainPicture.lengths,
    frameSize,
    textPx: options.textPx ?? textPxFor(frameSize),
    areCoversBlurred: options.areCoversBlurred ?? false,
    keepClear: options.keepClear ?? [],
  }
  const shown = drawingsOn(drawings, frame)
  const painted = [...shown.filter((d) => isCover(d.shape)), ...shown.filter((d) => !isCover(d.shape))].map(
    (drawing) => group(definitionOf(drawing.shape).paint(drawing.shape, context), drawing.id),
  )
  // A followed way is where the thing was: nothing of it can be dragged.
  const selected = shown.find(
    (drawing) => drawing.id === options.selectedId && drawing.tie?.to.kind !== 'way',
  )
  return [
    ...painted,
    ...cuePins(
      cues.filter((cue) => cue.frame === frame),
      context,
    ),
    ...(options.caption ? [captionBand(options.caption, context)] : []),
    ...(selected ? [handleMarks(selected, context, options.scale ?? 1, options.heldHandleId ?? null)] : []),
  ]
}

/** The areas of a frame whose pixels `coverPixels` blurs before the scene is painted over them. */
export const coverAreas = (drawings: readonly Drawing[], frame: number): CoverArea[] =>
  drawingsOn(drawings, frame).flatMap((drawing) => definitionOf(drawing.shape).hides?.(drawing.shape) ?? [])

function captionBand(caption: string, { frameSize, textPx }: PaintContext): SceneNode {
  const sizePx = textPx * 1.1
  const margin = sizePx * 0.8
  const lines = wrapText(caption, sizePx, frameSize.width - 2 * margin)
  const height = lines.length * sizePx * 1.2 + margin
  const top = frameSize.height - height
  return {
    className: 'Group',
    attrs: { name: 'caption' },
    children: [
      {
        className: 'Rect',
        attrs: {
          x: 0,
          y: rounded(top),
          width: frameSize.width,
          height: rounded(height),
          fill: plateFill,
          opacity: 0.82,
        },
      },
      ...lines.map((line, i) =>
        textNode(line, { x: margin, y: top + margin / 2 + i * sizePx * 1.2 }, sizePx, plateText),
      ),
    ],
  }
}

function handleMarks(
  drawing: Drawing,
  context: PaintContext,
  scale: number,
  heldId: string | null,
): SceneNode {
  return {
    className: 'Group',
    attrs: { name: 'handles' },
    children: definitionOf(drawing.shape)
      .handles(drawing.shape, context)
      .map(({ id, at }) => ({
        className: 'Circle' as const,
        id: `${drawing.id}/${id}`,
        attrs: {
          x: rounded(at.x),
          y: rounded(at.y),
          radius: (id === heldId ? 9 : 7) / scale,
          fill: id === heldId ? tones.apricot.hex : plateText,
          stroke: plateFill,
          strokeWidth: 2.5 / scale,
        },
      })),
  }
}
