import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  angleAt,
  angleErrorAt,
  degrees,
  directionOf,
  wrapDegrees,
} from '../../../shared-core/geometry/angle.ts'
import { boxAround, distanceToBox, isInside } from '../../../shared-core/geometry/box.ts'
import { curveThrough, pointOn, sampleCurve } from '../../../shared-core/geometry/curve.ts'
import { distance, type Point } from '../../../shared-core/geometry/point.ts'
import { distanceToChain, distanceToSegment } from '../../../shared-core/geometry/segment.ts'
import {
  applyTo,
  chain,
  factorOf,
  mirrorAt,
  scaleAbout,
  shift,
  turnAbout,
  type Similarity,
} from '../../../shared-core/geometry/similarity.ts'
import { simplify } from '../../../shared-core/geometry/simplify.ts'

const lengthOf = (a: Point): number => Math.hypot(a.x, a.y)

/** Sixty-fourths of a pixel, finer than any pointer. */
const coordinate = fc.integer({ min: -4000 * 64, max: 4000 * 64 }).map((n) => n / 64)
const point: fc.Arbitrary<Point> = fc.record({ x: coordinate, y: coordinate })
const turn = fc.double({ min: -720, max: 720, noNaN: true }).map(degrees)
const map: fc.Arbitrary<Similarity> = fc.oneof(
  fc.tuple(coordinate, coordinate).map(([dx, dy]) => shift(dx, dy)),
  coordinate.map(mirrorAt),
  fc
    .tuple(point, fc.double({ min: 0.1, max: 8, noNaN: true }))
    .map(([about, factor]) => scaleAbout(about, factor)),
  fc.tuple(point, turn).map(([about, angle]) => turnAbout(about, angle)),
)

describe('angle at a vertex', () => {
  it('has the closed-form values of regular figures', () => {
    // Euclid, Elements I.32 and after: 60° in the equilateral triangle, 90° in the square, 108° in the regular pentagon.
    const corner = (sides: number, i: number) => ({
      x: 300 * Math.cos((2 * Math.PI * i) / sides),
      y: 300 * Math.sin((2 * Math.PI * i) / sides),
    })
    for (const [sides, inner] of [
      [3, 60],
      [4, 90],
      [5, 108],
    ] as const) {
      expect(angleAt(corner(sides, 1), corner(sides, 0), corner(sides, 2))).toBeCloseTo(inner, 10)
    }
    // The 3-4-5 triangle: atan(3/4).
    expect(angleAt({ x: 0, y: 0 }, { x: 4, y: 0 }, { x: 4, y: 3 })).toBeCloseTo(36.86989764584402, 12)
    expect(angleAt({ x: 0, y: 0 }, { x: 1, y: 0 }, { x: -5, y: 0 })).toBe(180)
  })

  it('does not change when the picture is moved, mirrored, turned or scaled', () => {
    fc.assert(
      fc.property(point, point, point, map, (vertex, first, second, similarity) => {
        fc.pre(distance(vertex, first) > 1 && distance(vertex, second) > 1)
        const moved = [vertex, first, second].map((p) => applyTo(similarity, p)) as [Point, Point, Point]
        expect(angleAt(...moved)).toBeCloseTo(angleAt(vertex, first, second), 5)
      }),
    )
  })

  it('gives the same when the legs are exchanged, and stays within 0 and 180', () => {
    fc.assert(
      fc.property(point, point, point, (vertex, first, second) => {
        const angle = angleAt(vertex, first, second)
        expect(angle).toBe(angleAt(vertex, second, first))
        expect(angle).toBeGreaterThanOrEqual(0)
        expect(angle).toBeLessThanOrEqual(180)
      }),
    )
  })

  it('has the error that small displacements of the three points give', () => {
    // Propagation of errors checked against central differences over all six coordinates.
    const points: [Point, Point, Point] = [
      { x: 400, y: 300 },
      { x: 520, y: 180 },
      { x: 460, y: 420 },
    ]
    const step = 1e-4
    let variance = 0
    for (let i = 0; i < 3; i++) {
      for (const axis of ['x', 'y'] as const) {
        const moved = (by: number) =>
          angleAt(...(points.map((p, j) => (i === j ? { ...p, [axis]: p[axis] + by } : p)) as typeof points))
        variance += ((moved(step) - moved(-step)) / (2 * step)) ** 2
      }
    }
    expect(angleErrorAt(...points, 1)).toBeCloseTo(Math.sqrt(variance), 6)
    expect(angleErrorAt(points[0], points[0], points[1], 1)).toBe(180)
  })
})

describe('directions', () => {
  it('run clockwise on the screen from the right, and wrap into -180 to 180', () => {
    expect(directionOf({ x: 0, y: 0 }, { x: 0, y: 5 })).toBeCloseTo(Math.PI / 2, 15)
    expect(wrapDegrees(degrees(270))).toBe(-90)
    expect(wrapDegrees(degrees(-180))).toBe(180)
    expect(wrapDegrees(degrees(725))).toBeCloseTo(5, 12)
  })
})

