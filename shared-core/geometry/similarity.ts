import type { Degrees } from './angle.ts'
import { toRadians } from './angle.ts'
import type { Point } from './point.ts'

/**
 * A map of the plane that keeps shapes alike: (x, y) goes to (a x' - b y' + dx, b x' + a y' + dy), where
 * x' is -x if the map mirrors, else x, and y' = y.
 */
export interface Similarity {
  readonly a: number
  readonly b: number
  readonly dx: number
  readonly dy: number
  readonly isMirrored: boolean
}

/** The map that changes nothing. */
export const stay: Similarity = { a: 1, b: 0, dx: 0, dy: 0, isMirrored: false }

/** The map that moves everything by as much. */
export const shift = (dx: number, dy: number): Similarity => ({ ...stay, dx, dy })

/** Left and right exchanged at the upright line x = `atX`. A whole picture is mirrored at half its width. */
export const mirrorAt = (atX: number): Similarity => ({ a: 1, b: 0, dx: 2 * atX, dy: 0, isMirrored: true })

/** Larger or smaller, with `about` where it is. */
export const scaleAbout = (about: Point, factor: number): Similarity => ({
  a: factor,
  b: 0,
  dx: about.x * (1 - factor),
  dy: about.y * (1 - factor),
  isMirrored: false,
})

/** Turned clockwise on the screen, with `about` where it is. */
export function turnAbout(about: Point, angle: Degrees): Similarity {
  const a = Math.cos(toRadians(angle))
  const b = Math.sin(toRadians(angle))
  return {
    a,
    b,
    dx: about.x - a * about.x + b * about.y,
    dy: about.y - b * about.x - a * about.y,
    isMirrored: false,
  }
}

/** Where a point goes under a map. */
export function applyTo(map: Similarity, p: Point): Point {
  const x = map.isMirrored ? -p.x : p.x
  return { x: map.a * x - map.b * p.y + map.dx, y: map.b * x + map.a * p.y + map.dy }
}

/** First `first`, then `second`. */
export function chain(first: Similarity, second: Similarity): Similarity {
  const moved = applyTo(second, { x: first.dx, y: first.dy })
  // A mirror after a turn is the opposite turn after a mirror.
  const b = second.isMirrored ? -first.b : first.b
  return {
    a: second.a * first.a - second.b * b,
    b: second.b * first.a + second.a * b,
    dx: moved.x,
    dy: moved.y,
    isMirrored: first.isMirrored !== second.isMirrored,
  }
}

/** How many times longer every length becomes. */
export const factorOf = (map: Similarity): number => Math.hypot(map.a, map.b)

/** How far the map turns, radians, + clockwise on the screen (after its mirror, if it has one). */
export const turnOf = (map: Similarity): number => Math.atan2(map.b, map.a)
