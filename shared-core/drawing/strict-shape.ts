import { z } from 'zod'
import { readShape } from './read-shape.ts'
import { definitionOf, type Shape } from './shapes.ts'
import { said } from '../wording/phrase.ts'

/** Keys that the schema of an object names; null for anything else. */
const keysOf = (schema: unknown): Record<string, unknown> | null =>
  schema instanceof z.ZodObject ? (schema.shape as Record<string, unknown>) : null

const unknownKey = (value: object, schema: unknown): string | null => {
  const known = keysOf(schema)
  if (known === null) return null
  for (const [key, inner] of Object.entries(value)) {
    if (!Object.hasOwn(known, key)) return key
    const deeper =
      typeof inner === 'object' && inner !== null ? unknownKey(inner as object, known[key]) : null
    if (deeper !== null) return `${key}.${deeper}`
  }
  return null
}

/**
 * A shape from outside: at its current version, and without any field that this program does not know. For a zod transform:
 * what is wrong becomes an issue.
 */
export const strictShape = (stored: unknown, context: z.core.$RefinementCtx<unknown>): Shape => {
  const refuse = (message: string) => {
    context.issues.push({ code: 'custom', message, input: stored })
    return z.NEVER
  }
  try {
    const shape = readShape(stored)
    const key = unknownKey(shape, definitionOf(shape).schema)
    return key === null ? shape : refuse(said('shape.unknownField', { field: key.slice(0, 40) }))
  } catch (error) {
    return refuse((error as Error).message)
  }
}
