import { z } from 'zod'
import { bodyParts } from '../body/body-part.ts'

const idSchema = z.string().min(1).max(64)

/**
 * What a drawing moves with: a followed point, or a part of the body. `frame` is the frame on which its shape lies as it is
 * stored; on every other frame it lies as far from there as what it is tied to has moved. `way`: the drawing is the way that a
 * followed point has gone up to the frame shown.
 */
export const tieSchema = z.object({
  frame: z.number().int().nonnegative(),
  to: z.discriminatedUnion('kind', [
    z.object({ kind: z.literal('followed'), id: idSchema }),
    z.object({ kind: z.literal('way'), id: idSchema }),
    z.object({ kind: z.literal('body'), part: z.enum(bodyParts) }),
  ]),
})
export type Tie = z.infer<typeof tieSchema>
