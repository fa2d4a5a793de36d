import { cross, dot, subtract, type Point } from './point.ts'

/** Angles carry their unit in the type, so that degrees are never handed to Math.sin. */
export type Degrees = number & { readonly unit: 'degrees' }

/** An angle in radians; the compiler keeps it apart from degrees. */
export type Radians = number & { readonly unit: 'radians' }

/** Says that a number is in degrees. */
export const degrees = (value: number): Degrees => value as Degrees

/** Says that a number is in radians. */
export const radians = (value: number): Radians => value as Radians

/** Degrees to radians. */
export const toRadians = (angle: Degrees): Radians => radians((angle * Math.PI) / 180)

/** Radians to degrees. */
export const toDegrees = (angle: Radians): Degrees => degrees((angle * 180) / Math.PI)

/** The same direction in the range from -180 (not included) to 180. */
export function wrapDegrees(angle: Degrees): Degrees {
  const turned = ((angle % 360) + 360) % 360
  return degrees(turned > 180 ? turned - 360 : turned)
}

/** Direction from a to b: 0 to the right, + clockwise on the screen. */
export const directionOf = (a: Point, b: Point): Radians => radians(Math.atan2(b.y - a.y, b.x - a.x))

/**
 * Inner angle at `vertex` between the legs to `first` and `second`, 0 to 180 degrees.
 * atan2 of cross and dot product: exact near 0 and 180, where acos is not. 0 if a leg has no length.
 */
export function angleAt(vertex: Point, first: Point, second: Point): Degrees {
  const a = subtract(first, vertex)
  const b = subtract(second, vertex)
  return toDegrees(radians(Math.atan2(Math.abs(cross(a, b)), dot(a, b))))
}

/**
 * One-sigma error of `angleAt` if each of the three points is placed with an error of `placingPx` in x and in y,
 * by propagation of errors: sigma² (2/p² + 2/q² - 2 cos(angle)/(p q)) for legs of p and q pixels.
 * 180 if a leg is not longer than the error itself.
 */
export function angleErrorAt(vertex: Point, first: Point, second: Point, placingPx: number): Degrees {
  const a = subtract(first, vertex)
  const b = subtract(second, vertex)
  const p2 = dot(a, a)
  const q2 = dot(b, b)
  if (Math.min(p2, q2) <= placingPx * placingPx) return degrees(180)
  // cos(angle) / (p q) = a·b / (p² q²)
  const variance = 2 / p2 + 2 / q2 - (2 * dot(a, b)) / (p2 * q2)
  return toDegrees(radians(placingPx * Math.sqrt(Math.max(0, variance))))
}
