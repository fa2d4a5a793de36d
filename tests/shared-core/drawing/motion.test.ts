import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { PartTrack } from '../../../shared-core/body/body-part.ts'
import {
  drawingsOn,
  isCovered,
  mappedDrawing,
  withMotion,
  type Drawing,
} from '../../../shared-core/drawing/drawing.ts'
import type { Motions } from '../../../shared-core/drawing/motion.ts'
import { shapes, type Shape } from '../../../shared-core/drawing/shapes.ts'
import { trackOf } from '../../../shared-core/following/followed-track.ts'
import { isInside } from '../../../shared-core/geometry/box.ts'
import type { Point } from '../../../shared-core/geometry/point.ts'
import { mirrorAt } from '../../../shared-core/geometry/similarity.ts'
import type { Tie } from '../../../shared-core/model/tie.ts'
import { coverAreas } from '../../../shared-core/scene/scene.ts'

const style = { tone: 'apricot', widthPx: 4, isDashed: false } as const
const drawn = (shape: Shape, tie: Tie | null): Drawing => ({
  id: 'd',
  viewId: 'v',
  momentId: null,
  fromFrame: 0,
  toFrame: 1000,
  shape,
  order: 1,
  isHidden: false,
  tie,
})
const motions = (part: PartTrack | null, captureRate = 240): Motions => ({
  captureRate,
  followed: () => null,
  part: () => part,
})
const head = (places: readonly (Point & { frame: number })[]): PartTrack => ({
  frames: Int32Array.from(places.map((p) => p.frame)),
  ends: places.map(({ x, y }) => [{ x, y }] as const),
})
const onHead = (frame: number): Tie => ({ frame, to: { kind: 'body', part: 'head' } })
const coverAt = ({ x, y }: Point, half: number) =>
  shapes.cover.create(
    [
      { x: x - half, y: y - half },
      { x: x + half, y: y + half },
    ],
    style,
  )

describe('a cover tied to the head', () => {
  const path = fc
    .array(
      fc.record({
        gap: fc.integer({ min: 1, max: 90 }),
        dx: fc.integer({ min: -40, max: 40 }),
        dy: fc.integer({ min: -40, max: 40 }),
      }),
      { minLength: 1, maxLength: 12 },
    )
    .map((steps) => {
      let at = { frame: 5, x: 300, y: 200 }
      return steps.map(({ gap, dx, dy }) => (at = { frame: at.frame + gap, x: at.x + dx, y: at.y + dy }))
    })

  it('hides the head on every frame, whether the body was read there or not, and never shows nothing', () => {
    fc.assert(
      fc.property(path, fc.nat(11), (places, pick) => {
        const at = places[pick % places.length]!
        const half = 20
        const [cover] = withMotion([drawn(coverAt(at, half), onHead(at.frame))], motions(head(places)))
        const shown: number[] = []
        for (let frame = 0; frame <= places.at(-1)!.frame + 20; frame++) {
          const [area] = coverAreas([cover!], frame)
          const before = places.filter((p) => p.frame <= frame).at(-1)
          const after = places.find((p) => p.frame >= frame)
          // The head was somewhere between the two found places.
          const corners = [before, after].flatMap((p) =>
            p ? [-half, half].map((by) => ({ x: p.x + by, y: p.y + by })) : [],
          )
          if (!area || !isCovered([cover!], frame) || !corners.every((p) => isInside(area, p))) {
            shown.push(frame)
          }
        }
        expect(shown).toEqual([])
      }),
      { numRuns: 60 },
    )
  })

  it('holds every place that was found where nothing near in time was', () => {
    const places = [10, 20, 400].map((frame) => ({ frame, x: 100 + frame, y: 50 }))
    const [cover] = withMotion([drawn(coverAt(places[0]!, 10), onHead(10))], motions(head(places)))
    for (const frame of [0, 200, 900]) {
      const [area] = coverAreas([cover!], frame)
      expect(area).toMatchObject({ outline: 'box' })
      for (const { x, y } of places) expect(isInside(area!, { x, y })).toBe(true)
    }
  })

  it('stays where it was put as long as no body was read', () => {
    const shape = coverAt({ x: 50, y: 50 }, 10)
    const [cover] = withMotion([drawn(shape, onHead(3))], motions(null))
    expect(drawingsOn([cover!], 77)[0]!.shape).toEqual(shape)
  })
})

describe('a drawing that is tied', () => {
  it('turns and stretches with the two ends of a line of the body, its stroke as wide as before', () => {
    const arm: PartTrack = {
      frames: Int32Array.from([0, 10]),
      ends: [
        [
          { x: 0, y: 0 },
          { x: 100, y: 0 },
        ],
        [
          { x: 50, y: 50 },
          { x: 50, y: 250 },
        ],
      ],
    }
    const line = shapes.line.create([...arm.ends[0]!], style)
    const [tied] = withMotion(
      [drawn(line, { frame: 0, to: { kind: 'body', part: 'lead arm' } })],
      motions(arm),
    )
    const [later] = drawingsOn([tied!], 10)
    const shape = later!.shape as typeof line
    expect(shape.from.x).toBeCloseTo(50)
    expect(shape.from.y).toBeCloseTo(50)
    expect(shape.to.x).toBeCloseTo(50)
    expect(shape.to.y).toBeCloseTo(250)
    expect(shape.style).toEqual(style)
  })

  it('is where it was drawn on its own frame, half way in between, and nowhere where its point was not found', () => {
    const track = trackOf([4, 6, 7].map((frame) => ({ frame, x: frame * 10, y: 5, errorPx: 1 })))
    const circle = shapes.circle.create(
      [
        { x: 60, y: 5 },
        { x: 65, y: 5 },
      ],
      style,
    )
    const [tied] = withMotion([drawn(circle, { frame: 6, to: { kind: 'followed', id: 'p' } })], {
      captureRate: 240,
      followed: () => track,
      part: () => null,
    })
    const centreOn = (frame: number) =>
      drawingsOn([tied!], frame).map((d) => (d.shape as typeof circle).centre.x)
    expect(centreOn(6)).toEqual([60])
    expect(centreOn(5)).toEqual([50])
    expect(centreOn(3)).toEqual([])
    expect(centreOn(8)).toEqual([])
    // Mirrored, it moves the other way.
    const mirrored = mappedDrawing(tied!, mirrorAt(100))
    expect(drawingsOn([mirrored], 7).map((d) => (d.shape as typeof circle).centre.x)).toEqual([130])
  })
})
