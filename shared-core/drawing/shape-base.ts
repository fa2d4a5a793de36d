import { z } from 'zod'
import { toneNames } from './tones.ts'

/** What every shape carries beside its own points. Unknown fields of a newer program are kept (loose objects). */
export const styleSchema = z.looseObject({
  tone: z.enum(toneNames),
  /** Width of the stroke in source pixels. */
  widthPx: z.number().min(0.5).max(200),
  isDashed: z.boolean(),
})
export type Style = Known<z.infer<typeof styleSchema>>

/** The look of a shape that nobody has chosen one for. */
export const defaultStyle: Style = { tone: 'chalk', widthPx: 4, isDashed: false }

/** The coach's own words beside the shape; empty for none. */
export const labelSchema = z.string().max(200)

/**
 * Schema of one shape: its kind, its current version, the style, the label, and its own fields. Lengths are source
 * pixels; what can be computed (degrees, metres) is never stored.
 */
export const shapeSchemaOf = <K extends string, V extends number, F extends z.ZodRawShape>(
  kind: K,
  version: V,
  fields: F,
) =>
  z.looseObject({
    kind: z.literal(kind),
    version: z.literal(version),
    style: styleSchema,
    label: labelSchema,
    ...fields,
  })

/** A loose object's type without its catch-all key, read-only all the way down. */
export type Known<T> = T extends readonly unknown[]
  ? readonly Known<T[number]>[]
  : T extends object
    ? { readonly [K in keyof T as string extends K ? never : K]: Known<T[K]> }
    : T

/** What every shape has. */
export interface ShapeBase {
  readonly kind: string
  readonly version: number
  readonly style: Style
  readonly label: string
}
