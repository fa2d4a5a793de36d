import type { Point } from '../geometry/point.ts'
import { mirrorAt, scaleAbout, shift, type Similarity } from '../geometry/similarity.ts'
import { definitionOf, type Shape } from './shapes.ts'

/** The shape moved, mirrored, turned or scaled by any map that keeps shapes alike. */
export const transformShape = <S extends Shape>(shape: S, map: Similarity): S =>
  definitionOf(shape).transform(shape, map)

/** The same shape, moved by source pixels. */
export const moveShape = <S extends Shape>(shape: S, dx: number, dy: number): S =>
  transformShape(shape, shift(dx, dy))

/** Left and right exchanged over a picture `widthPx` wide: for copying between a right- and a left-hander. */
export const mirrorShape = <S extends Shape>(shape: S, widthPx: number): S =>
  transformShape(shape, mirrorAt(widthPx / 2))

/** The same shape, grown by a factor about a point. */
export const scaleShape = <S extends Shape>(shape: S, about: Point, factor: number): S =>
  transformShape(shape, scaleAbout(about, factor))
