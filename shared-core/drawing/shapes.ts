import { z } from 'zod'
import { angle } from './angle.ts'
import { arrow } from './arrow.ts'
import { box } from './box.ts'
import { circle } from './circle.ts'
import { cover } from './cover.ts'
import { curve } from './curve.ts'
import { freehand } from './freehand.ts'
import { level } from './level.ts'
import { line } from './line.ts'
import { plumb } from './plumb.ts'
import { ruler } from './ruler.ts'
import type { ShapeDefinition } from './shape-definition.ts'
import { text } from './text.ts'

/** All shapes, in the order of the tool bar. A new shape is a new file and a line here. */
export const shapes = { line, arrow, curve, angle, circle, box, freehand, text, plumb, level, ruler, cover }

/** Every kind of shape there is. */
export type ShapeKind = keyof typeof shapes

/** The kinds of shape there are, in the order of the tool bar. */
export const shapeKinds = Object.keys(shapes) as readonly ShapeKind[]

/** The shape of a kind. */
export type ShapeOf<K extends ShapeKind> = (typeof shapes)[K] extends ShapeDefinition<infer S> ? S : never

/** Any shape. */
export type Shape = { [K in ShapeKind]: ShapeOf<K> }[ShapeKind]

type ObjectSchemas = [z.ZodObject<{ kind: z.ZodLiteral<ShapeKind> }>]

/** A shape of the current version, told apart by `kind`; stored ones go through `readShape` first. */
export const shapeSchema = z.discriminatedUnion(
  'kind',
  Object.values(shapes).map((definition) => definition.schema) as unknown as ObjectSchemas,
) as unknown as z.ZodType<Shape>

/** Whether a stored kind is one that this program knows. */
export const isShapeKind = (kind: unknown): kind is ShapeKind =>
  typeof kind === 'string' && Object.hasOwn(shapes, kind)

/** What a shape's own file says about it. */
export const definitionOf = <S extends Shape>(shape: S): ShapeDefinition<S> =>
  shapes[shape.kind] as unknown as ShapeDefinition<S>
