import type { z } from 'zod'
import type { Box } from '../geometry/box.ts'
import type { Point } from '../geometry/point.ts'
import type { Similarity } from '../geometry/similarity.ts'
import type { SceneNode } from '../scene/node.ts'
import type { Measure } from './measure.ts'
import type { ShapeBase, Style } from './shape-base.ts'

/** What a shape has to know about the picture it lies on. */
export interface PictureContext {
  /** Roll of the camera, degrees, + clockwise; 0 if the coach has not set it. */
  readonly tiltDeg: number
  /** Source pixels per metre in the plane of the player; null without a scale. */
  readonly pixelsPerMeter: number | null
  /** How lengths are written. */
  readonly lengths: 'metric' | 'imperial'
}

/** A picture of which nothing is known: upright, no scale, metric. */
export const plainPicture: PictureContext = { tiltDeg: 0, pixelsPerMeter: null, lengths: 'metric' }

/** What a shape has to know to be painted. */
export interface PaintContext extends PictureContext {
  readonly frameSize: { readonly width: number; readonly height: number }
  /** Size of the text beside shapes, source pixels. */
  readonly textPx: number
  /** The picture beneath is blurred where covers say so; if not, they are painted filled. */
  readonly areCoversBlurred: boolean
  /** What no words may lie over, such as the player's head; empty where nothing is known. */
  readonly keepClear: readonly Box[]
}

/** A point that can be dragged. `id` is stable while dragging. */
export interface Handle {
  readonly id: string
  readonly at: Point
  /** For screen readers and the help line: what this point is. */
  readonly label: string
}

/** How a shape comes onto the picture. */
export type Placing =
  /** Press, drag, let go: two points. */
  | { readonly by: 'drag' }
  /** One click a point; `min` are needed, `max` ends it (null: the coach ends it). */
  | { readonly by: 'clicks'; readonly min: number; readonly max: number | null }
  /** Press, draw, let go: all points on the way. */
  | { readonly by: 'stroke' }

/**
 * Everything about one kind of shape. Code outside a shape's own file never asks for its kind: it looks the
 * definition up in `shapes.ts` and lets it answer.
 */
export interface ShapeDefinition<S extends ShapeBase> {
  readonly kind: S['kind']
  /** The word in the interface. */
  readonly name: string
  readonly version: number
  readonly schema: z.ZodType<S>
  /** Step from the version that is the key to the next one. */
  readonly upgrades: Readonly<Record<number, UpgradeStep>>
  readonly placing: Placing
  /** A new shape from placed points, as many as `placing` says. */
  create(points: readonly Point[], style: Style): S
  handles(shape: S, picture: PictureContext): readonly Handle[]
  /** The shape after the handle was dragged to `to`; the same shape for an unknown handle. */
  moveHandle(shape: S, handleId: string, to: Point, picture: PictureContext): S
  bounds(shape: S, picture: PictureContext): Box
  /** Distance in source pixels from a point to what is painted; 0 on it. */
  distance(shape: S, p: Point, picture: PictureContext): number
  /** Moved, mirrored, turned, scaled. Stroke and text sizes go with the scale. */
  transform(shape: S, map: Similarity): S
  /** Null if there is nothing to measure. */
  measure(shape: S, picture: PictureContext): Measure | null
  paint(shape: S, context: PaintContext): readonly SceneNode[]
  /** Only for shapes that hide a part of the picture: they lie beneath all others. Null if nothing is to be blurred. */
  hides?(shape: S): CoverArea | null
  /** Only for those: the same over another place. What is wider than one place (`isOne` false) is hidden to its corners. */
  over?(shape: S, box: Box, isOne: boolean): S
}

/** A part of the picture to be blurred beyond recognition. */
export interface CoverArea extends Box {
  readonly outline: 'box' | 'oval'
}

/** Brings a shape that was stored in an earlier form to the next one. */
export type UpgradeStep = (old: Readonly<Record<string, unknown>>) => Record<string, unknown>
