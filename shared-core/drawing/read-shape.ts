import { z } from 'zod'
import { Problem } from '../problem.ts'
import type { UpgradeStep } from './shape-definition.ts'
import { isShapeKind, shapes, type Shape } from './shapes.ts'
import { said } from '../wording/phrase.ts'

const headSchema = z.looseObject({ kind: z.string(), version: z.number().int().positive() })

/**
 * A stored shape at its current version. The version number decides which steps are run, never the look of the
 * fields; fields this program does not know are carried along.
 * @throws Problem unknown-shape, newer-shape, damaged-shape
 */
export function readShape(stored: unknown): Shape {
  const head = headSchema.safeParse(stored)
  if (!head.success) throw new Problem('damaged-shape.noKind')
  const { kind, version } = head.data
  if (!isShapeKind(kind)) {
    throw new Problem('unknown-shape', { kind })
  }
  const definition = shapes[kind]
  if (version > definition.version) {
    throw new Problem('newer-shape', { shape: definition.name })
  }
  const current = upgradeThrough(definition, head.data)
  const read = definition.schema.safeParse(current)
  if (!read.success) {
    throw new Problem('damaged-shape.unreadable', { shape: definition.name, reason: firstIssue(read.error) })
  }
  return read.data as Shape
}

/** Runs the steps from the stored version up to the definition's own; each step's result gets the next number. */
export function upgradeThrough(
  definition: { readonly version: number; readonly upgrades: Readonly<Record<number, UpgradeStep>> },
  stored: Readonly<Record<string, unknown>> & { readonly version: number },
): Record<string, unknown> {
  let shape: Record<string, unknown> = { ...stored }
  for (let version = stored.version; version < definition.version; version++) {
    const step = definition.upgrades[version]
    if (step === undefined) throw new Error(`no upgrade step from version ${version}`)
    shape = { ...step(shape), version: version + 1 }
  }
  return shape
}

function firstIssue(error: z.ZodError): string {
  const issue = error.issues[0]
  return issue === undefined
    ? said('shape.unknownReason')
    : `${issue.path.join('.') || 'shape'}: ${issue.message}`
}
