import { add, distance, subtract, times, type Point } from './point.ts'

/** A cubic Bezier piece. */
export interface BezierPiece {
  readonly from: Point
  readonly control1: Point
  readonly control2: Point
  readonly to: Point
}

/**
 * A smooth curve through all points, as Bezier pieces: a Catmull-Rom spline with the knots spaced by the square
 * root of the distance (centripetal), which makes no loops or cusps between points of uneven spacing.
 * Source: C. Yuksel, S. Schaefer, J. Keyser, "Parameterization and applications of Catmull-Rom curves",
 * Computer-Aided Design 43 (2011) 747-755; Bezier form by Hermite tangents (from memory).
 */
export function curveThrough(points: readonly Point[]): BezierPiece[] {
  // Equal neighbours have no direction between them.
  const p = points.filter((point, i) => i === 0 || distance(point, points[i - 1]!) > 1e-9)
  const pieces: BezierPiece[] = []
  for (let i = 0; i + 1 < p.length; i++) {
    const from = p[i]!
    const to = p[i + 1]!
    // Beyond the ends the curve goes on as a mirror image of the first or last stretch.
    const before = p[i - 1] ?? subtract(times(from, 2), to)
    const after = p[i + 2] ?? subtract(times(to, 2), from)
    const d1 = Math.sqrt(distance(before, from))
    const d2 = Math.sqrt(distance(from, to))
    const d3 = Math.sqrt(distance(to, after))
    // With one stretch only there is nothing to bend.
    const tangent1 = tangent(before, from, to, d1, d2)
    const tangent2 = tangent(from, to, after, d2, d3)
    pieces.push({
      from,
      control1: add(from, times(tangent1, d2 / 3)),
      control2: subtract(to, times(tangent2, d2 / 3)),
      to,
    })
  }
  return pieces
}

/** Derivative at `at` of the parabola through three points with knot spacings `d1` and `d2`. */
function tangent(before: Point, at: Point, after: Point, d1: number, d2: number): Point {
  const one = times(subtract(at, before), 1 / d1)
  const two = times(subtract(after, at), 1 / d2)
  const chord = times(subtract(after, before), 1 / (d1 + d2))
  return subtract(add(one, two), chord)
}

/** The point at a share 0 to 1 of a cubic Bézier piece (Bernstein form). */
export function pointOn(piece: BezierPiece, t: number): Point {
  const s = 1 - t
  const [w0, w1, w2, w3] = [s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t]
  return {
    x: w0 * piece.from.x + w1 * piece.control1.x + w2 * piece.control2.x + w3 * piece.to.x,
    y: w0 * piece.from.y + w1 * piece.control1.y + w2 * piece.control2.y + w3 * piece.to.y,
  }
}

/** Points along the curve, `perPiece` a piece, ends included. */
export function sampleCurve(pieces: readonly BezierPiece[], perPiece = 16): Point[] {
  const [first] = pieces
  if (first === undefined) return []
  const points = [first.from]
  for (const piece of pieces) {
    for (let i = 1; i <= perPiece; i++) points.push(i === perPiece ? piece.to : pointOn(piece, i / perPiece))
  }
  return points
}
