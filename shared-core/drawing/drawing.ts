import { z } from 'zod'
import { idSchema } from '../model/entities.ts'
import { Problem } from '../problem.ts'
import type { Tie } from '../model/tie.ts'
import { tieSchema } from '../model/tie.ts'
import type { Similarity } from '../geometry/similarity.ts'
import { motionOf, type Motion, type Motions } from './motion.ts'
import { readShape } from './read-shape.ts'
import { definitionOf, isShapeKind, shapes, shapeSchema, type Shape } from './shapes.ts'

/** A shape on a range of frames of a view (ends included), or on a moment. Higher `order` is painted later. */
export const drawingSchema = z.looseObject({
  id: idSchema,
  viewId: idSchema,
  momentId: idSchema.nullable(),
  fromFrame: z.number().int().nonnegative(),
  toFrame: z.number().int().nonnegative(),
  shape: shapeSchema,
  order: z.number().finite(),
  isHidden: z.boolean(),
  tie: tieSchema.nullish(),
})

/** A drawing as it is painted: a shape on a range of frames. */
export interface Drawing {
  readonly id: string
  readonly viewId: string
  readonly momentId: string | null
  readonly fromFrame: number
  readonly toFrame: number
  readonly shape: Shape
  readonly order: number
  readonly isHidden: boolean
  /** What it moves with; null or missing for a drawing that stays. */
  readonly tie?: Tie | null
  /** How it moves, made of `tie` by `withMotion`; without it the drawing stays where its shape lies. */
  readonly motion?: Motion | null
}

/** A record as it is stored: its shape may be older, newer or damaged. */
export type StoredDrawing = Omit<Drawing, 'shape'> & { readonly shape: unknown }

/**
 * Stored drawings with their shapes at the current version. What cannot be read is named, with the reason, and left
 * as it is in the store: a newer Leadside may have written it.
 */
export function readDrawings<D extends StoredDrawing>(
  stored: readonly D[],
): { drawings: (Omit<D, 'shape'> & { shape: Shape })[]; unreadable: { id: string; problem: Problem }[] } {
  const drawings: (Omit<D, 'shape'> & { shape: Shape })[] = []
  const unreadable: { id: string; problem: Problem }[] = []
  for (const drawing of stored) {
    try {
      drawings.push({ ...drawing, shape: readShape(drawing.shape) })
    } catch (problem) {
      if (!(problem instanceof Problem)) throw problem
      unreadable.push({ id: drawing.id, problem })
    }
  }
  return { drawings, unreadable }
}

/** Drawings on a frame as they lie there, in the order they are painted. */
export const drawingsOn = <
  D extends Pick<Drawing, 'fromFrame' | 'toFrame' | 'isHidden' | 'order' | 'shape' | 'motion'>,
>(
  drawings: readonly D[],
  frame: number,
): D[] =>
  drawings
    .filter((drawing) => !drawing.isHidden && drawing.fromFrame <= frame && frame <= drawing.toFrame)
    .sort((a, b) => a.order - b.order)
    .flatMap((drawing) =>
      drawing.motion ? drawing.motion(frame).map((shape) => ({ ...drawing, shape })) : [drawing],
    )

/** The drawings with what moves them. */
export const withMotion = <D extends Pick<Drawing, 'shape' | 'tie'>>(
  drawings: readonly D[],
  motions: Motions,
): (D & { motion: Motion | null })[] =>
  drawings.map((drawing) => ({
    ...drawing,
    motion: drawing.tie ? motionOf(drawing.shape, drawing.tie, motions) : null,
  }))

/** The drawing mirrored, turned or scaled by a map, on every frame. */
export const mappedDrawing = <D extends Pick<Drawing, 'shape' | 'motion'>>(
  drawing: D,
  map: Similarity,
): D => {
  const mapped = (shape: Shape): Shape => definitionOf(shape).transform(shape, map)
  const { motion } = drawing
  return {
    ...drawing,
    shape: mapped(drawing.shape),
    ...(motion ? { motion: (frame: number) => motion(frame).map(mapped) } : {}),
  }
}

/**
 * Drawings that belong to a moment stand on that moment's frame, wherever it is now; the others keep their range.
 * A drawing whose moment is gone keeps its range too.
 */
export function onMoments<D extends Pick<Drawing, 'momentId' | 'fromFrame' | 'toFrame'>>(
  drawings: readonly D[],
  moments: readonly { readonly id: string; readonly frame: number }[],
): D[] {
  const frames = new Map(moments.map((moment) => [moment.id, moment.frame]))
  return drawings.map((drawing) => {
    const frame = drawing.momentId === null ? undefined : frames.get(drawing.momentId)
    return frame === undefined ? drawing : { ...drawing, fromFrame: frame, toFrame: frame }
  })
}

/** Does a shape hide a part of the picture? By its kind, so that shapes of any version can be asked. */
export const isCover = ({ kind }: { readonly kind: string }): boolean =>
  isShapeKind(kind) && shapes[kind].hides !== undefined

/**
 * Where a new drawing stands. A face has to be hidden on every frame, not only on the one it was seen on: a cover that
 * is put on one frame holds for the whole clip. Narrowing it is a step of its own.
 */
export function rangeOfNew(
  drawn: Pick<StoredDrawing, 'momentId' | 'fromFrame' | 'toFrame'> & { readonly shape: { kind: string } },
  frameCount: number,
): Pick<StoredDrawing, 'momentId' | 'fromFrame' | 'toFrame'> {
  const { momentId, fromFrame, toFrame } = drawn
  return isCover(drawn.shape) && fromFrame === toFrame
    ? { momentId: null, fromFrame: 0, toFrame: frameCount - 1 }
    : { momentId, fromFrame, toFrame }
}

/** Is anything covered on a frame? */
export const isCovered = (drawings: readonly Drawing[], frame: number): boolean =>
  drawingsOn(drawings, frame).some(({ shape }) => definitionOf(shape).hides !== undefined)
