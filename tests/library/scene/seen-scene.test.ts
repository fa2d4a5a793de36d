import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { seenScene } from '../../../electron/library/hand-over/seen-scene.ts'
import { shapes } from '../../../shared-core/drawing/shapes.ts'
import { doOverlap, type Box } from '../../../shared-core/geometry/box.ts'
import type { SceneNode } from '../../../shared-core/scene/node.ts'
import { buildScene } from '../../../shared-core/scene/scene.ts'
import { drawingOf } from './every-shape.ts'

const frameSize = { width: 1080, height: 1080 }
const head: Box = { x: 300, y: 240, width: 120, height: 120 }

const platesOf = (nodes: readonly SceneNode[]): Box[] =>
  nodes.flatMap((node) =>
    node.attrs.name === 'plate'
      ? [node.children![0]!.attrs as unknown as Box]
      : platesOf(node.children ?? []),
  )

/** Where the words of a line beside the head come to lie. */
const wordsAt = (middle: { x: number; y: number }, isMirrored: boolean, headOn: () => Box | null): Box => {
  const shape = {
    ...shapes.line.create(
      [
        { x: middle.x - 40, y: middle.y },
        { x: middle.x + 40, y: middle.y },
      ],
      { tone: 'apricot', widthPx: 4, isDashed: false },
    ),
    label: 'lead hip',
  }
  const { drawings, cues, frame, options } = seenScene(
    { width: frameSize.width, isMirrored, sceneOptions: {}, headOn },
    { drawings: [drawingOf(shape, 'hip')], cues: [], frame: 5 },
  )
  const [plate, ...more] = platesOf(buildScene({ frameSize, drawings, cues, frame, options }))
  expect(more).toEqual([])
  return plate!
}
const mirrored = (box: Box): Box => ({ ...box, x: frameSize.width - box.x - box.width })

describe('what is handed over of a frame', () => {
  it.each([false, true])(
    'has no words over the player’s head where it was read (mirrored: %s)',
    (isMirrored) => {
      const seenHead = isMirrored ? mirrored(head) : head
      let wouldCover = 0
      fc.assert(
        fc.property(fc.integer({ min: 180, max: 560 }), fc.integer({ min: 160, max: 460 }), (x, y) => {
          const plain = wordsAt({ x, y }, isMirrored, () => null)
          const beside = wordsAt({ x, y }, isMirrored, () => head)
          expect(doOverlap(beside, seenHead)).toBe(false)
          if (doOverlap(plain, seenHead)) wouldCover += 1
          else expect(Math.abs(beside.x - plain.x)).toBeLessThan(1)
        }),
        { seed: 20261128, numRuns: 200 },
      )
      expect(wouldCover).toBeGreaterThan(20)
    },
  )
})
