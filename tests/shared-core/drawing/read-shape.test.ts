import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { drawingSchema, drawingsOn, onMoments, readDrawings } from '../../../shared-core/drawing/drawing.ts'
import { readShape, upgradeThrough } from '../../../shared-core/drawing/read-shape.ts'
import { defaultStyle } from '../../../shared-core/drawing/shape-base.ts'
import { shapes } from '../../../shared-core/drawing/shapes.ts'
import { Problem } from '../../../shared-core/problem.ts'
import { anyShape } from './any-shape.ts'

const codeOf = (stored: unknown): string => {
  try {
    readShape(stored)
  } catch (problem) {
    if (problem instanceof Problem) return problem.code
    throw problem
  }
  return 'read'
}
const line = shapes.line.create(
  [
    { x: 1, y: 2 },
    { x: 3, y: 4 },
  ],
  defaultStyle,
)

describe('a stored shape', () => {
  it('comes back as it was', () => {
    fc.assert(
      fc.property(anyShape, (shape) => {
        const stored: unknown = JSON.parse(JSON.stringify(shape))
        expect(readShape(stored)).toEqual(stored)
      }),
    )
  })

  it('keeps fields this program does not know, also inside its style, through every change', () => {
    const stored = { ...line, style: { ...line.style, glow: 3 }, curl: 'left' }
    const read = readShape(stored)
    expect(read).toEqual(stored)
    expect(
      shapes.line.moveHandle(
        read as typeof line,
        'to',
        { x: 9, y: 9 },
        { tiltDeg: 0, pixelsPerMeter: null, lengths: 'metric' },
      ),
    ).toMatchObject({ curl: 'left', style: { glow: 3 }, to: { x: 9, y: 9 } })
  })

  it('of a newer version, an unknown kind or with damaged fields is refused by name', () => {
    expect(codeOf({ ...line, version: 99 })).toBe('newer-shape')
    expect(codeOf({ ...line, kind: 'spiral' })).toBe('unknown-shape')
    expect(codeOf({ ...line, kind: 'toString' })).toBe('unknown-shape')
    expect(codeOf({ ...line, from: { x: 'one', y: 2 } })).toBe('damaged-shape')
    expect(codeOf({ kind: 'line' })).toBe('damaged-shape')
    expect(codeOf(null)).toBe('damaged-shape')
  })

  it('does not hide the others when it cannot be read', () => {
    const record = {
      id: 'a',
      viewId: 'v',
      momentId: null,
      fromFrame: 0,
      toFrame: 4,
      order: 0,
      isHidden: false,
    }
    const { drawings, unreadable } = readDrawings([
      { ...record, shape: line },
      { ...record, id: 'b', shape: { ...line, version: 7 } },
    ])
    expect(drawings.map((drawing) => drawing.id)).toEqual(['a'])
    expect(unreadable.map(({ id, problem }) => [id, problem.code])).toEqual([['b', 'newer-shape']])
    expect(drawingSchema.parse(drawings[0])).toEqual(drawings[0])
  })
})

describe('an old version', () => {
  const definition = {
    version: 3,
    upgrades: {
      1: ({ widthInches, ...rest }: Readonly<Record<string, unknown>>) => ({
        ...rest,
        widthMm: Number(widthInches) * 25.4,
      }),
      2: (old: Readonly<Record<string, unknown>>) => ({ ...old, isDashed: old.isDashed ?? false }),
    },
  }

  it('goes through every step in order, by its number', () => {
    expect(upgradeThrough(definition, { version: 1, widthInches: 2, note: 'kept' })).toEqual({
      version: 3,
      widthMm: 50.8,
      note: 'kept',
      isDashed: false,
    })
  })

  it('is not probed: fields that look old are left alone from a later version', () => {
    expect(upgradeThrough(definition, { version: 2, widthInches: 2, isDashed: true })).toEqual({
      version: 3,
      widthInches: 2,
      isDashed: true,
    })
  })

  it('that has no step fails loudly, and every shape has a step for each version before its own', () => {
    expect(() => upgradeThrough({ version: 2, upgrades: {} }, { version: 1 })).toThrow(/no upgrade step/)
    for (const shape of Object.values(shapes)) {
      for (let version = 1; version < shape.version; version++) {
        expect(shape.upgrades).toHaveProperty([version])
      }
    }
  })
})

describe('drawings on a frame', () => {
  const on = (id: string, fromFrame: number, toFrame: number, order: number, isHidden = false) => ({
    id,
    viewId: 'v',
    momentId: null as string | null,
    fromFrame,
    toFrame,
    order,
    isHidden,
    shape: line,
  })

  it('are those whose range holds it, not hidden, lowest order first', () => {
    const all = [on('late', 3, 9, 5), on('early', 0, 3, 9), on('hidden', 0, 9, 1, true), on('low', 3, 3, 2)]
    expect(drawingsOn(all, 3).map((drawing) => drawing.id)).toEqual(['low', 'late', 'early'])
    expect(drawingsOn(all, 4).map((drawing) => drawing.id)).toEqual(['late'])
  })

  it('follow their moment when it moves', () => {
    const [placed, free] = onMoments(
      [{ ...on('a', 7, 7, 0), momentId: 'impact' }, on('b', 2, 5, 1)],
      [{ id: 'impact', frame: 12 }],
    )
    expect([placed!.fromFrame, placed!.toFrame]).toEqual([12, 12])
    expect([free!.fromFrame, free!.toFrame]).toEqual([2, 5])
  })
})