describe('similarities', () => {
  it('scale every distance by the same factor', () => {
    fc.assert(
      fc.property(point, point, map, map, (a, b, one, two) => {
        const both = chain(one, two)
        expect(distance(applyTo(both, a), applyTo(both, b))).toBeCloseTo(distance(a, b) * factorOf(both), 4)
      }),
    )
  })

  it('chain as one after the other', () => {
    fc.assert(
      fc.property(point, map, map, (p, one, two) => {
        const stepwise = applyTo(two, applyTo(one, p))
        const atOnce = applyTo(chain(one, two), p)
        expect(distance(stepwise, atOnce)).toBeLessThan(1e-6)
      }),
    )
  })

  it('mirror twice to where they began', () => {
    fc.assert(
      fc.property(point, coordinate, (p, at) => {
        const back = applyTo(mirrorAt(at), applyTo(mirrorAt(at), p))
        expect(distance(back, p)).toBeLessThan(1e-9)
      }),
    )
  })
})

describe('distances', () => {
  it('are never negative and 0 only on the segment', () => {
    fc.assert(
      fc.property(point, point, point, fc.double({ min: 0, max: 1, noNaN: true }), (p, a, b, share) => {
        expect(distanceToSegment(p, a, b)).toBeGreaterThanOrEqual(0)
        expect(distanceToSegment(p, a, b)).toBeLessThanOrEqual(
          Math.min(distance(p, a), distance(p, b)) + 1e-9,
        )
        const on = { x: a.x + (b.x - a.x) * share, y: a.y + (b.y - a.y) * share }
        expect(distanceToSegment(on, a, b)).toBeLessThan(1e-6)
      }),
    )
    // Height of the 3-4-5 triangle over its hypotenuse: 12/5.
    expect(distanceToSegment({ x: 0, y: 0 }, { x: 3, y: 0 }, { x: 0, y: 4 })).toBeCloseTo(2.4, 12)
    expect(distanceToChain({ x: 1, y: 1 }, [])).toBe(Infinity)
  })

  it('to a box are 0 inside it', () => {
    fc.assert(
      fc.property(fc.array(point, { minLength: 2, maxLength: 9 }), point, (points, p) => {
        const box = boxAround(points)
        for (const inner of points) expect(distanceToBox(inner, box)).toBeLessThan(1e-9)
        if (!isInside(box, p)) expect(distanceToBox(p, box)).toBeGreaterThan(0)
      }),
    )
  })
})

describe('a curve through points', () => {
  const spaced = fc
    .array(point, { minLength: 2, maxLength: 12 })
    .filter((points) => points.every((p, i) => i === 0 || distance(p, points[i - 1]!) > 1))

  it('goes through every point', () => {
    fc.assert(
      fc.property(spaced, (points) => {
        const pieces = curveThrough(points)
        expect(pieces.map((piece) => piece.from)).toEqual(points.slice(0, -1))
        expect(pieces.at(-1)!.to).toEqual(points.at(-1))
      }),
    )
  })

  it('has no kink where two pieces meet', () => {
    fc.assert(
      fc.property(spaced, (points) => {
        const pieces = curveThrough(points)
        for (let i = 1; i < pieces.length; i++) {
          const [before, after] = [pieces[i - 1]!, pieces[i]!]
          const into = { x: before.to.x - before.control2.x, y: before.to.y - before.control2.y }
          const out = { x: after.control1.x - after.from.x, y: after.control1.y - after.from.y }
          const sine = (into.x * out.y - into.y * out.x) / (lengthOf(into) * lengthOf(out))
          if (lengthOf(into) > 1e-3 && lengthOf(out) > 1e-3) expect(Math.abs(sine)).toBeLessThan(1e-5)
        }
      }),
    )
  })

  it('is straight through points on a line, and stays near a circle it samples', () => {
    for (const p of sampleCurve(
      curveThrough([
        { x: 0, y: 0 },
        { x: 10, y: 5 },
        { x: 40, y: 20 },
      ]),
    )) {
      expect(p.y).toBeCloseTo(p.x / 2, 9)
    }
    const onCircle = Array.from({ length: 25 }, (_, i) => ({
      x: 100 * Math.cos((i * Math.PI) / 12),
      y: 100 * Math.sin((i * Math.PI) / 12),
    }))
    // The first and last stretch have an invented neighbour; the others are within a fifth of a pixel.
    for (const piece of curveThrough(onCircle).slice(1, -1)) {
      for (const t of [0.25, 0.5, 0.75]) expect(Math.abs(lengthOf(pointOn(piece, t)) - 100)).toBeLessThan(0.2)
    }
  })

  it('takes repeated points', () => {
    const p = { x: 5, y: 5 }
    expect(curveThrough([p, p, { x: 9, y: 5 }, { x: 9, y: 5 }])).toHaveLength(1)
    expect(curveThrough([p, p])).toEqual([])
  })
})

describe('a simplified stroke', () => {
  it('keeps its ends, takes points of the stroke only, and leaves none farther out than allowed', () => {
    fc.assert(
      fc.property(
        fc.array(point, { minLength: 1, maxLength: 120 }),
        fc.double({ min: 0, max: 500, noNaN: true }),
        (stroke, withinPx) => {
          const simple = simplify(stroke, withinPx)
          expect(simple[0]).toBe(stroke[0])
          expect(simple.at(-1)).toBe(stroke.at(-1))
          for (const p of simple) expect(stroke).toContain(p)
          for (const p of stroke) expect(distanceToChain(p, simple)).toBeLessThanOrEqual(withinPx + 1e-9)
        },
      ),
      { endOnFailure: true }, // shrinking a long stroke takes minutes
    )
  })

  it('makes two points of a straight one, however long', () => {
    const straight = Array.from({ length: 20_000 }, (_, i) => ({ x: i / 7, y: i / 14 }))
    expect(simplify(straight, 0.01)).toHaveLength(2)
  })
})
